using System.Reflection.Metadata;
using System.Text.RegularExpressions;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>The rules that show in the instructions of a method.</summary>
internal sealed partial class BodyRules(AssemblyImage image, IReadOnlyCollection<string> mayDivide)
{
    private static readonly HashSet<string> CheckedCodes =
        ["add.ovf", "add.ovf.un", "sub.ovf", "sub.ovf.un", "mul.ovf", "mul.ovf.un", "ckfinite"];

    private static readonly HashSet<string> PointerCodes = ["localloc", "calli", "cpblk", "initblk"];

    private static readonly HashSet<string> Integers =
        ["System.SByte", "System.Byte", "System.Int16", "System.UInt16", "System.Int32", "System.UInt32", "System.Int64", "System.UInt64"];

    private static readonly HashSet<string> BitsToDouble =
        ["System.BitConverter::Int64BitsToDouble", "System.BitConverter::ToDouble", "System.BitConverter::ToSingle"];

    private static readonly HashSet<string> Misleading = ["System.DateTime::MinValue", "System.DateTime::MaxValue"];

    /// <summary>Inspects one method.</summary>
    public void Inspect(TypeDefinitionHandle type, MethodDefinitionHandle method, List<Finding> findings)
    {
        string owner = image.OutermostNameOf(type);
        string name = image.Reader.GetString(image.Reader.GetMethodDefinition(method).Name);
        List<Instruction> body = image.BodyOf(method);
        var targets = body.SelectMany(instruction => instruction.Targets).ToHashSet();
        bool dividesFreely = mayDivide.Contains(image.NameOf(type));
        for (int i = 0; i < body.Count; i++)
        {
            image.Words.Complaints.Clear();
            foreach ((NanoRule rule, string detail) in RulesBroken(body, i, targets, dividesFreely).Concat(image.Words.Complaints))
            {
                findings.Add(new Finding(rule, owner, name, $"{detail} at IL_{body[i].Offset:x4}"));
            }
        }
    }

    private List<(NanoRule Rule, string Detail)> RulesBroken(List<Instruction> body, int i, HashSet<int> targets, bool dividesFreely)
    {
        Instruction now = body[i];
        string code = now.Code.Name!;
        var broken = new List<(NanoRule, string)>();
        if (CheckedCodes.Contains(code) || code.StartsWith("conv.ovf", StringComparison.Ordinal))
        {
            broken.Add((NanoRule.CheckedArithmetic, code));
        }
        else if (PointerCodes.Contains(code))
        {
            broken.Add((NanoRule.UnsafePointer, code));
        }
        else if (code == "volatile.")
        {
            broken.Add((NanoRule.Volatile, code));
        }
        else if (code is "div" or "div.un" or "rem" or "rem.un")
        {
            if (!dividesFreely && !DividesByGoodConstant(body, i, targets))
            {
                broken.Add((NanoRule.UnsafeDivision, code));
            }
        }
        else if (code is "ldc.r8" or "ldc.r4" && !double.IsFinite(now.Real))
        {
            broken.Add((NanoRule.NotANumber, now.Real.ToString(System.Globalization.CultureInfo.InvariantCulture)));
        }
        else if (code == "box")
        {
            InspectTextOf(now.Token, "boxed", broken);
        }
        else if (code == "constrained.")
        {
            if (i + 1 < body.Count && image.MemberOf(body[i + 1].Token).Name == "ToString")
            {
                InspectTextOf(now.Token, "ToString", broken);
            }
        }
        else if (!now.Token.IsNil)
        {
            InspectOperand(now, i > 0 ? body[i - 1] : null, broken);
        }

        return broken;
    }

    private void InspectTextOf(EntityHandle type, string how, List<(NanoRule, string)> broken)
    {
        string name = image.NameOf(type);
        if (name is "System.Double" or "System.Single")
        {
            broken.Add((NanoRule.FloatingPointText, $"{how} {name}"));
        }
        else if (image.IsEnum(type))
        {
            broken.Add((NanoRule.EnumText, $"{how} {name}"));
        }
    }

    private void InspectOperand(Instruction now, Instruction? before, List<(NanoRule, string)> broken)
    {
        HandleKind kind = now.Token.Kind;
        if (kind is HandleKind.TypeSpecification)
        {
            image.NameOf(now.Token);
            return;
        }

        if (kind == HandleKind.MethodSpecification)
        {
            broken.Add((NanoRule.GenericUse, image.MemberOf(now.Token).ToString()));
            return;
        }

        if (kind is not (HandleKind.MethodDefinition or HandleKind.MemberReference or HandleKind.FieldDefinition))
        {
            return;
        }

        Member member = image.MemberOf(now.Token);
        string name = member.Type + "::" + member.Name;
        if (member.Type is "System.Math" or "System.MathF")
        {
            broken.Add((NanoRule.SystemMath, name));
        }
        else if (member.Type == "System.Enum")
        {
            broken.Add((NanoRule.EnumText, name));
        }
        else if (name is "System.Double::ToString" or "System.Single::ToString")
        {
            broken.Add((NanoRule.FloatingPointText, name));
        }
        else if (name == "System.String::Format")
        {
            broken.Add((NanoRule.FormattedText, name));
        }
        else if (BitsToDouble.Contains(name))
        {
            broken.Add((NanoRule.NotANumber, name));
        }
        else if (Misleading.Contains(name))
        {
            broken.Add((NanoRule.MisleadingMember, name));
        }
        else if (Integers.Contains(member.Type) && member is { Name: "ToString", Parameters: "(System.String)" }
            && !(before is { Code.Name: "ldstr" } && GoodPattern().IsMatch(image.Reader.GetUserString(before.Text.Handle))))
        {
            broken.Add((NanoRule.NumberPattern, name));
        }
    }

    // The constant must stand right before the division, and no jump may come in between.
    private static bool DividesByGoodConstant(List<Instruction> body, int i, HashSet<int> targets)
    {
        int at = i - 1;
        bool isReached = targets.Contains(body[i].Offset);
        while (at >= 0 && body[at].Code.Name!.StartsWith("conv.", StringComparison.Ordinal))
        {
            isReached |= targets.Contains(body[at].Offset);
            at--;
        }

        // -1 is refused too: int.MinValue / -1 takes the board's runtime down.
        return at >= 0 && !isReached && body[at].ConstantValue is { } divisor && divisor != 0 && divisor != -1 && double.IsFinite(divisor);
    }

    [GeneratedRegex("^[FNXDGfnxdg][0-9]{0,2}$")]
    private static partial Regex GoodPattern();
}
