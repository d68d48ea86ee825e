namespace Fourpatch.Commands.Interviews;

/// <summary>One answer.</summary>
/// <param name="Typed">As typed; empty where the question was passed over.</param>
/// <param name="Value">What it means; null where the question was passed over.</param>
/// <param name="Shown">How it reads back.</param>
internal sealed record Answer(string Typed, object? Value, string Shown)
{
    /// <summary>A question that may stay open and does.</summary>
    public static Answer None { get; } = new("", null, "-");

    /// <summary>The person was asked about a likely slip and said that it is right as it stands.</summary>
    public bool IsConfirmed { get; init; }
}

/// <summary>What was answered so far, by the questions' keys.</summary>
internal sealed class Answers
{
    private readonly Dictionary<string, Answer> _given = [];

    public bool Has(string key) => _given.ContainsKey(key);

    public Answer? Find(string key) => _given.GetValueOrDefault(key);

    public void Set(string key, Answer answer) => _given[key] = answer;

    public void Remove(string key) => _given.Remove(key);

    /// <summary>A number in SI units; null when open or passed over.</summary>
    public double? Number(string key) => Find(key)?.Value as double?;

    public string? Text(string key) => Find(key)?.Value as string;

    public bool IsYes(string key) => Find(key)?.Value is true;

    /// <summary>A value of any other kind; its default when open or passed over.</summary>
    public T? Value<T>(string key) => Find(key)?.Value is T value ? value : default;
}
