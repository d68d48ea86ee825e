using System.CommandLine;
using System.CommandLine.Completions;
using System.CommandLine.Help;
using Fourpatch.Commands.Boards;
using Fourpatch.Commands.Help;
using Fourpatch.Commands.Keeping;
using Fourpatch.Commands.Live;
using Fourpatch.Commands.Logging;
using Fourpatch.Commands.Measuring;
using Fourpatch.Commands.PlanningBuild;
using Fourpatch.Commands.WeighingCar;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;

namespace Fourpatch.Commands;

/// <summary>The whole program as one function: a command line, a person, a clock, ports and a folder in; an exit code out.</summary>
public static class Cli
{
    private const string DataOption = "--data";

    /// <summary>Runs one command line.</summary>
    /// <param name="args">Without the program's name.</param>
    /// <param name="context">The outside world.</param>
    /// <param name="cancel">Ctrl-C.</param>
    /// <returns>See <see cref="ExitCodes"/>.</returns>
    public static async Task<int> RunAsync(IReadOnlyList<string> args, CommandContext context, CancellationToken cancel)
    {
        ParseResult parsed = Parse(args, context);
        bool wantsJson = args.Contains("--json");
        try
        {
            if (parsed.Errors.Count > 0)
            {
                throw new RefusalException(CommandLineErrors.Of(parsed));
            }

            if (parsed.GetValue<string?>(DataOption) is { } typed)
            {
                // The commands are built around their outside world, so once more with the other folder.
                string folder = typed.Length > 0 ? typed : throw new RefusalException(new InputError(ErrorCode.Missing, "no folder was named", "--data DIR", "name one") { Field = DataOption });
                parsed = Parse(args, context with { DataFolder = context.Files.Resolve(folder) });
            }

            // Ctrl-C comes in by the token alone: a second handler would end a command before it has put its things in order.
            var configuration = new InvocationConfiguration
            {
                Output = context.Terminal.Out, Error = context.Terminal.ErrorOut, EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = null,
            };
            return await parsed.InvokeAsync(configuration, cancel).ConfigureAwait(false);
        }
        catch (RefusalException refusal)
        {
            return Refuse(context.Terminal, refusal.Error, refusal.ExitCode, wantsJson);
        }
        catch (RigMismatchException mismatch)
        {
            InputError error = mismatch.IsMissingLayout
                ? new InputError(ErrorCode.Missing, mismatch.Message, "", "a layout is a few lines, see README") { Field = "--layout" }
                : new InputError(ErrorCode.RigUnreachable, mismatch.Message, "", "see 'fourpatch ports'");
            return Refuse(context.Terminal, error, mismatch.IsMissingLayout ? ExitCodes.BadInput : ExitCodes.RigUnreachable, wantsJson);
        }
        catch (LinkUnavailableException unavailable)
        {
            string remedy = unavailable.IsTaken ? "end that program, or look at its page or log instead; 'fourpatch ports' lists what is there" : "check plug, cable and --port; 'fourpatch ports' lists what is there";
            return Refuse(context.Terminal, new InputError(ErrorCode.RigUnreachable, unavailable.Message.TrimEnd('.'), "", remedy), ExitCodes.RigUnreachable, wantsJson);
        }
        catch (LeftDialogueException)
        {
            context.Terminal.Complain("left; nothing more was stored");
            return ExitCodes.NotAcceptable;
        }
        catch (Calibrating.NotStoredException notStored)
        {
            context.Terminal.Complain(notStored.Message);
            return ExitCodes.NotAcceptable;
        }
        catch (OperationCanceledException)
        {
            context.Terminal.Complain("stopped");
            return ExitCodes.NotAcceptable;
        }
        catch (IOException cannotWrite)
        {
            return Refuse(context.Terminal, new InputError(ErrorCode.CannotWrite, $"the answer cannot be written: {cannotWrite.Message.TrimEnd('.')}", "", "free some space, or send it elsewhere"), ExitCodes.BadInput, false);
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            // Whatever the program itself got wrong: still one line, never a stack trace.
            string what = $"a fault of this program: {fault.GetType().Name}: {fault.Message}";
            return Refuse(context.Terminal, new InputError(ErrorCode.Internal, what, "", "please report it with the command line you used"), ExitCodes.BadInput, wantsJson);
        }
    }

    // A value that begins with @ is a value: nothing is read from files behind a person's back.
    private static ParseResult Parse(IReadOnlyList<string> args, CommandContext context) =>
        BuildRoot(context).Parse(args.Count == 0 ? ["--help"] : CompletionCommand.Asked(args), new ParserConfiguration { ResponseFileTokenReplacer = null });

    /// <summary>Every command, as help and its tests look at them.</summary>
    internal static RootCommand BuildRoot(CommandContext context)
    {
        RootCommand root = BuildOwn(context);
        foreach (Func<CommandContext, Command> build in context.More)
        {
            root.Add(build(context));
        }

        KeptNames.CompleteIn(root, context);
        root.Directives.OfType<SuggestDirective>().Single().Action = new SuggestAction(context);
        root.Options.OfType<HelpOption>().Single().Action = new HelpPageAction(context);
        return root;
    }

    private static RootCommand BuildOwn(CommandContext context) => new("What each wheel of a car carries, and what follows from it.")
    {
        GuideCommand.Build(context),
        HelpCommand.Build(context),
        CompletionCommand.Build(context),
        WeighCommand.Build(context),
        WatchCommand.Build(context),
        LogCommand.Build(context),
        Calibration.CalCommand.Build(context),
        RecordsCommand.Build(context),
        ReportCommand.Build(context),
        JobCommand.Build(context),
        BringupCommand.Build(context),
        CheckCommand.Build(context),
        ZeroCommand.Build(context),
        NameCommand.Build(context),
        PartCommand.Build(context),
        PlanCommand.Build(context),
        PlaceCommand.Build(context),
        PerchCommand.Build(context),
        LeverCommand.Build(context),
        FloorCommand.Build(context),
        CgHeightCommand.Build(context),
        ChooseCommand.Build(context),
        ExplainCommand.Build(context),
        PortsCommand.Build(context),
        SimulateCommand.Build(context),
        Interviews.VehicleNewCommand.Build(context),
        Interviews.RigNewCommand.Build(context),
        Interviews.PartsNewCommand.Build(context),
        Demo.DemoCommand.Build(context),
        Opts.Data(),
    };

    private static int Refuse(ITerminal terminal, InputError error, int exitCode, bool wantsJson)
    {
        try
        {
            if (wantsJson)
            {
                terminal.Out.WriteLine(JsonAnswer.Error(error).ToText().TrimEnd());
                terminal.Out.Flush();
            }
        }
        catch (IOException)
        {
            // Whoever reads the answers cannot be told; a person still can.
        }

        try
        {
            terminal.Complain(error.OneLine);
        }
        catch (IOException)
        {
            // Nobody can be told: the exit code says it.
        }

        return exitCode;
    }
}
