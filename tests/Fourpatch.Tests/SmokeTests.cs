namespace Fourpatch.Tests;
public class SmokeTests { [Fact] public void It_runs() => Assert.Equal(1, (int)Fourpatch.Core.Cells.SampleStatus.Ok); }
