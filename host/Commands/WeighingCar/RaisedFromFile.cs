using Fourpatch.Files;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;
using Fourpatch.Weighing.Raised;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>Stored readings with wheels raised, as <c>--from</c> gives them.</summary>
internal static class RaisedFromFile
{
    /// <summary>Standard uncertainty of a height measured with a tape at a hub, or of a stack of blocks, where nobody says better (common practice, no source).</summary>
    public const double UsualUHeightM = 0.001;

    /// <summary>Standard uncertainty of a reading where nobody says better: a display that shows whole kilograms.</summary>
    public const double UsualUReadingKg = 0.3;

    /// <summary>What was read, and under what.</summary>
    /// <param name="rows">Rows of the file.</param>
    /// <param name="method">by-axle or one-by-one.</param>
    /// <param name="block">What lay under the other wheels, one-by-one.</param>
    /// <param name="pairs">Which wheels stood on the pads together, by-axle.</param>
    /// <param name="total">A total known otherwise.</param>
    public static RaisedBasis BasisOf(IReadOnlyList<OneByOneReading> rows, WeighMethod method, BlockUnder block, PairsOf pairs, StatedTotal? total) => new(
        Words.Of(method), [.. rows.Select(row => TakenOf(row, method, block, pairs))], total, null, new CellAssumptions(), []);

    /// <summary>Which wheels stand up together with one, on the dolly, on blocks or on the pads.</summary>
    public static bool StandsUp(Corner wheel, Corner corner, WeighMethod method, BlockUnder block, PairsOf pairs) => wheel == corner || (method, block, pairs) switch
    {
        (WeighMethod.ByAxle, _, PairsOf.Axles) or (WeighMethod.OneByOne, BlockUnder.Partner, _) => wheel.IsFront() == corner.IsFront(),
        (WeighMethod.ByAxle, _, PairsOf.Sides) => wheel.IsLeft() == corner.IsLeft(),
        (WeighMethod.OneByOne, BlockUnder.All, _) => true,
        _ => false,
    };

    private static TakenReading TakenOf(OneByOneReading row, WeighMethod method, BlockUnder block, PairsOf pairs)
    {
        Corners<bool> up = Corners.Each(wheel => StandsUp(wheel, row.Corner, method, block, pairs));
        bool stoodUp = row.RiseM > 0 || method == WeighMethod.ByAxle;
        double uRiseM = row.URiseM ?? UsualUHeightM;
        return new TakenReading
        {
            Corner = row.Corner,
            RisesM = up.Select(is_ => is_ ? row.RiseM : 0),
            URisesM = up.Select((wheel, is_) => is_ && stoodUp ? (wheel == row.Corner || method == WeighMethod.ByAxle ? uRiseM : UsualUHeightM) : 0),
            AtWheelCentre = Corners.Each(wheel => wheel == row.Corner && method == WeighMethod.OneByOne),
            TypedKg = row.ReadingKg,
            UTypedKg = row.UReadingKg ?? UsualUReadingKg,
        };
    }
}
