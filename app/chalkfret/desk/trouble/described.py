"""An exception as lines that may be shown to others: kinds, places in the program, masked words."""

from __future__ import annotations

import errno
import linecache
from collections.abc import Iterator
from traceback import walk_tb
from types import CodeType, FrameType
from typing import Final

from chalkfret.desk.trouble.masked import ELSEWHERE, cut_path, masked

_FRAMES_MOST: Final = 40  # of one exception; of a deeper one the first and the last are shown
_CHAIN_MOST: Final = 8

Place = tuple[str, ...]
"""What two equal errors have in common: kind, and where in the program."""


def place_of(error: BaseException) -> Place:
    """The kind of an exception and the last lines it came through, for telling equal ones."""
    steps = [f"{frame.f_code.co_filename}:{line}" for frame, line in walk_tb(error.__traceback__)]
    return (type(error).__qualname__, *steps[-4:])


def described(error: BaseException) -> str:
    """The exception, with those that led to it, the first one first."""
    return "\n\n".join("\n".join(_lines(one)) for one in reversed(list(_chain(error))))


def _chain(error: BaseException) -> Iterator[BaseException]:
    seen: list[BaseException] = []
    one: BaseException | None = error
    while one is not None and one not in seen and len(seen) < _CHAIN_MOST:
        seen.append(one)
        yield one
        one = one.__cause__ or (None if one.__suppress_context__ else one.__context__)


def _lines(error: BaseException) -> Iterator[str]:
    steps = [(frame, line) for frame, line in walk_tb(error.__traceback__)]
    words = _message(error, [frame.f_code for frame, _line in steps])
    kind = type(error).__qualname__
    yield f"{kind}: {words}" if words else kind
    half = _FRAMES_MOST // 2
    for at, (frame, line) in enumerate(steps):
        if half <= at < len(steps) - half:
            if at == half:
                yield f"  ... {len(steps) - 2 * half} more ..."
            continue
        yield from _step(frame, line)
    # What a process of our own described before it ended.
    inside = getattr(error, "inside", "")
    if inside:
        yield "  in the other process:"
        yield from (f"  {line}" for line in inside.splitlines())


def _message(error: BaseException, codes: list[CodeType]) -> str:
    if isinstance(error, OSError):  # its words are a file's name and the system's language
        return errno.errorcode.get(error.errno or 0, "")
    try:
        return masked(str(error), codes)
    except Exception:  # the message of a broken exception is not worth a second error
        return ""


def _step(frame: FrameType, line: int) -> Iterator[str]:
    code = frame.f_code
    place = cut_path(code.co_filename)
    yield f"  {place}, line {line}, in {code.co_qualname}"
    source = "" if place == ELSEWHERE else linecache.getline(code.co_filename, line).strip()
    if source:
        yield f"    {source}"
