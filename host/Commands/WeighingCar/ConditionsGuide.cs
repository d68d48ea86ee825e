using Fourpatch.Files;
using Fourpatch.Reports;

namespace Fourpatch.Commands.WeighingCar;

/// <summary>
/// The checklist before the first reading, asked one thing at a time: what is answered is recorded with the weighing. A bare Enter leaves a thing out or keeps
/// what is known of it already.
/// </summary>
internal sealed class ConditionsGuide(Dialogue dialogue)
{
    private sealed record Item(string Name, string Question, Func<string, Result<string>> Read, string? OtherThan = null, string Caution = "");

    // Names stand in records: none is ever renamed.
    private static readonly Item[] Items =
    [
        Text("tyre_pressures", "Tyre pressures, as FL 1.4 FR 1.4 RL 1.5 RR 1.5 bar, or one for all?"),
        Words("tyres", "Are the tyres cold or warm?", "cold", "warm"),
        Length("circumference_FL_mm", "Rolling circumference of the front left tyre? (a tape round it, mm; 10 mm are 1.6 mm of height)"),
        Length("circumference_FR_mm", "Of the front right one?"),
        Length("circumference_RL_mm", "Of the rear left one?"),
        Length("circumference_RR_mm", "Of the rear right one?"),
        Words("bars", "Anti-roll bars: on, off or none?", "on", "off", "none"),
        Good("steering_straight", "Is the steering wheel tied straight?", "Castor and king-pin lift one front corner when it is not."),
        Good("brake_off", "Is the brake off and the gear in neutral?", "Otherwise the tyres stay wound up. Chock the wheels first."),
        Good("chocks_clear", "Are the chocks a finger away from the tyres?", "A chock that touches carries weight; do not take it away."),
        Words("driver", "Driver: none, aboard or ballast?", "none", "aboard", "ballast"),
        Good("ballast_as_seated", "If ballast: does it lie where hip, thigh and feet would? (Enter when there is none)", "One bag on the seat is not a driver."),
        Text("fuel_l", "Litres of fuel?"),
        Good("bushes_at_ride_height", "Were the bush bolts tightened at ride height?", "Bushes tightened with the wheels hanging act as springs."),
        Words("put_on", "How did the wheels come on the pads: rolled or lowered?", "rolled", "lowered"),
        Good("nothing_leans", "Does nothing lean on it: jack away, doors shut, tools out, ramps off?", "What leans on the car is weighed with it."),
    ];

    /// <summary>Names of everything that is asked.</summary>
    public static IEnumerable<string> Asked => Items.Select(item => item.Name);

    /// <summary>Asks.</summary>
    /// <param name="known">What was noted already; it may be replaced.</param>
    /// <returns>Everything noted.</returns>
    /// <exception cref="LeftDialogueException">The person left.</exception>
    public IReadOnlyDictionary<string, string> Ask(IReadOnlyDictionary<string, string> known)
    {
        dialogue.Say("The order of work: " + OrderOfWork.Text);
        dialogue.Say("Before the first reading. Enter leaves a thing out, or as it is known already.");
        foreach (string sentence in SafetyText.BeforeWeighing.Take(2))
        {
            dialogue.Say(sentence);
        }

        var noted = new Dictionary<string, string>(known);
        foreach (Item item in Items)
        {
            AskOne(item, noted);
        }

        return noted;
    }

    private void AskOne(Item item, Dictionary<string, string> noted)
    {
        string asNow = noted.TryGetValue(item.Name, out string? now) ? $" [{now}]" : "";
        string answer = dialogue.Ask(item.Question + asNow, typed => typed.Length == 0 ? "" : item.Read(typed));
        if (answer.Length > 0)
        {
            noted[item.Name] = answer;
        }

        if (item.OtherThan is { } bad && noted.GetValueOrDefault(item.Name) == bad)
        {
            dialogue.Say("  " + item.Caution);
        }
    }

    private static Item Text(string name, string question) => new(name, question, RecordSaving.ReadCondition);

    private static Item Length(string name, string question) => new(name, question, typed => Typed.Length(typed).Then<string>(length => length.LengthM is > 0.3 and < 5
        ? FormattableString.Invariant($"{length.LengthM * 1000:0.#}")
        : new InputError(ErrorCode.Implausible, $"found {InputError.Quote(typed)}", "a circumference from 300 to 5000 mm", "measure round the middle of the tread")));

    private static Item Words(string name, string question, params string[] words) => new(name, question, typed =>
        words.FirstOrDefault(word => word.Equals(typed, StringComparison.OrdinalIgnoreCase)) is { } known
            ? known
            : new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", string.Join(", ", words), "answer with one of these"));

    private static Item Good(string name, string question, string caution) => new(name, question + " (yes/no)", typed => typed.ToUpperInvariant() switch
    {
        "YES" or "Y" => "yes",
        "NO" or "N" => "no",
        _ => new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(typed)}", "yes or no", "answer yes or no"),
    }, "no", caution);
}
