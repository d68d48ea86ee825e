using System.CommandLine;
using Fourpatch.Files;

namespace Fourpatch.Commands.Help;

/// <summary><c>completion</c>: a script by which a shell completes what is typed. The script asks the program itself, so that it is never out of date.</summary>
internal sealed class CompletionCommand
{
    // The program is asked with the line up to the cursor, its own name left out.
    private const string Bash = """
        # fourpatch: completion for bash
        _fourpatch() {
          local line=${COMP_LINE:0:COMP_POINT}
          line=${line#"${COMP_WORDS[0]}"}
          line=${line# }
          local IFS=$'\n'
          COMPREPLY=($(compgen -W "$(fourpatch "[suggest:${#line}]" "$line" 2>/dev/null)" -- "${COMP_WORDS[COMP_CWORD]}"))
        }
        complete -o default -F _fourpatch fourpatch
        """;

    private const string Zsh = """
        #compdef fourpatch
        # fourpatch: completion for zsh
        _fourpatch() {
          local line=${LBUFFER#${words[1]}}
          line=${line# }
          local -a found
          found=(${(f)"$(fourpatch "[suggest:${#line}]" "$line" 2>/dev/null)"})
          if (( ${#found} )); then compadd -- $found; else _files; fi
        }
        compdef _fourpatch fourpatch
        """;

    private const string Pwsh = """
        # fourpatch: completion for PowerShell
        Register-ArgumentCompleter -Native -CommandName fourpatch -ScriptBlock {
            param($word, $ast, $cursor)
            $line = $ast.ToString().PadRight($cursor).Substring(0, $cursor)
            $skip = $ast.CommandElements[0].ToString().Length + 1
            $line = $line.Substring([Math]::Min($line.Length, $skip))
            fourpatch "[suggest:$($line.Length)]" "$line" | Where-Object { $_ -like "$word*" } | ForEach-Object {
                [System.Management.Automation.CompletionResult]::new($_, $_, 'ParameterValue', $_)
            }
        }
        """;

    private const string Fish = """
        # fourpatch: completion for fish
        function __fourpatch_complete
            set -l line (string replace -r '^\S+\s?' '' -- (commandline -cp))
            fourpatch "[suggest:"(string length -- "$line")"]" "$line" 2>/dev/null
        end
        complete -c fourpatch -a '(__fourpatch_complete)'
        """;

    private readonly Argument<string> _shell = new("shell") { Description = "bash, zsh, pwsh or fish", HelpName = "SHELL" };
    private readonly CommandContext _context;

    private CompletionCommand(CommandContext context) => _context = context;

    /// <summary>The shells there are scripts for.</summary>
    public static IReadOnlyDictionary<string, string> Scripts { get; } = new Dictionary<string, string> { ["bash"] = Bash, ["zsh"] = Zsh, ["pwsh"] = Pwsh, ["fish"] = Fish };

    public static Command Build(CommandContext context)
    {
        var completion = new CompletionCommand(context);
        completion._shell.CompletionSources.Add([.. Scripts.Keys]);
        var command = new Command("completion", """
            Print a script by which your shell completes commands and options. fourpatch must be in the PATH.
            bash: fourpatch completion bash >> ~/.bashrc
            zsh: fourpatch completion zsh >> ~/.zshrc, below the line with compinit
            pwsh: fourpatch completion pwsh >> $PROFILE
            fish: fourpatch completion fish > ~/.config/fish/completions/fourpatch.fish
            """) { completion._shell };
        command.SetAction(completion.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        string shell = parsed.GetValue(_shell) ?? "";
        if (!Scripts.TryGetValue(shell, out string? script))
        {
            throw new RefusalException(new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(shell)}", "bash, zsh, pwsh or fish", "choose one of the four") { Field = "completion" });
        }

        // Line ends as shells read them, on Windows, too.
        _context.Terminal.Out.Write(script.ReplaceLineEndings("\n") + "\n");
        return ExitCodes.Good;
    }
}
