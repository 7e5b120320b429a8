"""From the words on the command line to an exit code, whatever happens on the way."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from chalkfret.cli.arguments import read
from chalkfret.cli.say import SYSTEM, complain

INTERRUPTED = 130  # what shells expect of a program that Ctrl-C ended


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks; the exit code."""
    _make_every_text_printable()
    options = read(sys.argv[1:] if arguments is None else arguments)
    if isinstance(options, int):
        return options
    try:
        code: int = options.run(options)
        sys.stdout.flush()
    except BrokenPipeError:
        _leave_the_pipe()
        return 0
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        if options.debug:
            raise
        complain(
            f"Something unforeseen went wrong ({type(error).__name__}: {error}). Nothing was left "
            "half-written. Run the same command with --debug to see where, and report it."
        )
        return SYSTEM
    return code


def _make_every_text_printable() -> None:
    """No sign of music and no odd file name may end a command on a terminal that lacks it."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def _leave_the_pipe() -> None:
    """The reader has gone, which is its right; Python would complain once more at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
