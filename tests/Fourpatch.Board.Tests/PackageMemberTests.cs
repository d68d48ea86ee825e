using System.Globalization;
using System.Reflection;
using System.Reflection.Metadata;
using Fourpatch.Tests;
using Fourpatch.Tests.Gate.Dialect;

namespace Fourpatch.Board.Tests;

/// <summary>
/// Holds what is declared for the compile gate, and what the simulated board offers the firmware, to the members the real
/// packages have: package-members.txt was read from assemblies built from the packages' public sources.
/// </summary>
public class PackageMemberTests
{
    private static readonly Dictionary<string, string> Aliases = new()
    {
        ["System.Void"] = "void", ["System.Boolean"] = "bool", ["System.Byte"] = "byte", ["System.UInt16"] = "ushort", ["System.Int32"] = "int",
        ["System.UInt32"] = "uint", ["System.Int64"] = "long", ["System.UInt64"] = "ulong", ["System.Double"] = "double", ["System.String"] = "string",
        ["System.Object"] = "object", ["System.Char"] = "char",
    };

    private static readonly string Declarations = Repository.BuiltFor("nano-gate/declarations", "netstandard2.0", "Fourpatch.NanoDeclarations");

    // What the runtime's mscorlib has, stood in for by the simulation.
    private static readonly string[] Mscorlib = ["System.SpanByte", "System.Threading.Thread"];

    [Fact]
    public void Nothing_is_declared_that_the_packages_lack()
        => Assert.Empty(Unknown(Declarations, [], ReadPackages()));

    [Fact]
    public void Nothing_is_simulated_that_the_packages_lack()
        => Assert.Empty(Unknown(typeof(Firmware.AmplifierBank).Assembly.Location, Mscorlib, ReadPackages()));

    [Theory]
    [InlineData("System.Device.Spi.SpiDevice", "void TransferFullDuplex(SpanByte writeBuffer, SpanByte readBuffer)")]
    [InlineData("System.IO.Ports.SerialPort", "int BytesToRead { get; }")]
    [InlineData("nanoFramework.Hardware.Esp32.DeviceFunction", "COM2_TX=197120")]
    [InlineData("Iot.Device.Hx711.Scale", "const int DefaultClockFrequency = 700000")]
    public void A_member_the_packages_lack_would_be_seen(string type, string member)
    {
        var packages = ReadPackages();
        Assert.True(packages[type].Remove(member));
        Assert.Equal([$"{type}: {member}"], Unknown(Declarations, [], packages));
    }

    private static List<string> Unknown(string path, string[] except, Dictionary<string, HashSet<string>> packages)
    {
        using var image = new AssemblyImage(path);
        var unknown = new List<string>();
        var checkedTypes = 0;
        foreach (var handle in image.Reader.TypeDefinitions)
        {
            var name = image.NameOf(handle);
            if (name.StartsWith("Fourpatch.", StringComparison.Ordinal) || name.Contains('<', StringComparison.Ordinal) || except.Contains(name)
                || name.StartsWith("Microsoft.", StringComparison.Ordinal) || name.StartsWith("System.Runtime.", StringComparison.Ordinal))
            {
                continue;
            }

            checkedTypes++;
            var known = packages.GetValueOrDefault(name, []);
            unknown.AddRange(Members(image, image.Reader.GetTypeDefinition(handle)).Where(member => !known.Contains(member)).Select(member => $"{name}: {member}"));
        }

        Assert.True(checkedTypes > 20, $"only {checkedTypes} types were checked");
        return unknown;
    }

