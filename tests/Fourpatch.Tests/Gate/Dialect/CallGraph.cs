using System.Reflection.Metadata;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>Which methods of an assembly some others may reach: virtual and interface calls reach every override and implementation.</summary>
internal static class CallGraph
{
    /// <summary>Everything reachable, each with the method that reached it first (itself for a root).</summary>
    /// <param name="image">The assembly.</param>
    /// <param name="roots">Where to start.</param>
    /// <param name="boundaries">Full names of interfaces that are not looked behind.</param>
    public static Dictionary<MethodDefinitionHandle, MethodDefinitionHandle> Reachable(
        AssemblyImage image, IEnumerable<MethodDefinitionHandle> roots, IReadOnlyCollection<string> boundaries)
    {
        var reachedFrom = roots.ToDictionary(root => root);
        var waiting = new Queue<MethodDefinitionHandle>(reachedFrom.Keys);
        while (waiting.TryDequeue(out MethodDefinitionHandle caller))
        {
            foreach (Instruction instruction in image.BodyOf(caller))
            {
                bool isMethod = instruction.Token.Kind is HandleKind.MethodDefinition or HandleKind.MethodSpecification;
                MethodDefinitionHandle called = isMethod && !instruction.Token.IsNil ? image.DefinitionOf(instruction.Token) : default;
                if (called.IsNil || boundaries.Contains(image.MemberOf(called).Type))
                {
                    continue;
                }

                foreach (MethodDefinitionHandle target in image.TargetsOf(called))
                {
                    if (reachedFrom.TryAdd(target, caller))
                    {
                        waiting.Enqueue(target);
                    }
                }
            }
        }

        return reachedFrom;
    }
}
