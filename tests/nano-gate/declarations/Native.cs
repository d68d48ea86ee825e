namespace nanoFramework.Runtime.Native
{
    public enum RebootOption { NormalReboot = 0, EnterNanoBooter = 1, ClrOnly = 2, EnterProprietaryBooter = 8 }

    public class Power
    {
        public extern Power();
        public extern static void RebootDevice(RebootOption rebootOption = 0);
        public extern static void RebootDevice(int exeConstraintTimeout, RebootOption rebootOption = 0);
    }

    public static class SystemInfo
    {
        public extern static string OEMString { get; }
        public extern static string TargetName { get; }
        public extern static string Platform { get; }
    }
}
