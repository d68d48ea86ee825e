using System.Reflection;
using System.Reflection.Emit;
using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>One IL instruction (ECMA-335, partition III). Operands the opcode does not have are nil or 0.</summary>
internal sealed record Instruction(int Offset, OpCode Code, EntityHandle Token, StringToken Text, long Integer, double Real, int[] Targets)
{
    private static readonly Dictionary<int, OpCode> OpCodesByValue = typeof(OpCodes)
        .GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(field => (OpCode)field.GetValue(null)!)
        .ToDictionary(code => code.Value & 0xFFFF);

    /// <summary>Decodes a whole method body.</summary>
    public static List<Instruction> Decode(BlobReader il)
    {
        var instructions = new List<Instruction>();
        while (il.RemainingBytes > 0)
        {
            int offset = il.Offset;
            int value = il.ReadByte();
            if (value == 0xFE)
            {
                value = 0xFE00 | il.ReadByte();
            }

            instructions.Add(DecodeOperand(offset, OpCodesByValue[value], ref il));
        }

        return instructions;
    }

    /// <summary>True when this loads a constant; the constant is then in <see cref="ConstantValue"/>.</summary>
    public bool IsConstant => ConstantValue is not null;

    /// <summary>The constant this loads, if it loads a number.</summary>
    public double? ConstantValue
    {
        get
        {
            int value = Code.Value & 0xFFFF;
            if (value is >= 0x15 and <= 0x1E)
            {
                return value - 0x16; // ldc.i4.m1 to ldc.i4.8
            }

            return value switch
            {
                0x1F or 0x20 or 0x21 => Integer, // ldc.i4.s, ldc.i4, ldc.i8
                0x22 or 0x23 => Real, // ldc.r4, ldc.r8
                _ => null,
            };
        }
    }

    private static Instruction DecodeOperand(int offset, OpCode code, ref BlobReader il)
    {
        EntityHandle token = default;
        StringToken text = default;
        long integer = 0;
        double real = 0;
        int[] targets = [];
        switch (code.OperandType)
        {
            case OperandType.InlineNone:
                break;
            case OperandType.ShortInlineBrTarget:
                int near = il.ReadSByte();
                targets = [il.Offset + near];
                break;
            case OperandType.InlineBrTarget:
                int far = il.ReadInt32();
                targets = [il.Offset + far];
                break;
            case OperandType.InlineSwitch:
                targets = new int[il.ReadInt32()];
                for (int i = 0; i < targets.Length; i++)
                {
                    targets[i] = il.ReadInt32();
                }

                for (int i = 0; i < targets.Length; i++)
                {
                    targets[i] += il.Offset;
                }

                break;
            case OperandType.ShortInlineI:
                integer = il.ReadSByte();
                break;
            case OperandType.ShortInlineVar:
                integer = il.ReadByte();
                break;
            case OperandType.InlineVar:
                integer = il.ReadUInt16();
                break;
            case OperandType.InlineI:
                integer = il.ReadInt32();
                break;
            case OperandType.InlineI8:
                integer = il.ReadInt64();
                break;
            case OperandType.ShortInlineR:
                real = il.ReadSingle();
                break;
            case OperandType.InlineR:
                real = il.ReadDouble();
                break;
            case OperandType.InlineString:
                text = new StringToken(MetadataTokens.UserStringHandle(il.ReadInt32() & 0xFFFFFF));
                break;
            default: // field, method, type, token and signature
                token = MetadataTokens.EntityHandle(il.ReadInt32());
                break;
        }

        return new Instruction(offset, code, token, text, integer, real, targets);
    }
}

/// <summary>The literal of an ldstr.</summary>
internal readonly record struct StringToken(UserStringHandle Handle);
