using System.Text.RegularExpressions;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Commands;

/// <summary>What somebody at the car turns who does exactly what is said.</summary>
internal static partial class ToldTurns
{
    /// <summary>Turns told, positive raises; 0 where nothing is said of a corner.</summary>
    public static Corners<double> In(string said)
    {
        var turns = Fourpatch.Vehicles.Corners.Same(0.0);
        foreach (Match match in TurnLine().Matches(said))
        {
            var corner = match.Groups[1].Value switch { "front left" => Corner.FL, "front right" => Corner.FR, "rear left" => Corner.RL, _ => Corner.RR };
            var amount = TurnText.Parse(match.Groups[3].Value)!.Value;
            turns = turns.With(corner, match.Groups[2].Value == "raise" ? amount : -amount);
        }

        return turns;
    }

    [GeneratedRegex(@"(front left|front right|rear left|rear right): (raise|lower) by ([0-9/ ]+?) turn")]
    private static partial Regex TurnLine();
}