    private static Dictionary<string, HashSet<string>> ReadPackages()
    {
        var types = new Dictionary<string, HashSet<string>>();
        HashSet<string> members = [];
        foreach (var line in File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "package-members.txt")))
        {
            if (line.StartsWith(' '))
            {
                members.Add(line.Trim());
            }
            else if (line.Length > 0 && line[0] != '#')
            {
                var words = line.Split(' ');
                var kind = Array.FindIndex(words, word => word is "class" or "struct" or "enum");
                types.Add(words[kind + 1], members = []);
                if (words[kind] == "enum")
                {
                    members.UnionWith(line[(line.IndexOf('{', StringComparison.Ordinal) + 1)..].TrimEnd('}', ' ').Split(',', StringSplitOptions.TrimEntries));
                }
            }
        }

        return types;
    }

    private static IEnumerable<string> Members(AssemblyImage image, TypeDefinition type)
    {
        var reader = image.Reader;
        var isEnum = !type.BaseType.IsNil && image.NameOf(type.BaseType) == "System.Enum";
        foreach (var handle in type.GetFields())
        {
            var field = reader.GetFieldDefinition(handle);
            if ((field.Attributes & FieldAttributes.FieldAccessMask) == FieldAttributes.Public && field.Attributes.HasFlag(FieldAttributes.Literal))
            {
                var value = Constant(reader, field.GetDefaultValue());
                yield return isEnum ? $"{reader.GetString(field.Name)}={value}" : $"const {Short(field.DecodeSignature(image.Words, null))} {reader.GetString(field.Name)} = {value}";
            }
        }

        var accessors = new HashSet<MethodDefinitionHandle>();
        foreach (var handle in type.GetProperties())
        {
            var property = reader.GetPropertyDefinition(handle);
            var pair = property.GetAccessors();
            var (hasGetter, hasSetter) = (IsPublic(reader, pair.Getter), IsPublic(reader, pair.Setter));
            accessors.UnionWith([pair.Getter, pair.Setter]);
            if (hasGetter || hasSetter)
            {
                var isStatic = reader.GetMethodDefinition(hasGetter ? pair.Getter : pair.Setter).Attributes.HasFlag(MethodAttributes.Static);
                yield return $"{(isStatic ? "static " : "")}{Short(property.DecodeSignature(image.Words, null).ReturnType)} {reader.GetString(property.Name)} {{ {(hasGetter ? "get; " : "")}{(hasSetter ? "set; " : "")}}}";
            }
        }

        foreach (var handle in type.GetMethods().Where(method => IsPublic(reader, method) && !accessors.Contains(method)))
        {
            var method = reader.GetMethodDefinition(handle);
            var signature = method.DecodeSignature(image.Words, null);
            var name = reader.GetString(method.Name);

            // The compiler gives an abstract class, and one that names none, a constructor; nobody can or does call it.
            if (name != ".ctor" || signature.ParameterTypes.Length > 0 || !type.Attributes.HasFlag(TypeAttributes.Abstract))
            {
                var parameters = string.Join(", ", Parameters(image, method, signature));
                yield return name == ".ctor" ? $"ctor({parameters})" : $"{(method.Attributes.HasFlag(MethodAttributes.Static) ? "static " : "")}{Short(signature.ReturnType)} {name}({parameters})";
            }
        }
    }

    private static IEnumerable<string> Parameters(AssemblyImage image, MethodDefinition method, MethodSignature<string> signature)
    {
        foreach (var handle in method.GetParameters())
        {
            var parameter = image.Reader.GetParameter(handle);
            if (parameter.SequenceNumber > 0)
            {
                var text = $"{Short(signature.ParameterTypes[parameter.SequenceNumber - 1])} {image.Reader.GetString(parameter.Name)}";
                yield return parameter.Attributes.HasFlag(ParameterAttributes.Optional) ? $"{text} = {Constant(image.Reader, parameter.GetDefaultValue())}" : text;
            }
        }
    }

    private static bool IsPublic(MetadataReader reader, MethodDefinitionHandle handle)
        => !handle.IsNil && (reader.GetMethodDefinition(handle).Attributes & MethodAttributes.MemberAccessMask) == MethodAttributes.Public;

    private static string Constant(MetadataReader reader, ConstantHandle handle)
    {
        var constant = reader.GetConstant(handle);
        return System.Convert.ToString(reader.GetBlobReader(constant.Value).ReadConstant(constant.TypeCode), CultureInfo.InvariantCulture)!;
    }

    private static string Short(string type)
    {
        var array = type.EndsWith("[]", StringComparison.Ordinal) ? "[]" : "";
        var element = type[..^array.Length];
        return Aliases.GetValueOrDefault(element, element[(element.LastIndexOf('.') + 1)..]) + array;
    }
}
