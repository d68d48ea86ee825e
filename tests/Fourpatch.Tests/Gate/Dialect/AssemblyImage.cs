using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>A built assembly opened for reading: names, signatures, bodies, and who overrides or implements whom.</summary>
internal sealed class AssemblyImage : IDisposable
{
    private readonly PEReader _pe;
    private readonly string _folder;
    private readonly Dictionary<string, AssemblyImage?> _neighbours = [];
    private readonly Dictionary<MethodDefinitionHandle, List<Instruction>> _bodies = [];

    /// <exception cref="FileNotFoundException">There is no such file: nothing may pass for inspected that is not there.</exception>
    public AssemblyImage(string path)
    {
        _pe = new PEReader(File.OpenRead(path));
        _folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        Reader = _pe.GetMetadataReader();
        Words = new SignatureWords(this);
    }

    public MetadataReader Reader { get; }

    public SignatureWords Words { get; }

    public void Dispose()
    {
        foreach (AssemblyImage? neighbour in _neighbours.Values)
        {
            neighbour?.Dispose();
        }

        _pe.Dispose();
    }

    /// <summary>Full name of a type; nested ones as Outer+Inner.</summary>
    public string NameOf(EntityHandle type)
    {
        switch (type.Kind)
        {
            case HandleKind.TypeDefinition:
                TypeDefinition definition = Reader.GetTypeDefinition((TypeDefinitionHandle)type);
                TypeDefinitionHandle outer = definition.GetDeclaringType();
                return outer.IsNil ? Join(definition.Namespace, definition.Name) : NameOf(outer) + "+" + Reader.GetString(definition.Name);
            case HandleKind.TypeReference:
                TypeReference reference = Reader.GetTypeReference((TypeReferenceHandle)type);
                return reference.ResolutionScope.Kind == HandleKind.TypeReference
                    ? NameOf(reference.ResolutionScope) + "+" + Reader.GetString(reference.Name)
                    : Join(reference.Namespace, reference.Name);
            case HandleKind.TypeSpecification:
                return Reader.GetTypeSpecification((TypeSpecificationHandle)type).DecodeSignature(Words, null);
            default:
                return type.Kind.ToString();
        }
    }

    /// <summary>Full name of the outermost type round a type.</summary>
    public string OutermostNameOf(TypeDefinitionHandle type)
    {
        TypeDefinitionHandle outer = Reader.GetTypeDefinition(type).GetDeclaringType();
        return outer.IsNil ? NameOf(type) : OutermostNameOf(outer);
    }

    /// <summary>The declaring type's name, the member's name and its parameters, for a method or field of this or another assembly.</summary>
    public Member MemberOf(EntityHandle member)
    {
        switch (member.Kind)
        {
            case HandleKind.MethodDefinition:
                MethodDefinition method = Reader.GetMethodDefinition((MethodDefinitionHandle)member);
                return new Member(NameOf(method.GetDeclaringType()), Reader.GetString(method.Name), ParametersOf(method.DecodeSignature(Words, null)));
            case HandleKind.FieldDefinition:
                FieldDefinition field = Reader.GetFieldDefinition((FieldDefinitionHandle)member);
                return new Member(NameOf(field.GetDeclaringType()), Reader.GetString(field.Name), "");
            case HandleKind.MemberReference:
                MemberReference reference = Reader.GetMemberReference((MemberReferenceHandle)member);
                string parameters = reference.GetKind() == MemberReferenceKind.Method ? ParametersOf(reference.DecodeMethodSignature(Words, null)) : "";
                return new Member(NameOf(reference.Parent), Reader.GetString(reference.Name), parameters);
            case HandleKind.MethodSpecification:
                return MemberOf(Reader.GetMethodSpecification((MethodSpecificationHandle)member).Method);
            default:
                return new Member("?", member.Kind.ToString(), "");
        }
    }

    /// <summary>The method definition behind a call operand, or nil when it lies outside this assembly.</summary>
    public MethodDefinitionHandle DefinitionOf(EntityHandle method) => method.Kind switch
    {
        HandleKind.MethodDefinition => (MethodDefinitionHandle)method,
        HandleKind.MethodSpecification => DefinitionOf(Reader.GetMethodSpecification((MethodSpecificationHandle)method).Method),
        _ => default,
    };

    /// <summary>The instructions of a method; none for one without a body.</summary>
    public List<Instruction> BodyOf(MethodDefinitionHandle method)
    {
        if (!_bodies.TryGetValue(method, out List<Instruction>? body))
        {
            int address = Reader.GetMethodDefinition(method).RelativeVirtualAddress;
            body = address == 0 ? [] : Instruction.Decode(_pe.GetMethodBody(address).GetILReader());
            _bodies.Add(method, body);
        }

        return body;
    }

    /// <summary>Locals and exception regions of a method with a body.</summary>
    public MethodBodyBlock? BlockOf(MethodDefinitionHandle method)
    {
        int address = Reader.GetMethodDefinition(method).RelativeVirtualAddress;
        return address == 0 ? null : _pe.GetMethodBody(address);
    }

