"""A riff of 200 notes written after the gestures were made, and not used while they were tuned.

Two guitars in C G C F A D: a low riff with a tune over it, a broken chord that wanders, a passage
in six, and a last riff. It is only a row of the table: where it costs more than the catalogue, no
gesture was changed for it.
"""

from __future__ import annotations

from chalkfret.model import Lesson
from tests.builder import lesson, part, section, tuned

_SETUP = "C2 G2 C3 F3 A3 D4"

_A_LOW = (
    "s 6:0 0 e 6:3 s 6:0 0 e 6:5 s 6:0 0 6:6 5 e 6:3 5:0"
    " | s 6:0 0 e 6:3 s 6:0 0 e 6:5 q 5:3+6:3 e 5:2+6:2 5:0+6:0"
    " | s 6:0 0 e 6:3 s 6:0 0 e 6:5 s 6:0 0 6:6 5 e 6:3 5:0"
    " | s 6:0 0 e 6:3 s 6:0 6:3 e 5:0 s 5:1 0 6:5 3 q 5:0+6:0"
)
_A_HIGH = "q. 3:7 e 3:8 h 3:10 | q. 2:8 e 2:7 q 2:5 3:8 | q. 3:7 e 3:8 h 3:10 | w 3:7"
_B_LOW = (
    "e 6:0 5:0 4:0 3:2 2:1 3:2 4:0 5:0 | e 6:3 5:3 4:0 3:2 2:3 3:2 4:0 5:3"
    " | e 6:5 5:5 4:7 3:7 2:5 3:7 4:7 5:5 | e 6:1 5:1 4:3 3:3 2:1 q. 1:0"
)
_B_HIGH = "h 1:5 q 1:7 1:8 | h. 1:7 q 1:3 | q 1:10 8 7 5 | e3 1:7 5 3 q 2:6 h 1:3"
_C_LOW = (
    "e 6:0 4:0+5:0 4:0+5:0 6:3 4:0+5:0 4:0+5:0 | e 6:5 4:2+5:2 4:2+5:2 6:3 4:0+5:0 4:0+5:0"
    " | e 6:0 4:0+5:0 4:0+5:0 6:3 4:0+5:0 4:0+5:0 | q. 4:1+5:1+6:1 e 6:3 5:0 6:1"
)
_C_HIGH = "e 2:5 6 8 q. 1:5 | q 1:3 e 2:8 q. 2:6 | e 2:5 6 8 q 1:5 e 1:7 | h. 1:3"
_D_LOW = (
    "s 6:0 0 0 0 e 6:6 s 6:0 0 e 6:5 s 6:3 0 q 5:1+6:1"
    " | s 6:0 0 0 0 e 6:6 s 6:0 0 e 6:8 6:5 q 5:3+6:3"
    " | s 6:0 0 0 0 e 6:6 s 6:0 0 e 6:5 s 6:3 0 q 5:1+6:1"
    " | w 4:0+5:0+6:0"
)
_D_HIGH = "h 3:5 3:6 | h. 3:8 q 3:6 | h 3:5 3:3 | q 3:5 6 8 5"


def new_riff() -> Lesson:
    """The lesson."""
    return lesson(
        section("A", _A_LOW, _A_HIGH, name="Under the bridge", tempo=112.0),
        section("B", _B_LOW, _B_HIGH, name="Ripples", tempo=96.0),
        section("C", _C_LOW, _C_HIGH, name="The mill", tempo=96.0, meter=(6, 8)),
        section("D", _D_LOW, _D_HIGH, name="Weir", tempo=120.0),
        parts=(part("Low guitar", tuned(_SETUP)), part("High guitar", tuned(_SETUP))),
        title="A riff of 200 notes",
    )
