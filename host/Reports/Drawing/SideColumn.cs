namespace Fourpatch.Reports.Drawing;

/// <summary>Figures beside a drawing, each at the height of what it belongs to, pushed apart where they would meet.</summary>
internal static class SideColumn
{
    // What fits beside the wheels at the size of a name.
    private const int NameLetters = 11;

    /// <summary>One of them; <see cref="Height"/> about its middle.</summary>
    public sealed record Item(double WishedY, double Height, Action<double> Draw)
    {
        /// <summary>Where it came.</summary>
        public double MiddleY { get; set; } = WishedY;
    }

    /// <summary>Places and draws them: in the order of their wishes, none over another, the whole no further off than need be, and nothing above the top.</summary>
    public static void Draw(List<Item> items, double top)
    {
        items.Sort((a, b) => a.WishedY.CompareTo(b.WishedY));
        double low = double.NegativeInfinity;
        foreach (Item item in items)
        {
            item.MiddleY = Math.Max(item.WishedY, low + (item.Height / 2));
            low = item.MiddleY + (item.Height / 2) + 4;
        }

        // Half of the push goes up instead of down.
        double up = items.Count == 0 ? 0 : Math.Min((items[^1].MiddleY - items[^1].WishedY) / 2, items[0].MiddleY - (items[0].Height / 2) - top);
        double high = double.PositiveInfinity;
        for (int i = items.Count - 1; i >= 0 && up > 0; i--)
        {
            Item item = items[i];
            double wished = Math.Min(item.MiddleY, Math.Max(item.MiddleY - up, item.WishedY - up));
            item.MiddleY = Math.Min(wished, high - (item.Height / 2));
            high = item.MiddleY - (item.Height / 2) - 4;
        }

        foreach (Item item in items)
        {
            item.Draw(item.MiddleY);
        }
    }

    /// <summary>A name in lines that fit, cut after a dash where there is one.</summary>
    public static IEnumerable<string> NameLines(string name)
    {
        while (name.Length > NameLetters)
        {
            int dash = name.LastIndexOfAny(['-', '_'], NameLetters - 1);
            int cut = dash > 2 ? dash + 1 : NameLetters;
            yield return name[..cut];
            name = name[cut..];
        }

        yield return name;
    }
}
