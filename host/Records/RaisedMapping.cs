using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Records;

/// <summary>Readings with wheels raised to documents and back.</summary>
internal static class RaisedMapping
{
    public static RaisedDocument ToDocument(RaisedBasis raised) => new()
    {
        Layout = raised.Layout is { } layout ? LayoutFile.TextOf(layout) : null,
        Assumed = RecordMapping.ToDocument(raised.Assumed),
        Taken = [.. raised.Taken.Select(ToDocument)],
        TotalKg = raised.Total?.Kg,
        UTotalKg = raised.Total?.UKg,
    };

    /// <summary>The readings of a document.</summary>
    /// <exception cref="BadRecordException">It cannot be one.</exception>
    public static RaisedBasis FromDocument(RaisedDocument document, string method, IReadOnlyList<string> boards)
    {
        var basis = new RaisedBasis(
            method is RaisedBasis.OneByOne or RaisedBasis.ByAxle ? method : throw new BadRecordException($"found the method {InputError.Quote(method)} for readings with wheels raised"),
            [.. document.Taken.Select(FromDocument)],
            document.TotalKg is double kg ? new StatedTotal(kg, document.UTotalKg ?? 0) : null,
            document.Layout is { } layout ? RecordMapping.Take(LayoutFile.Parse(layout, "layout")) : null,
            RecordMapping.AssumedOf(document.Assumed), boards);
        return basis.Taken.All(taken => taken.TypedKg is null == taken.Cells.Count > 0) && (basis.Layout is not null || basis.Taken.All(taken => taken.TypedKg is not null))
            ? basis
            : throw new BadRecordException("a reading has neither cells of the layout nor a figure, or both");
    }

    private static TakenDocument ToDocument(TakenReading taken) => new()
    {
        Corner = Words.Of(taken.Corner),
        As = Words.Of(taken.As),
        RisesM = taken.RisesM.ToArray(),
        URisesM = taken.URisesM.ToArray(),
        AtWheelCentre = [.. Corners.All.Where(corner => taken.AtWheelCentre[corner]).Select(Words.Of)],
        Cells = [.. taken.Cells.Select(RecordMapping.ToDocument)],
        TypedKg = taken.TypedKg,
        UTypedKg = taken.UTypedKg,
        KeptBecause = taken.KeptBecause,
    };

    private static TakenReading FromDocument(TakenDocument document)
    {
        Corner[] centred = [.. document.AtWheelCentre.Select(RecordMapping.Word<Corner>)];
        return new()
        {
            Corner = RecordMapping.Word<Corner>(document.Corner),
            As = RecordMapping.Word<TakenAs>(document.As),
            RisesM = FourOf(document.RisesM),
            URisesM = FourOf(document.URisesM),
            AtWheelCentre = Corners.Each(centred.Contains),
            Cells = [.. document.Cells.Select(RecordMapping.CellOf)],
            TypedKg = document.TypedKg,
            UTypedKg = document.UTypedKg,
            KeptBecause = document.KeptBecause,
        };
    }

    private static Corners<double> FourOf(IReadOnlyList<double> values) =>
        values.Count == 4 && values.All(double.IsFinite) ? Corners.From(values) : throw new BadRecordException($"found {values.Count} heights for four wheels");
}
