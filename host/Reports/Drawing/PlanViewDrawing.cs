using Fourpatch.Files;
using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Reports.Drawing;

/// <summary>One plan view while it is drawn.</summary>
internal sealed class PlanViewDrawing
{
    private const double Width = 340, Middle = Width / 2, EdgePx = 4;

    // Beside the wheels stand the figures: this much room on each side.
    private const double SideRoomPx = 100, TallestPx = 300;
    private const double GapPx = 8;
    private const double Small = 13, Plain = 15, Large = 23, Least = 11;

    // Average advance of a bold letter or digit in units of the size, of the widest face in common use.
    private const double Advance = 0.64;
    private const double LensRadius = 36;

    private readonly WeighingResult _result;
    private readonly Figures _figures;
    private readonly PlanViewStyle _style;
    private readonly IReadOnlyDictionary<string, string> _states;
    private readonly string? _verdict;
    private readonly SvgCanvas _canvas;
    private readonly IReadOnlyList<CgPlace> _path;
    private readonly IReadOnlyList<(double BehindM, double LeftM)> _places;
    private readonly PlanFrame _frame;
    private readonly double _halfWidth, _halfLength, _frontY, _rearY, _loadSize;

    public PlanViewDrawing(WeighingResult result, Figures figures, PlanViewStyle style, IReadOnlyList<CgPlace> path, IReadOnlyDictionary<string, string> states, string? verdict)
    {
        (_result, _figures, _style, _states, _verdict) = (result, figures, style, states, verdict);
        _canvas = new SvgCanvas(style.Ink);
        _path = path.Count > 0 ? path : CgPlace.Of("as weighed", result.Totals) is { } now ? [now] : [];
        _places = VehicleDrawing.Places(result.Vehicle);
        PlanFrame atOrigin = PlanFrame.Around(_places, Middle, 0, Width - (2 * SideRoomPx), TallestPx);
        (_halfWidth, _halfLength) = VehicleDrawing.WheelPx(atOrigin);

        // Above the front axle: the share and its bracket, then half a wheel; and never so short that the figures of two axles meet.
        double spanPx = (_places.Max(p => p.BehindM) - _places.Min(p => p.BehindM)) * atOrigin.PxPerM;
        int most = Math.Max(_places.Count(p => IsLeft(p)) + (result.Vehicle.HasFourCorners ? 1 : 0), _places.Count(p => !IsLeft(p)) + (_path.Count > 0 ? 2 : 0));
        double slack = Math.Max(0, (most * 52) - 60 - spanPx) / 2;
        _frontY = 44 + _halfLength + slack;
        _rearY = _frontY + spanPx;
        _frame = atOrigin with { MiddleY = (_frontY + _rearY) / 2 };
        _loadSize = Enumerable.Range(0, _places.Count).Min(i => Fitting(figures.Mass(result.Loads[i].LoadKg), RoomBeside(i), Large));
        Bottom = _rearY + slack + _halfLength;
    }

    private double Bottom { get; set; }

    public string Draw()
    {
        DrawSharesOfAxles();
        if (_result.Vehicle.HasFourCorners)
        {
            DrawCross();
        }

        VehicleDrawing.Draw(_canvas, _result.Vehicle, _frame, wheel => _result.Loads[wheel].LoadKg is not null);
        DrawColumn(isLeft: true);
        DrawColumn(isLeft: false);
        DrawCrossText();
        if (_path.Count > 1)
        {
            CgDrawing.Path(_canvas, _frame, _path, 3);
        }
        else if (_path.Count == 1)
        {
            CgDrawing.Mark(_canvas, _frame, _path[0]);
        }

        double height = DrawBeneath();
        return _canvas.Finish(Width, height, _style.Id, $"{_result.Vehicle.Name}: what each wheel carries", PlanViewSvg.Describe(_result, _figures.Unit, _path) + (_verdict is null ? "" : $" {_verdict}."));
    }

    private void DrawSharesOfAxles()
    {
        CornerTotals totals = _result.Totals;
        if (totals.FrontShare is null && !_result.Vehicle.HasFourCorners)
        {
            return;
        }

        DrawBracket(_frontY - _halfLength - 12, true, "front", "front_share", totals.FrontShare);
        DrawBracket(_rearY + _halfLength + 12, false, "rear", "rear_share", totals.FrontShare is { } front ? 1 - front : null);
    }

