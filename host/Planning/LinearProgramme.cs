using Google.OrTools.LinearSolver;

namespace Fourpatch.Planning;

/// <summary>
/// A linear programme to be minimised, solved by GLOP (the simplex solver of Google OR-Tools). Everything that is asked of the library stands here.
/// </summary>
internal sealed class LinearProgramme : IDisposable
{
    private readonly Solver _solver = Solver.CreateSolver("GLOP") ?? throw new InvalidOperationException("The linear solver is not there.");
    private readonly Objective _objective;

    public LinearProgramme()
    {
        _objective = _solver.Objective();
        _objective.SetMinimization();
    }

    /// <summary>A variable with its bounds (which may be infinite) and its cost.</summary>
    public Variable Add(string name, double lowest, double highest, double cost = 0)
    {
        var variable = _solver.MakeNumVar(lowest, highest, name);
        _objective.SetCoefficient(variable, cost);
        return variable;
    }

    /// <summary>A row: the weighted sum lies between two bounds, which may be infinite or the same.</summary>
    public Constraint Require(string name, double lowest, double highest, params ReadOnlySpan<(Variable Variable, double Factor)> terms)
    {
        var row = _solver.MakeConstraint(lowest, highest, name);
        foreach (var (variable, factor) in terms) row.SetCoefficient(variable, row.GetCoefficient(variable) + factor);
        return row;
    }

    /// <summary>Solves; false when nothing satisfies all rows.</summary>
    /// <exception cref="InvalidOperationException">The solver gave up, which a bounded programme of this size gives it no reason to.</exception>
    public bool TrySolve() => _solver.Solve() switch
    {
        Solver.ResultStatus.OPTIMAL => true,
        Solver.ResultStatus.INFEASIBLE => false,
        var status => throw new InvalidOperationException($"The linear solver ended with {status}."),
    };

    public void Dispose() => _solver.Dispose();
}
