"""From the words on the command line to an exit code, whatever happens on the way."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from chalkfret.cli.arguments import read
from chalkfret.cli.say import GOOD, SYSTEM, complain
from chalkfret.system import library_fault
from chalkfret.words.text import _

INTERRUPTED = 130  # what shells expect of a program that Ctrl-C ended


def main(arguments: Sequence[str] | None = None) -> int:
    """Do what the command line asks; the exit code."""
    words = sys.argv[1:] if arguments is None else arguments
    _make_every_text_printable()
    try:
        options = read(words)
        code: int = options if isinstance(options, int) else options.run(options)
        if sys.stdout is not None:  # a caller may have closed it
            sys.stdout.flush()
    except BrokenPipeError:
        _drop_what_is_left()
        return GOOD
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:
        if "--debug" in words:
            raise
        # Files have their own faults, and any other trouble with one names it: this is the output.
        if isinstance(error, OSError) and error.filename is None:
            complain(_("The answer could not be printed: {reason}.").format(reason=error.strerror))
            _drop_what_is_left()
            return SYSTEM
        if isinstance(error, ImportError) and (lacking := library_fault(error)):
            complain(lacking)
            return SYSTEM
        complain(
            _(
                "Something unforeseen went wrong ({error}). Nothing was left half-written. "
                "Run the same command with --debug to see where, and report it."
            ).format(error=f"{type(error).__name__}: {error}")
        )
        return SYSTEM
    return code


def _make_every_text_printable() -> None:
    """No sign of music and no odd file name may end a command on a terminal that lacks it."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def _drop_what_is_left() -> None:
    """Nobody takes the rest of the output; Python would try once more at exit, and complain."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
