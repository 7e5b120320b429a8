"""Notes on the system's clipboard: as a clip under a type of our own, and as tab for all others."""

from __future__ import annotations

import atexit

from msgspec.structs import replace
from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from chalkfret.desk.document import Document
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.grid import Grid
from chalkfret.edits import Clip, Span, bars, sections, selection
from chalkfret.model import Fault, Lesson, setup_in
from chalkfret.model.limits import TEXT_MAX
from chalkfret.words.text import _, ngettext

MIME = "application/x-chalkfret-clip+json"
# What the foot, which has one line, says first; the rest is only counted.
_GRAVEST_FIRST = ("tab_strings_beyond", "tab_sign_unread", "tab_parts_beyond", "tab_bars_differ",
                  "tab_lengths_unfit", "tab_repeats_unpasted", "tab_lowest_on_top")  # fmt: skip

_laid: list[QMimeData] = []  # what ``put`` laid on the clipboard last


def put(lesson: Lesson, span: Span) -> None:
    """Lay what is selected on the clipboard."""
    from chalkfret.files.clip import dumps
    from chalkfret.files.text_tab.pasting import selected_text

    data = QMimeData()
    data.setData(MIME, dumps(selection.copy(lesson, span)))
    data.setText(selected_text(lesson, span))
    QGuiApplication.clipboard().setMimeData(data)
    _laid[:] = [data]


@atexit.register
def leave_text() -> None:
    """At the program's end: what was copied stays for others as text, of Qt's own making.

    What ``put`` laid there is Python's: freed by Qt after Python has ended, it crashed the program.
    """
    if not _laid or QGuiApplication.instance() is None:
        return
    clipboard = QGuiApplication.clipboard()
    if clipboard.mimeData() is _laid.pop():  # else somebody has copied something since
        clipboard.setText(clipboard.text())


def take() -> Clip | None:
    """The clip on the clipboard, or None where there is none of ours."""
    from chalkfret.files.clip import loads

    data = QGuiApplication.clipboard().mimeData()
    if data is None or not data.hasFormat(MIME):
        return None
    try:
        return loads(bytes(data.data(MIME).data()))
    except ValueError:
        return None


def paste_text(document: Document, grid: Grid) -> None:
    """Read the clipboard's text as tab and write its notes at the cursor, as one step.

    They go into the cursor's part, from the bar where the cursor is or the selection begins; from
    the next one where that is past its beginning and holds notes. The section gets the bars it
    needs. Words that could not be read are added to its teacher's notes.
    """
    from chalkfret.files.text_tab import read_text
    from chalkfret.files.text_tab.pasting import pasting

    text = QGuiApplication.clipboard().text()
    if not text.strip():
        document.refused.emit(_("The clipboard holds no notes: copy some in a grid first."))
        return
    lesson = document.lesson
    start = min(grid.anchor or grid.here, grid.here, key=lambda one: one.time)
    section, part = lesson.sections[start.section], lesson.parts[start.part]
    found = pasting(read_text(text), setup_in(section, part), part.name)
    clip = found.clip
    if clip is None:
        document.refused.emit(_what_was_read(0, found.faults))
        return
    if start.tick:  # whole bars begin at a bar line: this bar's, where nothing is in it yet
        filled = moves.behind(lesson, start) or section.bars[start.bar].notes[start.part]
        start = replace(start, bar=start.bar + bool(filled), tick=0)
    behind = start.bar == len(section.bars)

    def edit(before: Lesson) -> Lesson:
        roomy = bars.insert(before, start.section, start.bar) if behind else before
        after = selection.paste(roomy, start.spot, clip, grow=True)
        return _with_words(after, start.section, found.words)

    said = _("Paste tab in section {section}, bar {bar}").format(
        section=section.head.letter, bar=start.bar + 1
    )
    if document.attempt(said, edit):
        grid.move_to(moves.after_typing(document.lesson, start, clip.length))
        document.said.emit(_what_was_read(found.notes, found.faults))


def _with_words(lesson: Lesson, section: int, words: str) -> Lesson:
    """The lesson with words added to a section's notes, as far as they fit."""
    if not words:
        return lesson
    notes = lesson.sections[section].head.notes
    joined = f"{notes}\n\n{words}" if notes else words
    return sections.set_head(lesson, section, notes=joined[: max(TEXT_MAX, len(notes))])


def _what_was_read(notes: int, faults: tuple[Fault, ...]) -> str:
    """How much was read, the gravest of what was not, and how much more there is."""
    from chalkfret.words.sentences import sentence

    told = []
    if notes:
        told.append(
            ngettext(
                "{count} note is read from the text.",
                "{count} notes are read from the text.",
                notes,
            ).format(count=notes)
        )
    order = {code: rank for rank, code in enumerate(_GRAVEST_FIRST)}
    sorted_ = sorted(faults, key=lambda fault: order.get(fault.code, len(order)))
    told += [sentence(fault) for fault in sorted_[:1]]
    more = len(faults) - 1
    if more > 0:
        told.append(
            ngettext(
                "There is {count} more thing to look at.",
                "There are {count} more things to look at.",
                more,
            ).format(count=more)
        )
    return " ".join(told)
