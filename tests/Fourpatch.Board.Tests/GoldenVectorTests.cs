using System.Text;
using Fourpatch.Core.Wire;
using Fourpatch.Tests;
using Fourpatch.Tests.Wire;

namespace Fourpatch.Board.Tests;

/// <summary>The golden vectors, read and written by the core as the firmware is built with it.</summary>
public class GoldenVectorTests
{
    private static readonly List<WireVector> Good = WireVectors.Read(Repository.PathOf("tests/vectors/wire.txt")).Where(vector => vector.Kind == "good").ToList();

    [Fact]
    public void The_core_under_test_is_the_firmwares_own_build()
        => Assert.Equal("Fourpatch.Board", typeof(LineWriter).Assembly.GetName().Name);

    [Fact]
    public void The_firmwares_build_writes_the_golden_bytes()
    {
        Assert.NotEmpty(Good);
        Assert.All(Good, vector => Assert.Equal(Encoding.Latin1.GetString(vector.Bytes), Encoding.Latin1.GetString(WireText.Compose(vector.Value))));
    }

    [Fact]
    public void The_firmwares_build_reads_the_golden_bytes()
        => Assert.All(Good, vector =>
        {
            var reader = new LineReader();
            var outcome = LineOutcome.None;
            foreach (var value in vector.Bytes)
            {
                outcome = reader.Push(value);
            }

            Assert.Equal(LineOutcome.Good, outcome);
            Assert.Equal(vector.Value, WireText.Describe(reader.Body, reader.BodyLength));
        });
}