    private void DrawBracket(double y, bool isFront, string word, string figure, Measured? share)
    {
        double line = isFront ? _places.Min(p => p.BehindM) : _places.Max(p => p.BehindM);
        double[] xs = [.. _places.Where(p => Math.Abs(p.BehindM - line) < 0.001).Select(p => _frame.At(p).X)];
        double left = Math.Min(xs.Min() - _halfWidth, Middle - 30), right = Math.Max(xs.Max() + _halfWidth, Middle + 30);
        double tick = isFront ? 5 : -5;
        _canvas.Shape($"<path d=\"M{left:0.0} {y + tick:0.0}V{y:0.0}H{right:0.0}V{y + tick:0.0}\"/>");
        ShareText((left + right) / 2, isFront ? y - 8 : y + 20, Anchor.Middle, 0, word, figure, share);
        Bottom = Math.Max(Bottom, y + 22);
    }

    private void DrawCross()
    {
        var (from, to) = (_frame.At(_places[2]), _frame.At(_places[1]));
        _canvas.Shape($"<path d=\"M{from.X:0.0} {from.Y:0.0}L{to.X:0.0} {to.Y:0.0}\" stroke-width=\"1.4\" stroke-dasharray=\"7 4\"/>");
    }

    // Written along the diagonal, in the half where the centre of gravity is not.
    private void DrawCrossText()
    {
        if (!_result.Vehicle.HasFourCorners)
        {
            return;
        }

        var (rear, front) = (_frame.At(_places[2]), _frame.At(_places[1]));
        (double x, double y) = (front.X - rear.X, front.Y - rear.Y);
        double length = Math.Sqrt((x * x) + (y * y));
        double at = 0.28;
        if (_path.Count > 0)
        {
            var cg = _frame.At(_path[0].Place);
            at = (((cg.X - rear.X) * x) + ((cg.Y - rear.Y) * y)) / (length * length) < 0.5 ? 0.72 : 0.28;
        }

        double size = Math.Clamp((length * 0.42) / (12 * 0.55), 11, Plain), turn = Math.Atan2(y, x) * 180 / Math.PI;
        (double acrossX, double acrossY) = (y / length, -x / length);
        (double middleX, double middleY) = (rear.X + (at * x), rear.Y + (at * y));
        string[] parts = Parts(_result.Totals.CrossShare);
        _canvas.Text(middleX + (acrossX * 6), middleY + (acrossY * 6), Anchor.Middle, turn, "cross_share", [new("cross ", size, Quiet: true), new(parts[0], size, Bold: true)]);
        if (parts.Length > 1)
        {
            _canvas.Text(middleX - (acrossX * 15), middleY - (acrossY * 15), Anchor.Middle, turn, "cross_share_u", new Run("\u00B1 " + parts[1], Small, Quiet: true));
        }
    }

    private void DrawColumn(bool isLeft)
    {
        var items = new List<SideColumn.Item>();
        for (int i = 0; i < _places.Count; i++)
        {
            if (IsLeft(_places[i]) == isLeft)
            {
                items.Add(LoadItem(i, isLeft));
            }
        }

        if (isLeft && _result.Vehicle.HasFourCorners)
        {
            items.Add(LeftShareItem());
        }

        if (!isLeft && _path.Count > 0)
        {
            items.Add(LensItem());
        }

        SideColumn.Draw(items, 12);
        Bottom = Math.Max(Bottom, items.Select(item => item.MiddleY + (item.Height / 2)).DefaultIfEmpty(0).Max());
    }

