namespace Fourpatch.Board.Simulation;

/// <summary>Counts the instructions the firmware executes; the calls to it are put in after compilation.</summary>
public static class ManagedCode
{
    /// <summary>Instructions executed so far by everything that is counted.</summary>
    public static long Executed { get; private set; }

    /// <summary>Counts a basic block.</summary>
    public static void Add(int instructions) => Executed += instructions;
}
