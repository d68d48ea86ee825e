namespace Fourpatch.Planning;

/// <summary>A tank and what the finished vehicle weighs at its fillings.</summary>
/// <param name="Tank">The row of the parts list.</param>
/// <param name="Fillings">Lowest first.</param>
public sealed record Sweep(Part Tank, IReadOnlyList<TankFilling> Fillings);
