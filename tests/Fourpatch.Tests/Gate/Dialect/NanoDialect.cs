using System.Reflection;
using System.Reflection.Metadata;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>
/// Inspects a built assembly for everything that compiles against the board's mscorlib and then does not load, crashes, or
/// computes something else on the board. Each <see cref="NanoRule"/> says what it stands for.
/// Order comparisons of a NaN cannot be told from IL alone; instead the sources of NaN are closed: no constant that is
/// NaN or infinite, no bits turned into a double, and no division outside the exempted types.
/// </summary>
public static class NanoDialect
{
    /// <summary>Inspects every type of an assembly.</summary>
    /// <param name="path">The assembly; what it references is looked for beside it.</param>
    /// <param name="allowedAssemblies">Simple names that may be referenced, such as mscorlib.</param>
    /// <param name="mayDivide">Full names of the types that may divide by something not constant.</param>
    /// <returns>All breaches, none when the assembly is clean.</returns>
    /// <exception cref="FileNotFoundException">There is no such file.</exception>
    public static List<Finding> Inspect(string path, IReadOnlyCollection<string> allowedAssemblies, IReadOnlyCollection<string> mayDivide)
    {
        using var image = new AssemblyImage(path);
        var findings = new List<Finding>();
        foreach (AssemblyReferenceHandle handle in image.Reader.AssemblyReferences)
        {
            string name = image.Reader.GetString(image.Reader.GetAssemblyReference(handle).Name);
            if (!allowedAssemblies.Contains(name))
            {
                findings.Add(new Finding(NanoRule.ForeignAssembly, "(assembly)", "references", name));
            }
        }

        var bodies = new BodyRules(image, mayDivide);
        foreach (TypeDefinitionHandle type in image.Reader.TypeDefinitions)
        {
            InspectType(image, type, findings);
            foreach (MethodDefinitionHandle method in image.Reader.GetTypeDefinition(type).GetMethods())
            {
                InspectMethod(image, type, method, findings);
                bodies.Inspect(type, method, findings);
            }
        }

        StaticOrder.Inspect(image, findings);
        return findings.Distinct().ToList();
    }

    private static void InspectType(AssemblyImage image, TypeDefinitionHandle handle, List<Finding> findings)
    {
        MetadataReader reader = image.Reader;
        TypeDefinition type = reader.GetTypeDefinition(handle);
        string owner = image.OutermostNameOf(handle);
        image.Words.Complaints.Clear();
        if (type.GetGenericParameters().Count > 0)
        {
            findings.Add(new Finding(NanoRule.GenericType, owner, image.NameOf(handle), "declares type parameters"));
        }

        if (type.BaseType.Kind == HandleKind.TypeSpecification)
        {
            image.NameOf(type.BaseType);
        }

        foreach (InterfaceImplementationHandle face in type.GetInterfaceImplementations())
        {
            string name = image.NameOf(reader.GetInterfaceImplementation(face).Interface);
            if (name == "System.Runtime.CompilerServices.IAsyncStateMachine")
            {
                findings.Add(new Finding(NanoRule.Async, owner, image.NameOf(handle), "state machine"));
            }
        }

        foreach (FieldDefinitionHandle fieldHandle in type.GetFields())
        {
            FieldDefinition field = reader.GetFieldDefinition(fieldHandle);
            field.DecodeSignature(image.Words, null);
            string name = reader.GetString(field.Name);
            AddComplaints(image, owner, name, findings);
            if (HasAttribute(image, field.GetCustomAttributes(), "System.ThreadStaticAttribute"))
            {
                findings.Add(new Finding(NanoRule.ThreadStatic, owner, name, "[ThreadStatic]"));
            }
        }

        AddComplaints(image, owner, image.NameOf(handle), findings);
    }

    private static void InspectMethod(AssemblyImage image, TypeDefinitionHandle typeHandle, MethodDefinitionHandle handle, List<Finding> findings)
    {
        MetadataReader reader = image.Reader;
        MethodDefinition method = reader.GetMethodDefinition(handle);
        string owner = image.OutermostNameOf(typeHandle);
        string name = reader.GetString(method.Name);
        image.Words.Complaints.Clear();
        method.DecodeSignature(image.Words, null);
        if (image.BlockOf(handle) is { } block)
        {
            if (!block.LocalSignature.IsNil)
            {
                reader.GetStandaloneSignature(block.LocalSignature).DecodeLocalSignature(image.Words, null);
            }

            if (block.ExceptionRegions.Any(region => region.Kind == ExceptionRegionKind.Filter))
            {
                findings.Add(new Finding(NanoRule.ExceptionFilter, owner, name, "catch with a condition"));
            }

            if (image.IsInterface(typeHandle) && !method.Attributes.HasFlag(MethodAttributes.Static))
            {
                findings.Add(new Finding(NanoRule.DefaultInterfaceMember, owner, name, "has a body"));
            }
        }

        AddComplaints(image, owner, name, findings);
        if (method.GetGenericParameters().Count > 0)
        {
            findings.Add(new Finding(NanoRule.GenericMethod, owner, name, "declares type parameters"));
        }

        if (HasAttribute(image, method.GetCustomAttributes(), "System.Runtime.CompilerServices.AsyncStateMachineAttribute"))
        {
            findings.Add(new Finding(NanoRule.Async, owner, name, "async"));
        }

        if (Hidden(image, typeHandle, handle) is { } hidden)
        {
            findings.Add(new Finding(NanoRule.HiddenVirtual, owner, name, "hides " + hidden));
        }
    }

    // A method of the same name and parameters as a virtual above it, and not declared as its override.
    private static string? Hidden(AssemblyImage image, TypeDefinitionHandle typeHandle, MethodDefinitionHandle handle)
    {
        MethodAttributes attributes = image.Reader.GetMethodDefinition(handle).Attributes;
        bool isOverride = attributes.HasFlag(MethodAttributes.Virtual) && !attributes.HasFlag(MethodAttributes.NewSlot);
        if (isOverride || image.IsInterface(typeHandle))
        {
            return null;
        }

        Member own = image.MemberOf(handle);
        (List<TypeDefinitionHandle> inside, string outside) = image.BasesOf(typeHandle);
        foreach (TypeDefinitionHandle parent in inside)
        {
            foreach (MethodDefinitionHandle candidate in image.Reader.GetTypeDefinition(parent).GetMethods())
            {
                Member above = image.MemberOf(candidate);
                if (image.Reader.GetMethodDefinition(candidate).Attributes.HasFlag(MethodAttributes.Virtual)
                    && above.Name == own.Name && above.Parameters == own.Parameters)
                {
                    return above.ToString();
                }
            }
        }

        bool isOfObject = outside.Length > 0 && own.Name + own.Parameters is "ToString()" or "GetHashCode()" or "Equals(System.Object)" or "Finalize()";
        return isOfObject ? "System.Object::" + own.Name : null;
    }

    private static bool HasAttribute(AssemblyImage image, CustomAttributeHandleCollection attributes, string wanted)
        => attributes.Any(handle => image.MemberOf(image.Reader.GetCustomAttribute(handle).Constructor).Type == wanted);

    private static void AddComplaints(AssemblyImage image, string owner, string member, List<Finding> findings)
    {
        findings.AddRange(image.Words.Complaints.Select(complaint => new Finding(complaint.Rule, owner, member, complaint.Detail)));
        image.Words.Complaints.Clear();
    }
}