    private SideColumn.Item LoadItem(int number, bool isLeft)
    {
        StationLoad load = _result.Loads[number];
        var wheel = _frame.At(_places[number]);
        string[] name = [.. SideColumn.NameLines(load.Name)];
        string? state = _states.GetValueOrDefault(load.Name);
        string[] stateLines = state is null ? [] : [.. WeighingText.Wrapped(state, 20).Take(1)];
        double height = ((name.Length + stateLines.Length) * 15) + 24;
        double x = isLeft ? wheel.X - _halfWidth - GapPx : wheel.X + _halfWidth + GapPx;
        Anchor anchor = isLeft ? Anchor.End : Anchor.Start;
        return new(wheel.Y, height, middleY =>
        {
            double y = middleY - (height / 2) + 12;
            if (Math.Abs(middleY - wheel.Y) > 14)
            {
                double from = isLeft ? wheel.X - _halfWidth - 1 : wheel.X + _halfWidth + 1;
                _canvas.Shape($"<path d=\"M{from:0.0} {wheel.Y:0.0}L{x:0.0} {middleY:0.0}\" stroke-width=\"0.6\"/>");
            }

            foreach (string line in name)
            {
                _canvas.Text(x, y, anchor, new Run(line, Fitting(line, RoomBeside(number), Small), Bold: true, Quiet: true));
                y += 15;
            }

            y += 6;
            Run[] runs = load.LoadKg is null
                ? [new(PlanViewSvg.NotKnown, Fitting(PlanViewSvg.NotKnown, RoomBeside(number), Plain), Bold: true)]
                : [new(_figures.Mass(load.LoadKg), _loadSize, Bold: true)];
            _canvas.Text(x, y, anchor, 0, load.Name, runs);
            foreach (string line in stateLines)
            {
                y += 17;
                _canvas.Text(x, y, anchor, 0, load.Name + "_state", new Run(line, Fitting(line, RoomBeside(number), Small)));
            }
        });
    }

    private SideColumn.Item LeftShareItem()
    {
        const double Height = 54;
        double x = Math.Min(_frame.At(_places[0]).X, _frame.At(_places[2]).X) - _halfWidth - 8;
        return new((_frontY + _rearY) / 2, Height, middleY =>
        {
            // Along the left side, from one wheel's figures to the other's.
            double top = Math.Min(_frontY + _halfLength + 8, middleY - (Height / 2)), bottom = Math.Max(_rearY - _halfLength - 8, middleY + (Height / 2));
            _canvas.Shape($"<path d=\"M{x + 5:0.0} {top:0.0}H{x:0.0}V{bottom:0.0}H{x + 5:0.0}\"/>");
            string[] parts = Parts(_result.Totals.LeftShare);
            double y = middleY - (Height / 2) + 13;
            _canvas.Text(x - 7, y, Anchor.End, new Run("left", Small, Quiet: true));
            _canvas.Text(x - 7, y + 17, Anchor.End, 0, "left_share", new Run(parts[0], Fitting(parts[0], x - 7 - EdgePx, Plain), Bold: true));
            if (parts.Length > 1)
            {
                _canvas.Text(x - 7, y + 34, Anchor.End, 0, "left_share_u", new Run("\u00B1 " + parts[1], Small, Quiet: true));
            }
        });
    }

    // The centre of gravity enlarged: what holds it with 95 %, and its path.
    private SideColumn.Item LensItem()
    {
        const double Height = (2 * LensRadius) + 22;
        double x = Width - EdgePx - LensRadius - 2;
        PlanFrame enlarged = CgDrawing.Enlarged(_path, x, 0, 2 * LensRadius * (_path.Count > 1 ? 0.6 : 0.72));
        var cg = _frame.At(_path[^1].Place);
        return new((_frontY + _rearY) / 2, Height, middleY =>
        {
            double y = middleY - (Height / 2) + LensRadius;
            PlanFrame here = enlarged with { MiddleY = y };
            double away = Math.Sqrt(((x - cg.X) * (x - cg.X)) + ((y - cg.Y) * (y - cg.Y)));
            (double dx, double dy) = ((x - cg.X) / away, (y - cg.Y) / away);
            _canvas.Shape($"<path d=\"M{cg.X + (dx * 9):0.0} {cg.Y + (dy * 9):0.0}L{x - (dx * LensRadius):0.0} {y - (dy * LensRadius):0.0}\" stroke-width=\"0.7\"/>");
            _canvas.Shape($"<circle cx=\"{x:0.0}\" cy=\"{y:0.0}\" r=\"{LensRadius}\" fill=\"{_canvas.Ink.Paper}\" stroke-width=\"0.9\"/>");
            double centreLine = here.At((0, 0)).X;
            if (Math.Abs(centreLine - x) < LensRadius * 0.95)
            {
                double half = Math.Sqrt((LensRadius * LensRadius) - ((centreLine - x) * (centreLine - x)));
                _canvas.Shape($"<path d=\"M{centreLine:0.0} {y - half:0.0}V{y + half:0.0}\" stroke=\"{_canvas.Ink.Quiet}\" stroke-width=\"0.8\" stroke-dasharray=\"9 3 2 3\"/>");
            }

            foreach (CgPlace place in _path)
            {
                CgDrawing.Ellipse(_canvas, here, place, 1);
            }

            CgDrawing.Path(_canvas, here, _path, 2);
            var (lengthPx, text) = CgDrawing.Scale(here, LensRadius);
            CgDrawing.Bar(_canvas, x - LensRadius, y + LensRadius + 13, lengthPx);
            _canvas.Text(x - LensRadius + lengthPx + 5, y + LensRadius + 18, Anchor.Start, new Run(text, Small, Quiet: true));
        });
    }

