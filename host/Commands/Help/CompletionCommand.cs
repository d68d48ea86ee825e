using System.CommandLine;
using Fourpatch.Files;

namespace Fourpatch.Commands.Help;

/// <summary><c>completion</c>: a script by which a shell completes what is typed. The script asks the program itself, so that it is never out of date.</summary>
internal sealed class CompletionCommand
{
    // The program is asked with the line up to the cursor, its own name left out. Of what it answers, the library's short ways to ask for help are
    // passed over. What it does not answer is a file's name: the shell's own business.
    private const string Bash = """
        # fourpatch: completion for bash
        _fourpatch() {
          local line=${COMP_LINE:0:COMP_POINT} word=${COMP_WORDS[COMP_CWORD]} begun found
          line=${line#"${COMP_WORDS[0]}"}
          line=${line# }
          begun=${word#[\"\']}
          [[ $begun == = ]] && begun=
          COMPREPLY=()
          while IFS= read -r found; do
            [[ -z $found || $found == /? || $found == '-?' || $found != "$begun"* ]] && continue
            if [[ $word == "$begun" || $word == = ]]; then printf -v found %q "$found"; fi
            COMPREPLY+=("$found")
          done < <(fourpatch "[suggest:${#line}]" "$line" 2>/dev/null)
        }
        complete -o default -F _fourpatch fourpatch
        """;

    private const string Zsh = """
        #compdef fourpatch
        # fourpatch: completion for zsh
        _fourpatch() {
          local line=${(j: :)words[2,CURRENT-1]}${words[CURRENT-1]:+ }${PREFIX}
          (( CURRENT == 2 )) && line=$PREFIX
          local -a found
          found=(${(f)"$(fourpatch "[suggest:${#line}]" "$line" 2>/dev/null)"})
          found=(${found:#(/?|-\?)})
          compset -P '--*='
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
            fourpatch "[suggest:$($line.Length)]" "$line" | Where-Object { $_ -and $_ -like "$word*" -and $_ -notlike '/?' -and $_ -ne '-?' } | ForEach-Object {
                $text = if ($_ -match '\s') { "'" + $_.Replace("'", "''") + "'" } else { $_ }
                [System.Management.Automation.CompletionResult]::new($text, $_, 'ParameterValue', $_)
            }
        }
        """;

    private const string Fish = """
        # fourpatch: completion for fish
        function __fourpatch_complete
            set -l line (string replace -r '^\S+\s?' '' -- (commandline -cp))
            set -l found (fourpatch "[suggest:"(string length -- "$line")"]" "$line" 2>/dev/null | string match -v -r '^(/.|-\?)?$')
            if test (count $found) -gt 0
                printf '%s\n' $found
            else
                __fish_complete_path (commandline -ct)
            end
        end
        complete -c fourpatch -f -a '(__fourpatch_complete)'
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

    /// <summary>
    /// What a shell asked, in a form the library answers: <c>--unit=l</c> as two words, of an open quote the first word. The line ends at the cursor.
    /// Anything else stays as it is.
    /// </summary>
    public static IReadOnlyList<string> Asked(IReadOnlyList<string> args)
    {
        if (args is not [var directive, var line] || !directive.StartsWith("[suggest:", StringComparison.Ordinal))
        {
            return args;
        }

        int open = -1;
        for (int at = 0; at < line.Length; at++)
        {
            open = open < 0 ? line[at] is '"' or '\'' ? at : -1 : line[at] == line[open] ? -1 : open;
        }

        if (open >= 0)
        {
            line = line[..open] + line[(open + 1)..].Split(' ')[0];
        }

        int word = line.LastIndexOf(' ') + 1, equals = line.IndexOf('=', word);
        if (equals > 0 && line.AsSpan(word).StartsWith("--"))
        {
            line = $"{line[..equals]} {line[(equals + 1)..]}";
        }

        return [FormattableString.Invariant($"[suggest:{line.Length}]"), line];
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
