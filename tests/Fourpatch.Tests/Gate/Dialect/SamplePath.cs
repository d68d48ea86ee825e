using System.Reflection.Metadata;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>
/// Holds a path that runs for every sample to its promise of allocating nothing: no object, array or box is made, no string
/// literal loaded, and no method of another assembly called but a few that are known to allocate nothing.
/// </summary>
public static class SamplePath
{
    // Natively implemented on the board, without an object of their own. (An object's making is reported where it is made.)
    private static readonly string[] Harmless =
        [
            "System.String::get_Length()", "System.String::get_Chars(System.Int32)", "System.Object::.ctor()",
            "System.Array::Copy(System.Array,System.Int32,System.Array,System.Int32,System.Int32)",
        ];

    /// <summary>Inspects everything that a method may reach inside the assembly.</summary>
    /// <param name="path">The assembly.</param>
    /// <param name="rootType">Full name of the type of the first method.</param>
    /// <param name="rootMethod">Its name.</param>
    /// <param name="boundaries">Full names of interfaces that are not looked behind: their implementations answer for themselves.</param>
    /// <exception cref="FileNotFoundException">There is no such file.</exception>
    /// <exception cref="InvalidOperationException">There is no such method: an inspection of nothing proves nothing.</exception>
    public static List<Finding> Inspect(string path, string rootType, string rootMethod, IReadOnlyCollection<string> boundaries)
    {
        using var image = new AssemblyImage(path);
        Dictionary<MethodDefinitionHandle, MethodDefinitionHandle> reachedFrom = Reach(image, rootType, rootMethod, boundaries);
        return reachedFrom.Keys.SelectMany(method => InspectBody(image, method, reachedFrom, boundaries)).ToList();
    }

    /// <summary>Names of the methods that <see cref="Inspect"/> looks into, as Type::Method.</summary>
    /// <exception cref="InvalidOperationException">There is no such method.</exception>
    public static List<string> MethodsReached(string path, string rootType, string rootMethod, IReadOnlyCollection<string> boundaries)
    {
        using var image = new AssemblyImage(path);
        return Reach(image, rootType, rootMethod, boundaries).Keys
            .Select(method => image.MemberOf(method))
            .Select(member => member.Type + "::" + member.Name)
            .ToList();
    }

    private static Dictionary<MethodDefinitionHandle, MethodDefinitionHandle> Reach(
        AssemblyImage image, string rootType, string rootMethod, IReadOnlyCollection<string> boundaries)
    {
        List<MethodDefinitionHandle> roots = image.Reader.MethodDefinitions
            .Where(method => image.MemberOf(method) is var member && member.Type == rootType && member.Name == rootMethod)
            .ToList();
        return roots.Count > 0
            ? CallGraph.Reachable(image, roots, boundaries)
            : throw new InvalidOperationException($"no method {rootType}::{rootMethod}");
    }

    private static IEnumerable<Finding> InspectBody(
        AssemblyImage image, MethodDefinitionHandle method, Dictionary<MethodDefinitionHandle, MethodDefinitionHandle> reachedFrom, IReadOnlyCollection<string> boundaries)
    {
        Member member = image.MemberOf(method);
        string owner = image.OutermostNameOf(image.Reader.GetMethodDefinition(method).GetDeclaringType());
        foreach (Instruction instruction in image.BodyOf(method))
        {
            if (RuleBroken(image, instruction, boundaries) is { } broken)
            {
                yield return new Finding(broken.Rule, owner, member.Name, broken.Detail + "; reached by " + Way(image, method, reachedFrom));
            }
        }
    }

    private static (NanoRule Rule, string Detail)? RuleBroken(AssemblyImage image, Instruction instruction, IReadOnlyCollection<string> boundaries)
    {
        switch (instruction.Code.Name)
        {
            case "newarr":
                return (NanoRule.NewArray, image.NameOf(instruction.Token));
            case "box":
                return (NanoRule.Boxing, image.NameOf(instruction.Token));
            case "ldstr":
                return (NanoRule.StringLiteral, image.Reader.GetUserString(instruction.Text.Handle));
            case "newobj":
                MethodDefinitionHandle constructor = image.DefinitionOf(instruction.Token);
                bool isStruct = !constructor.IsNil && image.IsValueType(image.Reader.GetMethodDefinition(constructor).GetDeclaringType());
                return isStruct ? null : (NanoRule.NewObject, image.MemberOf(instruction.Token).Type);
            case "call" or "callvirt":
                Member called = image.MemberOf(instruction.Token);
                bool isInside = !image.DefinitionOf(instruction.Token).IsNil || boundaries.Contains(called.Type);
                return isInside || Harmless.Contains(called.ToString()) ? null : (NanoRule.OutsideCall, called.ToString());
            default:
                return null;
        }
    }

    private static string Way(AssemblyImage image, MethodDefinitionHandle method, Dictionary<MethodDefinitionHandle, MethodDefinitionHandle> reachedFrom)
    {
        var steps = new List<string> { image.MemberOf(method).Name };
        while (reachedFrom[method] != method)
        {
            method = reachedFrom[method];
            steps.Add(image.MemberOf(method).Name);
        }

        steps.Reverse();
        return string.Join(" > ", steps);
    }
}
