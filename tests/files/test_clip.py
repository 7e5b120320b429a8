"""Copied music through text and back; anything else on a clipboard is refused."""

import pytest

from chalkfret.edits import selection
from chalkfret.edits.place import Moment, Span
from chalkfret.files.clip import NoClip, dumps, loads
from tests.builder import lesson, section

MADE = lesson(section("A", "q 6:0m 3b 5~ 7t | e3 6:0 0 0 q 5:2n", "q 6:0 5/ 3 r | 0"))
CLIP = selection.copy(MADE, Span(Moment(0, 0, 5040), Moment(0, 1, 5040), (0, 1), ()))


def test_a_clip_comes_back():
    assert CLIP.parts[0].notes
    assert loads(dumps(CLIP)) == CLIP


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\xff",
        b"{}",
        b"[" * 100_000,
        dumps(CLIP)[:-2],
        dumps(CLIP).replace(b'"version":1', b'"version":2'),
        dumps(CLIP).replace(b"-clip", b""),
        dumps(CLIP).replace(b'"fret":3', b'"fret":99'),
        dumps(CLIP).replace(b'"at":0', b'"at":20000', 1),
        dumps(CLIP).replace(b'"version":1', b'"version":1,"more":1'),
    ],
)
def test_what_is_no_clip_is_refused(data):
    with pytest.raises(NoClip):
        loads(data)
