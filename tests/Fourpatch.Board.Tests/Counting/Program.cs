using Mono.Cecil;
using Mono.Cecil.Cil;
using Mono.Cecil.Rocks;

namespace Fourpatch.Counting;

/// <summary>
/// Puts a call to a counter at the start of every basic block. Arguments: the assembly, the assembly that holds the
/// counter, its full type name, and the namespaces whose methods are counted.
/// </summary>
internal static class Program
{
    private static int Main(string[] args)
    {
        var (path, counterPath, counterType, namespaces) = (args[0], args[1], args[2], args[3..]);
        var counted = path + ".counted";
        using (var resolver = new DefaultAssemblyResolver())
        {
            resolver.AddSearchDirectory(Path.GetDirectoryName(counterPath));
            using var counterAssembly = AssemblyDefinition.ReadAssembly(counterPath);
            using var assembly = AssemblyDefinition.ReadAssembly(path, new ReaderParameters { AssemblyResolver = resolver, InMemory = true });
            var add = assembly.MainModule.ImportReference(counterAssembly.MainModule.GetType(counterType).Methods.Single(method => method.Name == "Add"));
            var methods = assembly.MainModule.GetAllTypes()
                .Where(type => namespaces.Any(name => NamespaceOf(type).StartsWith(name, StringComparison.Ordinal)))
                .SelectMany(type => type.Methods)
                .Where(method => method.HasBody);
            foreach (var method in methods)
            {
                Count(method.Body, add);
            }

            assembly.Write(counted);
        }

        File.Move(counted, path, overwrite: true);
        return 0;
    }

    private static string NamespaceOf(TypeDefinition type) => type.IsNested ? NamespaceOf(type.DeclaringType) : type.Namespace;

    private static void Count(MethodBody body, MethodReference add)
    {
        body.SimplifyMacros();
        var leaders = Leaders(body);
        var sizes = new Dictionary<Instruction, int>();
        Instruction? leader = null;
        foreach (var instruction in body.Instructions)
        {
            leader = leaders.Contains(instruction) || leader is null ? instruction : leader;
            sizes[leader] = sizes.GetValueOrDefault(leader) + 1;
        }

        var il = body.GetILProcessor();
        var entries = new Dictionary<Instruction, Instruction>();
        foreach (var (first, size) in sizes)
        {
            var entry = il.Create(OpCodes.Ldc_I4, size);
            il.InsertBefore(first, entry);
            il.InsertBefore(first, il.Create(OpCodes.Call, add));
            entries[first] = entry;
        }

        foreach (var instruction in body.Instructions)
        {
            instruction.Operand = instruction.Operand switch
            {
                Instruction target => entries.GetValueOrDefault(target, target),
                Instruction[] targets => Array.ConvertAll(targets, target => entries.GetValueOrDefault(target, target)),
                var other => other,
            };
        }

        foreach (var handler in body.ExceptionHandlers)
        {
            handler.TryStart = entries[handler.TryStart];
            handler.TryEnd = entries[handler.TryEnd];
            handler.HandlerStart = entries[handler.HandlerStart];
            handler.HandlerEnd = handler.HandlerEnd is null ? null : entries[handler.HandlerEnd];
        }

        body.OptimizeMacros();
    }

    private static HashSet<Instruction> Leaders(MethodBody body)
    {
        var leaders = new HashSet<Instruction> { body.Instructions[0] };
        foreach (var instruction in body.Instructions)
        {
            switch (instruction.Operand)
            {
                case Instruction target:
                    leaders.Add(target);
                    break;
                case Instruction[] targets:
                    leaders.UnionWith(targets);
                    break;
            }

            if (instruction.OpCode.FlowControl is FlowControl.Branch or FlowControl.Cond_Branch or FlowControl.Return or FlowControl.Throw && instruction.Next is not null)
            {
                leaders.Add(instruction.Next);
            }
        }

        foreach (var handler in body.ExceptionHandlers)
        {
            leaders.UnionWith(new[] { handler.TryStart, handler.TryEnd, handler.HandlerStart, handler.HandlerEnd }.Where(edge => edge is not null));
        }

        return leaders;
    }
}
