"""Which press of which keyboard gives a key sequence, and which cannot be given at all.

Conventions: a physical key is its X11 keycode, or its name where every keyboard has it (F5, Left);
a press is that key with the modifiers held. A sequence is a portable one of a single press
("Ctrl+Shift+K"). Qt finds it by a press of the sign below Shift with all modifiers, or by Shift and
the sign above it, without counting the Shift (possibleKeys of its keyboard mappers). Digits with
Ctrl or Alt are found by their place (``digit_row``), so that they need no Shift on a French one.

The tables are those of xkeyboard-config 2.35.1 (X.Org, 2022), symbols/us, de, es and fr, variant
"basic" each, first three levels; Windows and macOS differ in single signs behind AltGr only
(from memory).

No Qt here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final, NamedTuple

from chalkfret.words.text import N_

DEAD: Final = "◌"
"""Stands for a key that waits for the next letter to put an accent on."""

SHIFT, CTRL, ALT = "Shift", "Ctrl", "Alt"

# The rows of keys, left to right: the digits, the letters under them, the key left of 1, the one
# left of (or above) Enter, and the one beside the left Shift.
_CODES: Final = (*range(10, 22), *range(24, 36), *range(38, 49), *range(52, 62), 49, 51, 94)
DIGIT_CODES: Final = dict(zip("1234567890", range(10, 20), strict=True))


class Press(NamedTuple):
    """A physical key and what is held with it."""

    code: int | str
    held: frozenset[str]


@dataclass(frozen=True)
class Layout:
    """The signs of each physical key in the order of ``_CODES``: alone, with Shift, with AltGr."""

    name: str
    alone: str
    shifted: str
    third: str

    @cached_property
    def _places(self) -> tuple[dict[str, int], dict[str, int]]:
        """The code of every sign that stands alone, and of every one above."""
        alone = dict(zip(map(_capital, self.alone), _CODES, strict=True))
        shifted = dict(zip(map(_capital, self.shifted), _CODES, strict=True))
        return alone, shifted

    def presses(self, sequence: str) -> Iterator[Press]:
        """Every press that gives the sequence; none where it is out of reach."""
        held, sign = split(sequence)
        if len(sign) != 1:
            yield Press(sign, held)
            return
        alone, shifted = self._places
        if sign in DIGIT_CODES and held & {CTRL, ALT}:
            yield Press(DIGIT_CODES[sign], held)
            return
        if sign in alone and sign != DEAD:
            yield Press(alone[sign], held)
        is_letter = shifted.get(sign) == alone.get(sign)
        if sign in shifted and SHIFT not in held and not is_letter and sign != DEAD:
            yield Press(shifted[sign], held | {SHIFT})


def _capital(sign: str) -> str:
    capital = sign.upper()
    return capital if len(capital) == 1 else sign  # ß has none of one letter


@lru_cache(maxsize=1024)
def split(sequence: str) -> tuple[frozenset[str], str]:
    """What is held, and the key: ("Ctrl", "Shift") and "K"; the plus sign is a key too."""
    body, plus = (sequence[:-1], "+") if sequence.endswith("+") else (sequence, "")
    parts = [part for part in body.split("+") if part]
    sign = plus or parts.pop()
    return frozenset(parts), _capital(sign) if len(sign) == 1 else sign


US = Layout(
    N_("American"),
    "1234567890-=qwertyuiop[]asdfghjkl;'zxcvbnm,./`\\<",
    '!@#$%^&*()_+QWERTYUIOP{}ASDFGHJKL:"ZXCVBNM<>?~|>',
    " " * 48,
)
GERMAN = Layout(
    N_("German"),
    "1234567890ß◌qwertzuiopü+asdfghjklöäyxcvbnm,.-◌#<",
    "!\"§$%&/()=?◌QWERTZUIOPÜ*ASDFGHJKLÖÄYXCVBNM;:_°'>",
    "¹²³¼½¬{[]}\\◌@ſ€¶ŧ←↓→øþ◌~æſðđŋħ◌ĸł◌◌»«¢„“”µ·…–′’|",
)
SPANISH = Layout(
    N_("Spanish"),
    "1234567890'¡qwertyuiop◌+asdfghjklñ◌zxcvbnm,.-ºç<",
    '!"·$%&/()=?¿QWERTYUIOP◌*ASDFGHJKLÑ◌ZXCVBNM;:_ªÇ>',
    "|@#~½¬{[]}\\◌@ſ€¶ŧ←↓→øþ[]æßðđŋħ◌ĸł◌{«»¢„“”µ•·◌\\}|",
)
FRENCH = Layout(
    N_("French"),
    "&é\"'(-è_çà)=azertyuiop◌$qsdfghjklmùwxcvbn,;:!²*<",
    "1234567890°+AZERTYUIOP◌£QSDFGHJKLM%WXCVBN?./§~µ>",
    "¹~#{[|`\\^@]}æ«€¶ŧ←↓→øþ◌¤@ßðđŋħ◌ĸłµ◌ł»¢„“”◌•·◌¬◌|",
)
LAYOUTS: Final = (US, GERMAN, SPANISH, FRENCH)


def out_of_reach(sequence: str) -> tuple[Layout, ...]:
    """The keyboards on which no press gives this sequence, but with AltGr or not at all."""
    return tuple(layout for layout in LAYOUTS if not any(layout.presses(sequence)))