    private double DrawBeneath()
    {
        CornerTotals totals = _result.Totals;
        double y = Bottom + 34;
        string[] total = totals.TotalKg is null ? [PlanViewSvg.NotKnown] : _figures.MassWithU(totals.TotalKg).Split(" +/- ");
        _canvas.Text(Middle, y, Anchor.Middle, 0, "total_kg", [
            new("total ", Plain, Quiet: true), new(total[0], 21, Bold: true), new(total.Length > 1 ? $" \u00B1 {total[1]}" : "", Plain, Quiet: true)]);
        y += 5;
        var lines = new List<(string? Figure, string Text)>();
        if (_figures.LargestU(_result.Loads.Select(load => load.LoadKg)) is { Length: > 0 } u)
        {
            lines.Add(("each_wheel_u", $"at the wheels {_figures.Unit.Symbol()}, each \u00B1 {u}; all \u00B1 are 95 %"));
        }

        lines.Add(totals.DiagonalDifferenceKg is { } diagonal ? ("diagonal_difference_kg", $"diagonals FR+RL minus FL+RR {Markup.Typeset(_figures.MassWithU(diagonal))}")
            : ((string?)null, totals.DiagonalApplies ? "the diagonals are not known" : "no diagonal: it needs four corners"));
        IReadOnlyList<string> cg = CgDrawing.Words(totals);
        if (cg.Count == 0)
        {
            lines.Add((null, "the centre of gravity is not known"));
        }
        else
        {
            lines.Add((null, _path.Count > 1 ? "centre of gravity as weighed; dashed: 95 %" : "centre of gravity (dashed: holds it with 95 %)"));
            lines.Add(("cg_behind_front_axle_mm", cg[0]));
            lines.Add(("cg_left_of_centre_mm", cg[1]));
        }

        if (_path.Count > 1)
        {
            lines.Add((null, "open circles: steps of the build; full: finished"));
        }

        if (_verdict is not null)
        {
            lines.AddRange(WeighingText.Wrapped(_verdict, 46).Select(line => ((string?)"verdict", line.Trim())));
        }

        foreach (var (figure, text) in lines)
        {
            y += 18;
            _canvas.Text(Middle, y, Anchor.Middle, 0, figure, new Run(text, Small));
        }

        return y + 10;
    }

    private void ShareText(double x, double y, Anchor anchor, double turn, string word, string figure, Measured? share)
    {
        string[] parts = Parts(share);
        Run[] runs = [new($"{word} ", Plain, Quiet: true), new(parts[0], Plain + 1, Bold: true), .. parts.Length > 1 ? [new($" \u00B1 {parts[1]}", Small, Quiet: true)] : Array.Empty<Run>()];
        _canvas.Text(x, y, anchor, turn, figure, runs);
    }

    private double RoomBeside(int number)
    {
        double x = _frame.At(_places[number]).X;
        return (IsLeft(_places[number]) ? x : Width - x) - _halfWidth - GapPx - EdgePx;
    }

    // The largest size at which a text surely fits.
    private static double Fitting(string text, double roomPx, double most) => Math.Clamp(roomPx / (Advance * text.Length), Least, most);

    // "47.16 %" and "0.05"; an exact one alone; words where it is not known.
    private static string[] Parts(Measured? share) => share is null ? [PlanViewSvg.NotKnown] : Figures.Share(share).Split(" +/- ");

    private static bool IsLeft((double BehindM, double LeftM) place) => place.LeftM > 0.001;
}
