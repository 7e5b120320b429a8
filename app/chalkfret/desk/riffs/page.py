"""The Riffs page: the strip of sections above, the grid, and the section's panel beside it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSplitter, QVBoxLayout, QWidget

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.again_actions import AgainActions
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.eye import Eye
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.hand_actions import HandActions
from chalkfret.desk.riffs.hint import is_silent
from chalkfret.desk.riffs.mouse.page_mouse import PageMouse
from chalkfret.desk.riffs.move_actions import move_actions
from chalkfret.desk.riffs.note_actions import NoteActions
from chalkfret.desk.riffs.panel import SectionPanel
from chalkfret.desk.riffs.panel.panel import Meant
from chalkfret.desk.riffs.section_actions import SectionActions
from chalkfret.desk.riffs.strip import SectionStrip
from chalkfret.desk.riffs.telling import Teller
from chalkfret.desk.riffs.typing import Typist
from chalkfret.desk.riffs.words import beat_text, mark_words, note_text, pace_words, together_text
from chalkfret.desk.settings import Kept, Settings
from chalkfret.edits import notes
from chalkfret.model import Place
from chalkfret.words.text import N_, _

_NARROW_UNITS = 94  # below this width grid and panel take turns


class RiffsPage(QWidget):
    """Where riffs are written."""

    place_changed = Signal(str)

    def __init__(self, document: Document, look: Look) -> None:
        super().__init__()
        self._document, self._look = document, look
        self._wants_panel = True
        self._by_hand = False
        self._was_narrow = False
        self.strip = SectionStrip(document, look)
        self.grid = Grid(document, look)
        self.typist = Typist(document, self.grid)
        Teller(document, self.grid)
        self.eye = Eye(document, look, self.grid, self.strip)
        self._section_actions = SectionActions(document, self.grid)
        self.panel = SectionPanel(
            document,
            look,
            Meant(
                bars=self._section_actions.bars_meant,
                heads_seen=lambda: self.grid.grid_model.columns.heads_seen,
                note=self.typist.meant,
                place=self._place,
            ),
        )
        self._arrange()
        self.mouse = PageMouse(document, self, self._say_drag)
        self.grid.moved.connect(self._moved)
        self.grid.pointed.connect(self._moved)
        self.strip.chosen.connect(self._go_to_section)
        self.strip.left.connect(self.grid.setFocus)
        self.panel.left.connect(self._back_to_grid)
        document.changed.connect(self._say_place)
        document.replaced.connect(self._say_place)

    def _arrange(self) -> None:
        split = self._split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(self.grid)
        split.addWidget(self.panel)
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 0)
        split.setHandleWidth(1)
        split.splitterMoved.connect(self._split_by_hand)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.strip)
        layout.addWidget(split, 1)
        self.eye.add_to(layout)

    def key_home(self) -> QWidget:
        """The grid has the keys."""
        return self.grid

    def page_actions(self) -> list[Action]:
        """All that can be done in the grid."""
        return [
            *NoteActions(self._document, self.grid, self.typist).all(),
            *AgainActions(self._document, self.grid, self.typist).all(),
            *HandActions(self._document, self.grid, self.typist).all(),
            *self._section_actions.all(),
            *move_actions(self._document, self.grid, self.typist),
            *self.mouse.actions(),
        ]

    def take_settings(self, kept: Kept[Settings]) -> None:
        """How large the notes are shown is remembered there."""
        self.eye.take_settings(kept)

    def window_actions(self) -> list[Action]:
        """What leads to the panel's groups, from anywhere on the page."""
        section, panel = N_("&Section"), self.panel

        def to(widget: QWidget) -> Callable[[], None]:
            return lambda: self._lead_to(widget)

        return [
            Action("edit_name", _("Na&me"), ("F2",), section, to(panel.section.name),
                   separated=True),
            Action("edit_tempo", _("&Tempo"), ("F3",), section, to(panel.tempo.start)),
            Action("tap", _("T&ap the tempo"), ("Ctrl+T",), section, panel.tempo.tap_once),
            Action("edit_key", _("Tonic and s&cale"), ("F4",), section, to(panel.key.tonic)),
            Action("take_key", _("Tonic and scale &from the notes"), ("Ctrl+K",), section,
                   panel.key.suggested.take_first),
            Action("edit_meter", _("&Meter and repeats"), ("F6",), N_("&Bar"),
                   to(panel.bars.meter), separated=True),
            Action("cue_add", _("New c&ue at the cursor"), ("Shift+F7",), section,
                   self._new_cue),
            Action("edit_cues", _("Cue&s"), ("F7",), section, to(panel.cues.list)),
            Action("edit_note", _("&Figures of the note"), ("F8",), N_("&Note"),
                   self._to_note, separated=True),
            Action("edit_notes", _("Teacher’s n&otes"), ("F9",), section, to(panel.notes.notes)),
            Action("show_panel", _("Section &panel"), ("F5",), N_("&View"), self._toggle_panel,
                   checked=self.panel.isVisible, separated=True),
            Action("to_grid", _("To the &grid"), ("F12",), N_("&View"), self._back_to_grid),
            Action("to_strip", _("To the section &strip"), ("F10",), N_("&View"),
                   self.strip.setFocus),
            *self.eye.actions(),
        ]  # fmt: skip

    def standing(self) -> tuple[Cursor, Cursor | None]:
        """The cursor and where a selection began, for a page that takes this one's place."""
        return self.grid.here, self.grid.anchor

    def stand(self, standing: tuple[Cursor, Cursor | None]) -> None:
        """Go where the cursor was, with what was selected."""
        here, anchor = standing
        if anchor is not None:
            self.grid.move_to(anchor)
        self.grid.move_to(here, select=anchor is not None)

    # The panel: beside the grid where there is room, else in its place

    @property
    def _is_narrow(self) -> bool:
        return self.width() < self._look.unit(_NARROW_UNITS)

    def _fit_panel(self) -> None:
        """Give grid and panel their room."""
        narrow = self._is_narrow
        self.panel.setVisible(self._wants_panel)
        self.grid.setVisible(not (narrow and self._wants_panel))
        if not self._by_hand and not narrow:
            wide = self.panel.wide(self.width())
            self._split.setSizes([self.width() - wide, wide])

    def _split_by_hand(self) -> None:
        self._by_hand = True

    def _toggle_panel(self) -> None:
        self._wants_panel = not self.panel.isVisible()
        self._fit_panel()
        (self.panel.section.name if self._wants_panel and self._is_narrow else self.grid).setFocus()

    def _back_to_grid(self) -> None:
        if self._is_narrow:
            self._wants_panel = False
            self._fit_panel()
        self.grid.setFocus()

    def _lead_to(self, widget: QWidget) -> None:
        self._wants_panel = True
        self._fit_panel()
        self.panel.ensureWidgetVisible(widget)
        widget.setFocus(Qt.FocusReason.TabFocusReason)

    def _to_note(self) -> None:
        if self.typist.meant() is None:
            self.typist.say_nothing_is_meant()
        else:
            self._lead_to(self.panel.note.spelling)

    def _new_cue(self) -> None:
        self._lead_to(self.panel.cues.label)
        self.panel.cues.add_cue()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._say_place()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.eye.keep_now()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._is_narrow != self._was_narrow:
            self._was_narrow = self._is_narrow
            self._wants_panel = not self._is_narrow
        self._fit_panel()

    def _go_to_section(self, section: int) -> None:
        lesson = self._document.lesson
        self.grid.move_to(moves.at(lesson, self.grid.here, section, 0))

    def _place(self) -> tuple[Place, str]:
        cursor = self.grid.here
        return Place(cursor.bar, cursor.tick), self._document.lesson.parts[cursor.part].id

    def _moved(self, cursor: Cursor) -> None:
        if cursor.section != self._document.section:
            self._document.section = cursor.section
        else:
            self.panel.show_place()
        self._say_place()

    def _say_drag(self, words: str) -> None:
        self.place_changed.emit(words or self.place_words())

    def _say_place(self) -> None:
        self.place_changed.emit(self.place_words())

    def place_words(self) -> str:
        """Where the cursor is and what is there, in a few words."""
        lesson, cursor = self._document.lesson, self.grid.here
        section, part = lesson.sections[cursor.section], lesson.parts[cursor.part]
        head = section.bars[cursor.bar].head
        words = [
            section.head.letter,
            _("bar {bar}, beat {beat}").format(
                bar=cursor.bar + 1, beat=beat_text(head, min(cursor.tick, head.ticks - 1))
            ),
            _("{part}, string {number}").format(part=part.name, number=cursor.course),
        ]
        if moves.behind(lesson, cursor):
            words[1] = _("behind the last bar: typing adds one")
        spot = self.typist.meant()
        note = None if spot is None else notes.note_at(lesson, spot)
        if spot is not None and note is not None:
            # The note just typed is meant, and its section and part need not be the cursor's.
            words.append(note_text(lesson, spot.section, spot.bar, spot.part, note))
            words += mark_words(note)
            words.append(together_text(lesson, spot, note.onset))
        if not self.grid.has_room_for_hints and is_silent(section):
            words.append(_("type a fret, as in 0; F1 shows every key"))
        words.append(pace_words(self.typist.pace.in_force(self.typist.pace.voice)))
        return "  ·  ".join(filter(None, words))
