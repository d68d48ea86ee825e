namespace Fourpatch.Files;

/// <summary>Finds the known name a mistyped one most likely meant.</summary>
internal static class Nearest
{
    /// <summary>
    /// The known name with the smallest edit distance (one exchange of neighbours counts 1), or null when none comes
    /// within half of its letters: a wild guess helps nobody.
    /// </summary>
    public static string? To(string name, IEnumerable<string> known)
    {
        string? best = null;
        var bestDistance = int.MaxValue;
        var asked = name.Length <= 64 ? name : name[..64];
        foreach (var candidate in known)
        {
            var (typed, meant) = (asked.ToLowerInvariant(), candidate.ToLowerInvariant());
            var distance = Distance(typed, meant);
            // A name cut short (wheel_rate, lb, gal) is nearer than its letters count.
            if ((typed.Length >= 2 && meant.StartsWith(typed, StringComparison.Ordinal)) || (typed.Length >= 3 && meant.Contains(typed, StringComparison.Ordinal)))
                distance = Math.Min(distance, 1);
            if (distance < bestDistance)
                (best, bestDistance) = (candidate, distance);
        }

        return best is not null && bestDistance <= Math.Max(1, Math.Max(asked.Length, best.Length) / 2) ? best : null;
    }

    /// <summary>An order that names the nearest known name, or all of them when none is near.</summary>
    public static string Remedy(string name, IReadOnlyCollection<string> known) =>
        To(name, known) is { } near ? $"did you mean {near}?" : $"use one of {string.Join(", ", known)}";

    /// <summary>The same behind a list of all of them.</summary>
    public static string AmongThem(string name, IReadOnlyCollection<string> known) =>
        To(name, known) is { } near ? $"did you mean {near}?" : "use one of them";

    private static int Distance(string a, string b)
    {
        var before = new int[b.Length + 1];
        var previous = new int[b.Length + 1];
        var current = new int[b.Length + 1];
        for (var j = 0; j <= b.Length; j++)
            previous[j] = j;
        for (var i = 1; i <= a.Length; i++)
        {
            current[0] = i;
            for (var j = 1; j <= b.Length; j++)
            {
                var change = previous[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
                current[j] = Math.Min(change, Math.Min(previous[j], current[j - 1]) + 1);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    current[j] = Math.Min(current[j], before[j - 2] + 1);
            }

            (before, previous, current) = (previous, current, before);
        }

        return previous[b.Length];
    }
}