    /// <summary>True for an enum of this assembly, of one that lies beside it, and, to be safe, for a type that cannot be found.</summary>
    public bool IsEnum(EntityHandle type)
    {
        if (type.Kind == HandleKind.TypeDefinition)
        {
            EntityHandle parent = Reader.GetTypeDefinition((TypeDefinitionHandle)type).BaseType;
            return !parent.IsNil && NameOf(parent) == "System.Enum";
        }

        if (type.Kind != HandleKind.TypeReference)
        {
            return false;
        }

        TypeReference reference = Reader.GetTypeReference((TypeReferenceHandle)type);
        if (reference.ResolutionScope.Kind != HandleKind.AssemblyReference)
        {
            return true;
        }

        string assembly = Reader.GetString(Reader.GetAssemblyReference((AssemblyReferenceHandle)reference.ResolutionScope).Name);
        AssemblyImage? neighbour = Neighbour(assembly);
        string name = NameOf(type);
        TypeDefinitionHandle found = neighbour is null
            ? default
            : neighbour.Reader.TypeDefinitions.FirstOrDefault(candidate => neighbour.NameOf(candidate) == name);
        return found.IsNil || neighbour!.IsEnum(found);
    }

    /// <summary>True for a struct or enum of this assembly: making one allocates nothing.</summary>
    public bool IsValueType(TypeDefinitionHandle type)
    {
        EntityHandle parent = Reader.GetTypeDefinition(type).BaseType;
        return !parent.IsNil && NameOf(parent) is "System.ValueType" or "System.Enum";
    }

    /// <summary>True when the type is an interface.</summary>
    public bool IsInterface(TypeDefinitionHandle type) => Reader.GetTypeDefinition(type).Attributes.HasFlag(TypeAttributes.Interface);

    /// <summary>The type's bases inside this assembly, nearest first; and the name of the first one outside it.</summary>
    public (List<TypeDefinitionHandle> Inside, string Outside) BasesOf(TypeDefinitionHandle type)
    {
        var inside = new List<TypeDefinitionHandle>();
        EntityHandle next = Reader.GetTypeDefinition(type).BaseType;
        while (next.Kind == HandleKind.TypeDefinition && !next.IsNil)
        {
            inside.Add((TypeDefinitionHandle)next);
            next = Reader.GetTypeDefinition((TypeDefinitionHandle)next).BaseType;
        }

        return (inside, next.IsNil ? "" : NameOf(next));
    }

    /// <summary>The bodies a call of this method may run: itself, its overrides, and for an interface the implementations in this assembly.</summary>
    public IEnumerable<MethodDefinitionHandle> TargetsOf(MethodDefinitionHandle called)
    {
        MethodDefinition method = Reader.GetMethodDefinition(called);
        yield return called;
        if (!method.Attributes.HasFlag(MethodAttributes.Virtual))
        {
            yield break;
        }

        TypeDefinitionHandle owner = method.GetDeclaringType();
        Member wanted = MemberOf(called);
        foreach (TypeDefinitionHandle candidate in Reader.TypeDefinitions.Where(type => type != owner && IsA(type, owner)))
        {
            foreach (TypeDefinitionHandle carrier in BasesOf(candidate).Inside.Prepend(candidate))
            {
                foreach (MethodDefinitionHandle handle in Reader.GetTypeDefinition(carrier).GetMethods())
                {
                    Member own = MemberOf(handle);
                    bool isExplicit = own.Name.EndsWith("." + wanted.Name, StringComparison.Ordinal);
                    if ((own.Name == wanted.Name || isExplicit) && own.Parameters == wanted.Parameters)
                    {
                        yield return handle;
                    }
                }
            }
        }
    }

    private bool IsA(TypeDefinitionHandle type, TypeDefinitionHandle wanted)
        => BasesOf(type).Inside.Prepend(type).Any(carrier => carrier == wanted
            || Reader.GetTypeDefinition(carrier).GetInterfaceImplementations()
                .Select(handle => Reader.GetInterfaceImplementation(handle).Interface)
                .Any(face => face == wanted || (face.Kind == HandleKind.TypeDefinition && IsA((TypeDefinitionHandle)face, wanted))));

    private static string ParametersOf(MethodSignature<string> signature) => "(" + string.Join(",", signature.ParameterTypes) + ")";

    private AssemblyImage? Neighbour(string assembly)
    {
        if (!_neighbours.TryGetValue(assembly, out AssemblyImage? neighbour))
        {
            string path = Path.Combine(_folder, assembly + ".dll");
            neighbour = File.Exists(path) ? new AssemblyImage(path) : null;
            _neighbours.Add(assembly, neighbour);
        }

        return neighbour;
    }

    private string Join(StringHandle space, StringHandle name)
        => space.IsNil ? Reader.GetString(name) : Reader.GetString(space) + "." + Reader.GetString(name);
}

/// <summary>A method or field by name; fields have no parameters, methods at least "()".</summary>
internal sealed record Member(string Type, string Name, string Parameters)
{
    public override string ToString() => Type + "::" + Name + Parameters;
}
