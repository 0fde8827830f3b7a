"""`gardenmate completion bash|zsh|fish`: a script that completes commands, options, crops, places and demos.

The scripts hold the words themselves, read from the argument parser and the facts when they are written: no
program runs while the user types.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence

from gardenmate.bench.names import place_names
from gardenmate.bench.transcripts import transcripts
from gardenmate.cli.parser import make_parser
from gardenmate.knowledge.facts import Facts
from gardenmate.records import dataclass

LONG = 10  # values; more of an option are not listed in the help of a shell; design value


@dataclass(frozen=True, slots=True)
class Option:
    """An option of a command: its flag, what it means, and how its value is completed.

    ``values``: the choices, () when any text will do, None when it takes no value. ``file``: a file name.
    """

    flag: str
    says: str
    values: tuple[str, ...] | None = None
    file: bool = False


@dataclass(frozen=True, slots=True)
class ShellCommand:
    """A command ("" for none): what it means, its options, and the words it takes."""

    name: str
    says: str
    options: tuple[Option, ...]
    words: tuple[str, ...] = ()
    file: bool = False


def run(options: argparse.Namespace) -> int:
    """Print the script for the shell named."""
    print(script(options.shell, commands_of(make_parser(), Facts())))
    return 0


def script(shell: str, commands: Sequence[ShellCommand]) -> str:
    """The completion script of one shell. Raises KeyError for a shell that is not bash, zsh or fish."""
    return SHELLS[shell](commands)


def commands_of(parser: argparse.ArgumentParser, facts: Facts) -> list[ShellCommand]:
    """Every command of the parser, the bare one first, with the values their options take."""
    known = {
        "--crop": facts.crop_ids,
        "--place": tuple(name.text for name in place_names(facts)),
        "name": tuple(path.stem for path in transcripts()),
    }
    commands = [_command("", "", parser, known)]
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            says = {choice.dest: choice.help or "" for choice in action._choices_actions}
            commands += [_command(n, says.get(n, ""), p, known) for n, p in action.choices.items()]
    return commands


def _command(
    name: str, says: str, parser: argparse.ArgumentParser, known: dict[str, tuple[str, ...]]
) -> ShellCommand:
    options: list[Option] = []
    words: tuple[str, ...] = ()
    file = False
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            words = tuple(action.choices)
        elif not action.option_strings:
            words = tuple(action.choices or known.get(action.dest, ()))
            file = action.metavar == "FILE"
        else:
            flag = action.option_strings[-1]
            values = None if action.nargs == 0 else tuple(action.choices or known.get(flag, ()))
            options.append(Option(flag, action.help or "", values, action.metavar == "FILE"))
    return ShellCommand(name, says, tuple(options), words, file)


def _long_lists(commands: Sequence[ShellCommand]) -> dict[str, tuple[str, ...]]:
    """Long lists of values, by the name of the shell function that tells them."""
    options = [o for c in commands for o in c.options]
    return {_list_name(o): o.values for o in options if o.values and len(o.values) > LONG}


def _list_name(option: Option) -> str:
    return f"_gardenmate_list_{option.flag.strip('-').replace('-', '_')}"


def _quoted(text: str) -> str:
    """The text as one word of a POSIX shell."""
    return "'" + text.replace("'", "'\\''") + "'"


def _fish_quoted(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


# -- bash ------------------------------------------------------------------------------------------------
_BASH = """\
# bash completion for gardenmate: source this file, or put it where bash-completion looks.
_gardenmate() {{
    local IFS=$'\\n' cur=${{COMP_WORDS[COMP_CWORD]//\\\\/}}
    local prev=${{COMP_WORDS[COMP_CWORD-1]}} cmd= word words=
    for word in "${{COMP_WORDS[@]:1:COMP_CWORD-1}}"; do
        case $word in {names}) cmd=$word; break;; esac
    done
    COMPREPLY=()
    case $cmd,$prev in
{values}
    esac
    if [[ -z $words ]]; then
        case $cmd in
{words}
        esac
    fi
    local one
    for one in $words; do
        [[ $one == "$cur"* ]] && COMPREPLY+=("$(printf %q "$one")")
    done
}}
complete -F _gardenmate gardenmate"""


def _bash(commands: Sequence[ShellCommand]) -> str:
    values: dict[tuple[str, ...], list[str]] = {}
    files: list[str] = []
    for command in commands:
        for option in command.options:
            case = f"{command.name},{option.flag}"
            if option.file:
                files.append(case)
            elif option.values is not None:
                values.setdefault(option.values, []).append(case)
    lines = [f'        {"|".join(files)}) COMPREPLY=($(compgen -f -- "$cur")); return;;'] if files else []
    for choices, cases in values.items():
        told = f"words={_quoted(chr(10).join(choices))}" if choices else "return"
        lines.append(f"        {'|'.join(cases)}) {told};;")
    rows = []
    for command in commands:
        flags = [o.flag for o in command.options]
        if command.file:
            rows.append(f'        {command.name}) [[ $cur == -* ]] || COMPREPLY=($(compgen -f -- "$cur"))')
            rows.append(f"            words={_quoted(chr(10).join(flags))};;")
        else:
            words = _quoted(chr(10).join([*command.words, *flags]))
            rows.append(f"        {command.name or chr(39) * 2}) words={words};;")
    names = "|".join(c.name for c in commands if c.name)
    return _BASH.format(names=names, values="\n".join(lines), words="\n".join(rows))


# -- zsh -------------------------------------------------------------------------------------------------
def _zsh(commands: Sequence[ShellCommand]) -> str:
    lines = [
        "#compdef gardenmate",
        "# zsh completion for gardenmate: save it as _gardenmate on your fpath.",
        "",
    ]
    for name, values in _long_lists(commands).items():
        lines += [f"{name}() {{", "    local -a found=("]
        lines += [f"        {_quoted(value)}" for value in values]
        lines += ["    )", "    compadd -a found", "}", ""]
    for command in commands:
        lines += [f"_gardenmate_{command.name.replace('-', '_') or 'bench'}() {{", "    _arguments -s \\"]
        lines += [f"        {_quoted(_zsh_option(option))} \\" for option in command.options]
        if command.name == "":
            lines += ["        '1:command:->command' \\", "        '*::words:->words'"]
        elif command.file:
            lines.append("        '*:file:_files'")
        elif command.words:
            lines.append(f"        {_quoted('1:name:(' + ' '.join(command.words) + ')')}")
        else:
            lines.append("        '*:words: '")
        if command.name == "":
            lines += _zsh_dispatch(commands)
        lines += ["}", ""]
    return "\n".join([*lines, '_gardenmate_bench "$@"'])


def _zsh_option(option: Option) -> str:
    says = option.says.replace("[", "(").replace("]", ")").replace(":", ";")
    spec = f"{option.flag}[{says}]"
    if option.values is None:
        return spec
    if option.file:
        return f"{spec}:file:_files"
    if len(option.values) > LONG:
        return f"{spec}:{option.flag.strip('-')}:{_list_name(option)}"
    escaped = (value.replace("\\", "\\\\").replace(" ", "\\ ") for value in option.values)
    return f"{spec}:{option.flag.strip('-')}:({' '.join(escaped)})"


def _zsh_dispatch(commands: Sequence[ShellCommand]) -> list[str]:
    described = [_quoted(f"{c.name}:{c.says}") for c in commands if c.name]
    cases = [f"            {c.name}) _gardenmate_{c.name.replace('-', '_')};;" for c in commands if c.name]
    return [
        "    local -a commands=(", *(f"        {d}" for d in described), "    )",
        "    case $state in",
        "        command) _describe command commands;;",
        "        words) case $words[1] in", *cases, "        esac;;",
        "    esac",
    ]  # fmt: skip


# -- fish ------------------------------------------------------------------------------------------------
def _fish(commands: Sequence[ShellCommand]) -> str:
    names = " ".join(c.name for c in commands if c.name)
    lines = [
        "# fish completion for gardenmate: save it as gardenmate.fish in ~/.config/fish/completions.",
        "complete -c gardenmate -f",
    ]
    for name, values in _long_lists(commands).items():
        told = " ".join(_fish_quoted(value) for value in values)
        lines += [f"function {name}", f"    printf '%s\\n' {told}", "end"]
    for command in commands:
        when = f"__fish_seen_subcommand_from {command.name}" if command.name else "__fish_use_subcommand"
        start = f"complete -c gardenmate -n {_fish_quoted(when)}"
        if command.name:
            lines.append(
                f"complete -c gardenmate -n {_fish_quoted(f'not __fish_seen_subcommand_from {names}')} "
                f"-a {command.name} -d {_fish_quoted(command.says)}"
            )
            lines += [f"{start} -a {_fish_quoted(' '.join(command.words))}"] if command.words else []
            lines += [f"{start} -F"] if command.file else []
        lines += [f"{start} {_fish_option(option)}" for option in command.options]
    return "\n".join(lines)


def _fish_option(option: Option) -> str:
    name = f"-l {option.flag[2:]}" if option.flag.startswith("--") else f"-s {option.flag[1:]}"
    if option.values is None:
        takes = ""
    elif option.file:
        takes = " -r -F"
    elif len(option.values) > LONG:
        takes = f" -x -a {_fish_quoted(f'({_list_name(option)})')}"
    else:
        takes = f" -x -a {_fish_quoted(' '.join(_fish_quoted(v) for v in option.values))}"
    return f"{name}{takes} -d {_fish_quoted(option.says)}"


SHELLS: dict[str, Callable[[Sequence[ShellCommand]], str]] = {"bash": _bash, "zsh": _zsh, "fish": _fish}
