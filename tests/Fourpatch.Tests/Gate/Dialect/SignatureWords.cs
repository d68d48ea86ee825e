using System.Collections.Immutable;
using System.Reflection.Metadata;

namespace Fourpatch.Tests.Gate.Dialect;

/// <summary>Reads signatures into type names, and notes on the way what no signature of the board may hold.</summary>
internal sealed class SignatureWords(AssemblyImage image) : ISignatureTypeProvider<string, object?>
{
    /// <summary>Breaches seen since the list was last cleared.</summary>
    public List<(NanoRule Rule, string Detail)> Complaints { get; } = [];

    public string GetArrayType(string elementType, ArrayShape shape) => Complain(NanoRule.MultiDimensionalArray, elementType + "[,]");

    public string GetByReferenceType(string elementType) => elementType + "&";

    public string GetFunctionPointerType(MethodSignature<string> signature) => Complain(NanoRule.UnsafePointer, "function pointer");

    public string GetGenericInstantiation(string genericType, ImmutableArray<string> typeArguments)
        => Complain(NanoRule.GenericUse, genericType + "<" + string.Join(",", typeArguments) + ">");

    public string GetGenericMethodParameter(object? genericContext, int index) => "!!" + index;

    public string GetGenericTypeParameter(object? genericContext, int index) => "!" + index;

    public string GetModifiedType(string modifier, string unmodifiedType, bool isRequired)
    {
        if (modifier.EndsWith(".IsVolatile", StringComparison.Ordinal))
        {
            Complain(NanoRule.Volatile, unmodifiedType);
        }
        else if (modifier.EndsWith(".InAttribute", StringComparison.Ordinal))
        {
            Complain(NanoRule.InOnVirtual, unmodifiedType);
        }

        return unmodifiedType;
    }

    public string GetPinnedType(string elementType) => Complain(NanoRule.UnsafePointer, "pinned " + elementType);

    public string GetPointerType(string elementType) => Complain(NanoRule.UnsafePointer, elementType + "*");

    public string GetPrimitiveType(PrimitiveTypeCode typeCode) => "System." + typeCode;

    public string GetSZArrayType(string elementType) => elementType + "[]";

    public string GetTypeFromDefinition(MetadataReader reader, TypeDefinitionHandle handle, byte rawTypeKind) => image.NameOf(handle);

    public string GetTypeFromReference(MetadataReader reader, TypeReferenceHandle handle, byte rawTypeKind) => image.NameOf(handle);

    public string GetTypeFromSpecification(MetadataReader reader, object? genericContext, TypeSpecificationHandle handle, byte rawTypeKind)
        => reader.GetTypeSpecification(handle).DecodeSignature(this, genericContext);

    private string Complain(NanoRule rule, string detail)
    {
        Complaints.Add((rule, detail));
        return detail;
    }
}
