using System.Reflection.Metadata;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>
/// Static initialisers that read what another type's static initialiser sets. On the board all of them run before the
/// program starts, in the alphabetical order of the types' names, whatever they need of each other.
/// </summary>
internal static class StaticOrder
{
    public static void Inspect(AssemblyImage image, List<Finding> findings)
    {
        foreach (TypeDefinitionHandle type in image.Reader.TypeDefinitions)
        {
            foreach (MethodDefinitionHandle method in image.Reader.GetTypeDefinition(type).GetMethods())
            {
                if (image.Reader.GetString(image.Reader.GetMethodDefinition(method).Name) == ".cctor")
                {
                    InspectInitialiser(image, type, method, findings);
                }
            }
        }
    }

    private static void InspectInitialiser(AssemblyImage image, TypeDefinitionHandle type, MethodDefinitionHandle initialiser, List<Finding> findings)
    {
        string name = image.NameOf(type);
        foreach (MethodDefinitionHandle reached in CallGraph.Reachable(image, [initialiser], []).Keys)
        {
            foreach (Instruction instruction in image.BodyOf(reached))
            {
                if (instruction.Code.Name is "ldsfld" or "ldsflda" && image.MemberOf(instruction.Token) is var field && field.Type != name)
                {
                    findings.Add(new Finding(NanoRule.ForeignStatics, image.OutermostNameOf(type), name + ".cctor", "reads " + field));
                }
            }
        }
    }
}
