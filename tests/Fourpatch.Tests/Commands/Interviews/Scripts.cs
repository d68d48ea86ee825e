namespace Fourpatch.Tests.Commands.Interviews;

/// <summary>What somebody types in whole interviews, one line each. Figures are invented.</summary>
internal static class Scripts
{
    /// <summary>The short way: everything needed to weigh.</summary>
    public static readonly string[] ShortCar =
    [
        "Wren", "", "", "2310", "231.2cm", "52in", "4ft 3in", "", "",
        "",
    ];

    /// <summary>Tape held at its 100 mm mark, everything known.</summary>
    public static readonly string[] WholeCar =
    [
        "Wren the second", "car", "mark", "2410", "2412", "1400", "1380", "yes",
        "2mm", "280", "285", "330", "-", "0.7", "200lb/in", "5N/mm", "180N/mm", "1100", "0.75", "40N/mm", "-", "-", "16tpi",
        "firewall=410, nose=-600mm", "430", "455kg", "250", "300", "48%", "0.5", "50%", "second.toml",
        "",
    ];

    public static readonly string[] ThreeWheeler =
    [
        "Tern", "three-wheeler", "", "", "0", "650 left", "0", "65cm right", "2300", "", "no", "tern.toml",
        "",
    ];

    public static readonly string[] Pads = ["", "", "", "", "B1:4", "no", "virtual", "", ""];

    public static readonly string[] PadsOfTwoBoards = ["pads", "A:1, A:2", "A:3,A:4", "B:1, B:2", "B:3, B:4", "yes", "2.4", "5lb", "0", "-", "-", "two.toml", ""];

    public static readonly string[] Levers =
    [
        "lever", "", "", "", "", "300", "900", "1.2kg", "", "", "", "300", "905", "-", "250", "1m", "", "3mm", "tcp:localhost:4150", "levers.toml",
        "",
    ];

    public static readonly string[] OneDolly = ["one-dolly", "", "", "38.5", "52", "700", "650", "-", "dolly.toml", ""];

    public static readonly string[] FourDollies =
    [
        "four-dollies", "", "", "38.5", "52", "-", "", "", "38.1", "52", "-", "", "", "38", "-", "-", "", "", "37.9", "51.5", "700", "650", "-", "dollies.toml",
        "",
    ];

    /// <summary>A list begun: one of every action.</summary>
    public static readonly string[] Parts =
    [
        "list.csv",
        "Seat", "", "6.4", "front-axle", "1300", "0", "250", "", "0.1", "the light one",
        "Radiator", "fit", "12lb", "", "350 ahead", "-20", "-", "", "-", "-",
        "Battery", "movable", "7", "firewall", "100", "150 right", "300", "body", "0 to 400", "-200 to 200", "-", "-",
        "Tank", "move", "4", "", "1700", "0", "-", "", "1500", "", "-", "-",
        "Nose", "ballast-spot", "10", "", "-600", "0", "-", "front-axle", "-", "-",
        "",
        "",
        "",
    ];
}
