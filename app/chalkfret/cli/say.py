"""How the command line says things: results on stdout, complaints on stderr."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from typing import Any, Final

import msgspec

from chalkfret.model import Fault

GOOD: Final = 0
FAULTY: Final = 1  # a lesson has faults
SYSTEM: Final = 2  # usage, files, system


def say(text: str) -> None:
    """A line of what was asked for."""
    print(text)


def say_json(value: Any) -> None:
    """A value as JSON."""
    import json

    plain = msgspec.to_builtins(value)
    print(json.dumps(plain, indent=2, ensure_ascii=False))


def complain(text: str) -> None:
    """A line about what went wrong."""
    print(text, file=sys.stderr)


def sentences(faults: Iterable[Fault]) -> list[str]:
    """The faults as sentences."""
    from chalkfret.words.sentences import sentence

    return [sentence(fault) for fault in faults]


def plain_faults(faults: Iterable[Fault]) -> list[dict[str, Any]]:
    """The faults for a program: code, sentence, place and figures."""
    from chalkfret.words.sentences import sentence

    return [
        {
            "code": fault.code,
            "sentence": sentence(fault),
            "where": msgspec.structs.asdict(fault.where),
            "figures": dict(fault.figures),
        }
        for fault in faults
    ]
