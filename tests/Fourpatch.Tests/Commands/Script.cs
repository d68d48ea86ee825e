namespace Fourpatch.Tests.Commands;

/// <summary>
/// Somebody in the garage: for each question, in this order, what it must say, what is done about it, and the answer. A question that was not
/// expected, or one too many, fails the test.
/// </summary>
internal sealed class Script
{
    private readonly List<(string Asked, Action Do, string? Answer)> _steps = [];
    private readonly List<string> _wrong = [];
    private int _at;

    /// <summary>Expects a question, does something first if need be, and answers; an empty answer is a bare Enter, null the end of the input.</summary>
    public Script On(string asked, string? answer = "", Action? act = null)
    {
        _steps.Add((asked, act ?? (() => { }), answer));
        return this;
    }

    public string? Answer(string said)
    {
        if (_at >= _steps.Count)
        {
            _wrong.Add($"nobody expected: {said}");
            return null;
        }

        (string asked, Action act, string? answer) = _steps[_at++];
        if (!said.Contains(asked, StringComparison.Ordinal))
        {
            _wrong.Add($"expected \"{asked}\" but was asked: {said}");
            return null;
        }

        act();
        return answer;
    }

    /// <summary>Every question came, and none else.</summary>
    public void CheckOver(Outcome outcome) => Assert.True(_wrong.Count == 0 && _at == _steps.Count, $"{string.Join("\n", _wrong)}\nanswered {_at} of {_steps.Count}\nout: {outcome.Out}\nerrors: {outcome.Errors}");
}
