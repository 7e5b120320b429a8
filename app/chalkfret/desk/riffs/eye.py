"""What helps the eye on the Riffs page: zoom, following, folding, going to a place, differences."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import QObject, QTimer, Slot
from PySide6.QtWidgets import QVBoxLayout

from chalkfret.desk.actions import Action
from chalkfret.desk.document import Document
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.announcing import announce
from chalkfret.desk.pieces.drawer import Drawer
from chalkfret.desk.riffs import cursor as moves
from chalkfret.desk.riffs.cursor import Cursor
from chalkfret.desk.riffs.differences_list import DifferencesList
from chalkfret.desk.riffs.go_to import GoToLine, Target
from chalkfret.desk.riffs.grid import Grid
from chalkfret.desk.riffs.other_tuning import OtherTuning
from chalkfret.desk.riffs.strip import SectionStrip
from chalkfret.desk.riffs.strip_picture import ViewEdge
from chalkfret.desk.riffs.talk_list import TalkList
from chalkfret.desk.settings import Kept, Settings
from chalkfret.words.text import N_, _

_KEEP_MS = 400  # a pinch has many small steps: only where it ends is kept

_Panel = DifferencesList | TalkList | OtherTuning


class Eye(QObject):
    """Owns the lines that open under the grid, and remembers how large the grid is shown."""

    def __init__(self, document: Document, look: Look, grid: Grid, strip: SectionStrip) -> None:
        super().__init__(grid)
        self._document, self._grid, self._strip = document, grid, strip
        self.go_to = GoToLine(document, look)
        self.differences = DifferencesList(document, grid.comparison, look)
        self.talk = TalkList(document, look)
        self.talk.closed.connect(grid.setFocus)
        self.other_tuning = OtherTuning(document, grid, look)
        self.other_tuning.left.connect(grid.setFocus)
        self.go_to.chosen.connect(self._go)
        self.go_to.left.connect(grid.setFocus)
        self.differences.chosen.connect(self._go_to_difference)
        self.differences.closed.connect(grid.setFocus)
        strip.placed.connect(self._go_to_bar)
        strip.stepped.connect(self._go_by_bars)
        across = grid.horizontalScrollBar()
        for moved in (across.valueChanged, across.rangeChanged, document.replaced):
            moved.connect(self._frame_view)
        self._settings: Kept[Settings] | None = None
        # What the key folded last: the cursor and what was folded then, and where it came from.
        self._folded: tuple[Cursor, frozenset[str], Cursor] | None = None
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_KEEP_MS)
        self._later.timeout.connect(self._keep)
        grid.sight.changed.connect(self._later.start)
        grid.folds.changed.connect(self._tell_folds)

    def add_to(self, column: QVBoxLayout) -> None:
        """Put the lines at the end of a column."""
        for panel in (self.differences, self.talk, self.other_tuning):
            column.addWidget(Drawer(panel, column.parentWidget()))
        column.addWidget(self.go_to)

    def take_settings(self, kept: Kept[Settings]) -> None:
        """Remember zoom and following there, and do as it says, now and when it changes."""
        self._settings = kept
        self._obey()
        kept.changed.connect(self._obey)

    @Slot()
    def _obey(self) -> None:
        if self._settings is None:
            return
        wished, sight = self._settings.value, self._grid.sight
        if wished.grid_zoom != sight.percent:
            sight.zoom_to(wished.grid_zoom / 100)
        if wished.follow_cursor != sight.follows:
            sight.follow(wished.follow_cursor)

    def keep_now(self) -> None:
        """Keep at once what was to be kept in a moment."""
        if self._later.isActive():
            self._later.stop()
            self._keep()

    def _keep(self) -> None:
        sight = self._grid.sight
        if self._settings is not None:
            self._settings.change(grid_zoom=sight.percent, follow_cursor=sight.follows)

    def _tell_folds(self) -> None:
        """Say it to who does not see the rows come and go."""
        folds, parts = self._grid.folds, self._document.lesson.parts
        names = [part.name for part in parts if part.id in folds.ids]
        words = _("Folded: {names}").format(names=", ".join(names))
        announce(self._grid, words if names else _("All guitars are unfolded"))

    def _fold(self) -> None:
        """Fold the cursor's guitar; pressed again right after it, unfold that and go back."""
        grid = self._grid
        folded, self._folded = self._folded, None
        if folded is not None and folded[:2] == (grid.here, grid.folds.ids):
            grid.move_to(folded[2])
            return
        before = grid.here
        grid.folds.turn(before.part)
        if grid.here.part != before.part:
            self._folded = (grid.here, grid.folds.ids, before)

    def actions(self) -> list[Action]:
        """The actions, in the order of their menus."""
        grid = self._grid
        sizes, folding = N_("Si&ze of the notes"), N_("Fold &guitars")
        view, sight, folds, comparison = N_("&View"), grid.sight, grid.folds, grid.comparison

        def shown() -> bool:
            return grid.isVisible()

        return [
            Action("grid_larger", _("Notes &larger"), ("Alt++", "Alt+="), view,
                   lambda: sight.step(1), shown, under=sizes),
            Action("grid_smaller", _("Notes s&maller"), ("Alt+-",), view,
                   lambda: sight.step(-1), shown, under=sizes),
            Action("grid_usual", _("Notes as large as the &rest"), ("Alt+0",), view,
                   lambda: sight.zoom_to(1.0), shown, under=sizes),
            Action("follow", _("&Keep the cursor near the middle"), ("Shift+F12",), view,
                   lambda: sight.follow(not sight.follows), shown, lambda: sight.follows),
            Action("go_to", _("&Go to a bar or section …"), ("Ctrl+G",), view,
                   self.go_to.open, shown, separated=True),
            Action("fold", _("F&old this guitar"), ("Shift+F2",), view,
                   self._fold, shown, under=folding),
            Action("fold_others", _("Fold all &but this guitar"), ("Shift+F3",), view,
                   lambda: folds.fold_others(grid.here.part), shown, under=folding),
            Action("unfold", _("&Unfold all guitars"), ("Shift+F4",), view,
                   folds.unfold_all, shown, under=folding),
            Action("mark_differences", _("Mark what the second guitar does &otherwise"),
                   ("Shift+F5",), view, self._mark, shown,
                   lambda: comparison.marked is not None, separated=True),
            Action("list_differences", _("&Differences of two guitars"), ("Shift+F6",), view,
                   lambda: self._turn(self.differences), shown),
            Action("other_tuning", _("Play it in another &tuning …"), ("Ctrl+Shift+U",),
                   N_("&Part"), lambda: self._open(self.other_tuning), shown, separated=True),
            Action("list_talk", _("&Talking points"), ("Ctrl+Shift+T",), view,
                   lambda: self._turn(self.talk), shown),
            Action("copy_talk", _("Copy the talking &points of the section"), (), view,
                   self.talk.copy, shown),
            Action("copy_video_text", _("Copy the text &under the video"), (), view,
                   self.talk.copy_video),
        ]  # fmt: skip

    def _go(self, target: Target) -> None:
        self._go_to_bar(target.section, target.bar)

    # The bird's-eye view in the strip

    def _go_to_bar(self, section: int, bar: int) -> None:
        grid = self._grid
        grid.move_to(moves.at(self._document.lesson, grid.here, section, bar))

    def _go_by_bars(self, way: int) -> None:
        grid, lesson = self._grid, self._document.lesson
        move = moves.bar_on if way > 0 else moves.bar_back
        grid.move_to(move(lesson, replace(grid.here, tick=0)) or grid.here)

    @Slot()
    def _frame_view(self) -> None:
        first, last = self._grid.sight.columns
        self._strip.show_view(self._edge(first), self._edge(last))

    def _edge(self, column: float) -> ViewEdge:
        columns, lesson = self._grid.grid_model.columns, self._document.lesson
        section, bar, tick = columns.place(int(column))
        if column >= columns.total:
            tick = lesson.sections[section].bars[bar].head.ticks
        return ViewEdge(section, bar, tick)

    # Differences

    def _go_to_difference(self, section: int, bar: int, part: int) -> None:
        grid = self._grid
        there = replace(grid.here, section=section, bar=bar, tick=0, part=part)
        grid.move_to(moves.kept(self._document.lesson, there))
        grid.setFocus()

    def _mark(self) -> None:
        comparison = self._grid.comparison
        if comparison.possible:
            comparison.mark(comparison.marked is None)
        else:
            self._document.refused.emit(_("There is only one guitar: nothing to hold it against."))

    # The lists under the grid

    def _open(self, panel: _Panel) -> None:
        """One at a time: a small screen has no room for more of them under the grid."""
        for other in (self.differences, self.talk, self.other_tuning):
            if other is not panel and other.isVisible():
                other.put_away()
        self.go_to.hide()
        panel.open()

    def _turn(self, panel: _Panel) -> None:
        if panel.isVisible():
            panel.put_away()
        else:
            self._open(panel)
