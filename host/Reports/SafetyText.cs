namespace Fourpatch.Reports;

/// <summary>The cautions that belong to weighing a car in a garage. Shown where the step happens; the full list is page one of hardware-notes.</summary>
public static class SafetyText
{
    /// <summary>What everybody reads once before a car goes on a rig.</summary>
    public static IReadOnlyList<string> BeforeWeighing { get; } =
    [
        "A car on pads, dollies, blocks or a jack is not supported. No hand, foot or head under the car or between tyre and arch.",
        "Chock both sides of every wheel that stays down; for a reading move the chocks a finger away, do not take them off.",
        "Every pad, castor, cell, bolt, lever and board: rated for twice what that piece can carry at worst. A cell that breaks drops the car.",
        "Over 1 % of slope tie the car to a fixed point uphill; on four dollies always.",
        "Never weld on car, frame or dolly with cells or board connected.",
        "Mains-powered parts: ready-made certified supplies only; anything else by a licensed person where the local code asks for it.",
        "Any noise, lean, sinking floor or a figure that drifts: hands off, stand clear, lower.",
        "Numbers are for building and set-up, not legal trade. Road or race approval: the local code and a qualified examiner decide.",
    ];

    /// <summary>Before a wheel is raised on to a dolly, a block or a plate.</summary>
    public static IReadOnlyList<string> RaisingAWheel { get; } =
    [
        "Now a wheel leaves the ground. A car on a dolly, blocks or a jack is not supported: no hand, foot or head under the car or between tyre and arch.",
        "Jack only where the maker or builder intends: on sound structure, jack upright on hard floor, handle clear. Wood, concrete blocks and bricks are not stands.",
        "Chock both sides of every wheel that stays down; a handbrake may act on the wheel you lift, and a gear holds nothing with one driven wheel up.",
        "Over 1 % of slope tie the car to a fixed point uphill. Lock the castors before anyone goes near.",
        "Blocks sound, flat, under the whole tyre print, no higher than wide; place them and shims with a stick, not with fingers.",
        "Not alone with the car raised; one person gives orders, anybody may shout STOP. Children and pets out.",
        "Any noise, lean, sinking floor or a figure that drifts: hands off, stand clear, lower.",
    ];

    /// <summary>Before a car is pushed on to pads and boards.</summary>
    public static IReadOnlyList<string> OnToPads { get; } =
    [
        "Now the wheels go up on pads and boards. A car on pads or boards is not supported: no hand, foot or head under the car or between tyre and arch.",
        "Push, do not drive; rubber under the pads, pads chocked so that they do not slide. Boards sound, flat, wider than the tyre.",
        "Chock both sides of a wheel as soon as the car stands; over 1 % of slope tie it to a fixed point uphill.",
        "Any noise, lean, sinking floor or a figure that drifts: hands off, stand clear, roll down.",
    ];

    /// <summary>The one line before every reading of a car that stands on a rig.</summary>
    public const string OnTheRig = "A car on pads or dollies is not supported: no hand, foot or head under it or between tyre and arch.";

    /// <summary>Before a car is rolled off the rig again.</summary>
    public const string OffTheRig =
        "Coming off: push, do not drive, one person gives orders, chocks in hand; nobody in front of or behind a wheel, no hand, foot or head under the car.";

    /// <summary>Whenever somebody leaves while a wheel may still stand up.</summary>
    public const string LowerFirst = "Lower the car first if any of it is up: nobody leaves it raised.";

    /// <summary>Before a perch is turned.</summary>
    public const string Perches =
        "Take the load off each spring on rated stands first; a loose spring, or a collar off its thread, can fly. Right spanner, no hammering, nobody under the car.";

    /// <summary>Before a wheel goes on a beam.</summary>
    public const string Lever =
        "Block the beam before loading and stop both pivots from walking; roll on from the block's side; nobody on the beam or in line with its free end.";

    /// <summary>Where the floor slopes, and on four dollies always.</summary>
    public const string Slope =
        "Tie the car to a fixed point uphill, the strap slack while reading; on four dollies always: brake and gear hold nothing there. Lock the castors before anyone goes near.";

    /// <summary>Before one axle goes up.</summary>
    public const string RaisedAxle =
        "A raised axle: two people; rated stands under rated points, lowered on to at once; suspension blocked; the wheels that stay chocked with a finger's clearance and the car tethered; nobody in it, under it or at its ends; fuel low and cap tight, battery fixed, no leaks. Stop at the agreed height.";

    /// <summary>Before ballast is put in.</summary>
    public const string Ballast = "Bolt ballast to structure as the rules of the event require; this only says where.";

    /// <summary>Before a part goes on the rig.</summary>
    public const string Lifting = "Lift with help over 20 kg, and no dropping: a shock spoils the cell. No hand between part and pad; block what can roll or tip.";

    /// <summary>Writes the sentences, wrapped to the screen.</summary>
    public static void Write(TextWriter output, int width)
    {
        output.WriteLine("Before a car goes on any rig:");
        foreach (string sentence in BeforeWeighing)
        {
            WeighingText.WriteWrapped(output, "- " + sentence, width);
        }
    }
}
