using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Coverage;

/// <summary>
/// Reads the boards of a virtual garage at full speed and no further than asked: bytes, decoder and windows are the program's, only nothing
/// runs ahead, so that what a person does in the garage takes effect at once.
/// </summary>
internal sealed class GarageReader : IAsyncDisposable
{
    private static readonly TimeSpan s_pause = TimeSpan.FromSeconds(2);

    // 0.1 kg of cells for 300 kg and 2 mV/V.
    private const double SwayingCounts = 0.1 / 7e-5;

    private readonly List<Board> _boards;

    private GarageReader(List<Board> boards) => _boards = boards;

    /// <summary>Listens to every board.</summary>
    public static async Task<GarageReader> OpenAsync(VirtualGarage garage)
    {
        List<Board> boards = [.. garage.Boards.Select(board => new Board(VirtualLink.AtFullSpeed(garage, board), board.Id))];

        // What is said to a board that is still starting is lost.
        garage.Advance(TimeSpan.FromSeconds(1));
        foreach (Board board in boards) await board.Link.WriteAsync(BoardCommand.Stream(on: true).ToBytes(1), default);
        return new(boards);
    }

    /// <summary>Lets a pause pass and then reads every cell for a while.</summary>
    /// <param name="window">How long.</param>
    /// <param name="sways">A car is on it, which sways by more than a cell's own noise: as a weighing looks at it.</param>
    /// <returns>Means of all cells, board by board.</returns>
    public async Task<CellMean[]> ReadAsync(TimeSpan window, bool sways = false)
    {
        foreach (Board board in _boards) await board.UntilAsync(s_pause);
        foreach (Board board in _boards) await board.UntilAsync(window);
        CellMean[] means = [.. _boards.SelectMany(board => board.Feeds).Where(feed => feed.HasGood).Select(feed => feed.Mean(window, sways ? SwayingCounts : SteadyMean.AllowedCounts, sways ? StationNoise.AllowedCounts : SteadyMean.AllowedCounts))];
        Assert.All(means, mean => Assert.Equal((SettlingVerdict.Settled, SampleStatus.Ok), (mean.Verdict, mean.Status)));
        return means;
    }

    public async ValueTask DisposeAsync()
    {
        foreach (Board board in _boards) await board.Link.DisposeAsync();
    }

    private sealed class Board(VirtualLink link, string id)
    {
        private readonly BoardDecoder _decoder = new();
        private readonly byte[] _buffer = new byte[4096];
        private readonly List<BoardItem> _items = [];

        public VirtualLink Link => link;

        public CellFeed[] Feeds { get; } = [.. Enumerable.Range(1, 4).Select(cell => new CellFeed(new CellId(id, cell)))];

        /// <summary>Forgets what was read and reads so long.</summary>
        public async Task UntilAsync(TimeSpan readFor)
        {
            foreach (CellFeed feed in Feeds) feed.Clear();
            while (Feeds.Any(feed => feed.GoodFor < readFor))
            {
                int count = await link.ReadAsync(_buffer, default);
                Assert.True(count > 0, "the board fell silent");
                _items.Clear();
                _decoder.Take(_buffer.AsSpan(0, count), default, _items, _ => { });
                foreach (BoardItem item in _items)
                {
                    if (item.Kind == BoardItemKind.Sample) Feeds[item.Sample.Cell - 1].Take(item.Sample);
                }
            }
        }
    }
}
