"""Words of an error that may be shown to others: those of the program, none of its user.

A message may hold anything: a title, a path, a line of notes. So what is kept of it are the words
that stand in the code it came through, those of Python's own messages, and short numbers; the
rest becomes "…". Paths are cut to the part that lies inside a package.
"""

from __future__ import annotations

import builtins
import keyword
import re
import sysconfig
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from types import CodeType
from typing import Final

import chalkfret

LEFT_OUT: Final = "…"
ELSEWHERE: Final = "(elsewhere)"
_DIGITS_MOST: Final = 4  # of a number that is kept: a longer one could be a telephone's

# What Python and PySide write themselves into the messages of their exceptions.
_PLAIN_WORDS: Final = """
a an and any are argument arguments as assignment at attempt attribute be before between but by
call called calling can cannot char closed concatenate contain contains context converted could
current deleted dict dictionary divide division does empty error Error exceeded expected failed
file float for found from function given got greater has have import in incompatible index
instance int integer internal invalid is it item items iterable iterate join key keyword less list
local loop main many mapping matching maximum method missing modulo more most multiple must name
named near needs no not null number object Object objects of on one only open operand operator or
order out override overflow pair parameter pop position positional possible provided Python range
read recursion reference referenced required requires resized returned returning reversible
running s same sequence set should signature signatures size slot slots stack started string str
subscriptable support supported supports take takes than that the thread to too tuple
type types unexpected unhashable unknown unpack unsupported value values variable was where
while with without wrong write zero
"""

_PIECE: Final = re.compile(r"[^\W\d]\w*|\d+|\s+|.", re.DOTALL)
_BUILT_IN: Final = frozenset([*_PLAIN_WORDS.split(), *dir(builtins), *keyword.kwlist])


def masked(message: str, codes: Iterable[CodeType]) -> str:
    """What may be shown of an exception's message that came through this code."""
    known = _BUILT_IN.union(*(_words_of(code) for code in codes))
    shown = "".join(_shown(piece, known) for piece in _PIECE.findall(message))
    return re.sub(rf"{LEFT_OUT}([\W_]*{LEFT_OUT})+", LEFT_OUT, shown).strip()


def _shown(piece: str, known: frozenset[str]) -> str:
    if piece.isspace():
        return " "
    if piece.isidentifier():
        keep = piece in known
    else:
        keep = piece.isascii() and not (piece.isdigit() and len(piece) > _DIGITS_MOST)
    return piece if keep else LEFT_OUT


@cache
def _words_of(code: CodeType) -> frozenset[str]:
    """The names and the words of texts that stand in a piece of code."""
    words = {*code.co_names, *code.co_varnames, *code.co_freevars, *code.co_cellvars, code.co_name}
    for text in _texts_of(code.co_consts):
        words.update(piece for piece in _PIECE.findall(text) if piece.isidentifier())
    return frozenset(words)


def _texts_of(constants: Iterable[object]) -> Iterator[str]:
    for constant in constants:
        if isinstance(constant, str):
            yield constant
        elif isinstance(constant, tuple | frozenset):
            yield from _texts_of(constant)


def cut_path(path: str) -> str:
    """A source file as one finds it in the package it belongs to: ``chalkfret/desk/app.py``."""
    if path.startswith("<frozen "):
        return path
    for root, shown in _roots():
        if Path(path).is_relative_to(root):
            return f"{shown}{Path(path).relative_to(root).as_posix()}"
    return ELSEWHERE


@cache
def _roots() -> tuple[tuple[Path, str], ...]:
    """Where code lies that is not the user's own, the innermost first."""
    places = sysconfig.get_paths()
    roots = [(Path(chalkfret.__file__).parent, "chalkfret/")]
    roots += [(Path(places[name]), "") for name in ("purelib", "platlib")]
    roots += [(Path(places["stdlib"]), "python/")]
    return tuple(roots)
