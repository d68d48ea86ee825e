using Fourpatch.Board.Simulation;

namespace nanoFramework.Runtime.Native
{
    public enum RebootOption { NormalReboot = 0, EnterNanoBooter = 1, ClrOnly = 2, EnterProprietaryBooter = 8 }

    public class Power
    {
        public static void RebootDevice(RebootOption rebootOption = 0) => SimulatedBoard.Current.Reboot();
    }

    public static class SystemInfo
    {
        public static string TargetName => SimulatedBoard.Current.TargetName;
    }
}
