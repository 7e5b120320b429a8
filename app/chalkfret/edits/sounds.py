"""Sounds as one thing: a note with the tied notes that go on from it.

A *phrase* is a sound as it would be written without bar lines: notes with their offset from the
attack. A tied note that only goes on melts into the one before; one with a mark of its own
(vibrato on a held note) stays a note of its own. Laying a phrase anywhere writes it with the ties
that the bar lines there ask for, so that taking and laying at the same place changes nothing.
"""

from __future__ import annotations

from msgspec.structs import replace

from chalkfret.edits.draft import Draft
from chalkfret.edits.place import Ruler
from chalkfret.edits.ties import goes_on, tied_marks, without_end
from chalkfret.model import Note, Sign, in_order
from chalkfret.model.limits import METER_COUNT_MAX
from chalkfret.model.meter import QUARTER

LONGEST = 4 * QUARTER * METER_COUNT_MAX  # ticks; what the model allows one note

Phrase = list[tuple[int, Note]]  # offset from the attack, and the note


def run(draft: Draft, section: int, bar: int, part: int, note: Note) -> list[tuple[int, int, Note]]:
    """The note and its ties in written order, with section and bar, without going back."""
    found = [(section, bar, note)]
    while True:
        s, b, piece = found[-1]
        ahead = [f for f in draft.followers(s, b, part, piece)
                 if f[0] == section and f[1] in (b, b + 1)]  # fmt: skip
        if not ahead or (ahead[0][1] == b and ahead[0][2].onset <= piece.onset):
            return found
        found.append(ahead[0])


def phrase(pieces: list[tuple[int, int, Note]]) -> Phrase:
    """The notes of a ``run`` with their offsets, melted where one only goes on."""
    found: Phrase = []
    offset = 0
    for _, _, piece in pieces:
        length = piece.length
        if found and goes_on(found[-1][1], piece):
            at, before = found[-1]
            if before.length + length <= LONGEST:
                ends = tied_marks(piece, last=True)
                marks = (*without_end(before), *(m for m in ends if m is not Sign.TIE))
                found[-1] = (at, replace(before, length=before.length + length,
                                         marks=in_order(marks)))  # fmt: skip
                offset += length
                continue
        found.append((offset, piece))
        offset += length
    return found


def lay_phrase(draft: Draft, section: int, part: int, ruler: Ruler, at: int, notes: Phrase) -> None:
    """Write a phrase whose attack lies ``at`` ticks from the ruler's start, within the section.

    Where a note on the string stops it, the rest of the phrase is not written.
    """
    for offset, note in notes:
        place = ruler.place(at + offset)
        if place is None:
            return
        bar, tick = place
        placed = note if note.onset == tick else replace(note, onset=tick)
        if offset and (
            draft.at(section, bar, part, tick, note.course) is not None
            or not draft.held(section, bar, part, placed)
        ):
            return
        draft.lay(section, bar, part, placed)
