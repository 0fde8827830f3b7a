"""The command line: `ask` for one answer, no words for the bench, and the small commands around them.

Only the command typed is imported (`_command`, the start-up seam): a one-shot question costs little more than
its libraries.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from types import MappingProxyType
from typing import cast

from gardenmate.cli.parser import make_parser
from gardenmate.core.errors import GardenmateError
from gardenmate.core.text import harmless

EXIT_CLOSED_PIPE = 0  # exit code: the reader had enough
EXIT_INTERRUPTED = 130  # exit code of shells for Ctrl-C: 128 and the number of the signal
EXIT_NOT_WRITTEN = 1  # exit code; README lists them
RUNS = MappingProxyType(
    {
        None: "bench:run",
        "ask": "cli.ask:run",
        "calendar": "cli.calendar:run",
        "sheet": "cli.sheet:run",
        "agenda": "cli.agenda:run",
        "plantings": "cli.plantings:run",
        "log": "cli.log:run",
        "backup": "cli.backup:run_backup",
        "restore": "cli.backup:run_restore",
        "import-weather": "cli.weather:run",
        "help": "cli.help:run",
        "demo": "cli.demo:run",
        "completion": "cli.completion:run",
    }
)
"""Command (None: no word, the bench) -> the function that runs it and returns the exit code."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code (see gardenmate.core.errors for the codes)."""
    words = list(sys.argv[1:] if argv is None else argv)
    _open_what_is_closed()
    collects = gc.isenabled()
    gc.disable()  # what one answer loads stays to its end; whatever runs longer collects
    try:
        options = make_parser(words).parse_args(words)
        run = _command(options.command)
        if options.command != "ask":
            gc.enable()
        code = run(options)
        sys.stdout.flush()
        return code
    except GardenmateError as error:
        print(f"gardenmate: {_one_line(error)}", file=sys.stderr)
        return error.exit_code
    except BrokenPipeError:
        # The reader went away (`| head`): nothing more to say, and no traceback when Python flushes.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return EXIT_CLOSED_PIPE
    except KeyboardInterrupt:
        return EXIT_INTERRUPTED
    except OSError as error:
        # Faults of files are told where they are met; what is left is the output itself (a full disk).
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        print(f"gardenmate: the answer cannot be written: {error.strerror or error}.", file=sys.stderr)
        return EXIT_NOT_WRITTEN
    finally:
        if collects:
            gc.enable()


def _open_what_is_closed() -> None:
    """A standard stream closed by the caller becomes an empty one: nothing to read, nobody to tell."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115 (lives as long as the process)


def _command(name: str | None) -> Callable[[argparse.Namespace], int]:
    """The function that runs a command; its file is imported now, and no other command's."""
    module, _, function = RUNS[name].partition(":")
    return cast(Callable[[argparse.Namespace], int], getattr(import_module(f"gardenmate.{module}"), function))


def _one_line(error: Exception) -> str:
    return harmless(" ".join(str(error).split()))
