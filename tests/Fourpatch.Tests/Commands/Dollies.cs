namespace Fourpatch.Tests.Commands;

/// <summary>Layout files of dollies for commands.</summary>
internal static class Dollies
{
    /// <summary>One that goes round the car: its cells where the virtual one's are.</summary>
    public const string Trolley = """
        [dolly.trolley]
        cells = ["B1:1", "B1:2", "B1:3", "B1:4"]
        tare_kg = 12
        wheel_centre_rise_mm = 50
        cells_mm = [[-250, 200], [-250, -200], [250, 200], [250, -200]]
        """;
}
