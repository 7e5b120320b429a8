"""Asks for a new key, and says who goes without it before it is taken."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from chalkfret.desk.actions import Action, Registry, native
from chalkfret.desk.keys.capture import KeyCapture
from chalkfret.desk.keys.conflicts import holders
from chalkfret.desk.keys.layouts import out_of_reach
from chalkfret.desk.keys_sheet import full_name
from chalkfret.desk.look import Look
from chalkfret.desk.pieces.dress import follow, strong
from chalkfret.desk.pieces.flow import FlowRow
from chalkfret.desk.pieces.saying import Saying
from chalkfret.words.text import _


class Ask(QWidget):
    """``given`` carries an action's id and all its keys; ``left``: it stays as it is."""

    given = Signal(str, tuple)
    left = Signal()

    def __init__(self, registry: Registry, look: Look) -> None:
        super().__init__()
        self._registry, self._look = registry, look
        self._action: Action | None = None
        self._kept: tuple[str, ...] = ()
        self._wanted: tuple[str, ...] = ()
        self.title = strong(look, "")
        self.title.setWordWrap(True)
        self.capture = KeyCapture()
        self.saying = Saying(look, keeps_room=True)
        self.use = QPushButton(_("&Use it"))
        self.use.setProperty("main", True)
        self.other = QPushButton(_("Another &key"))
        self.leave = QPushButton(_("&Leave it as it is"))
        for button in (self.use, self.other, self.leave):
            button.setAutoDefault(True)
        buttons = FlowRow(self.use, self.other, self.leave)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.title, self.capture, self.saying, buttons):
            self._column.addWidget(widget)
        self.capture.taken.connect(self._take)
        self.capture.refused.connect(self._refuse)
        self.capture.left.connect(self.left)
        self.use.clicked.connect(self._use)
        self.other.clicked.connect(self._listen)
        self.leave.clicked.connect(self.left)
        follow(self, look, lambda: self._column.setSpacing(look.unit(0.5)))

    def begin(self, action: Action, kept: tuple[str, ...]) -> None:
        """Ask for a key of ``action`` beside those that are ``kept``."""
        self._action, self._kept = action, kept
        self._listen()

    def propose(self, action: Action, keys: tuple[str, ...]) -> None:
        """Give these keys to the action, at once where nobody minds."""
        self._action, self._wanted = action, keys
        warnings = [words for key in keys for words in self._warnings(key)]
        if not warnings:
            self._use()
            return
        self.title.setText(self._words(_("The key for “{action}”: {keys}"), keys))
        self.saying.say("\n".join(warnings), loud=True)
        for button in (self.use, self.other):
            button.show()
        self.use.setFocus(Qt.FocusReason.OtherFocusReason)
        self.capture.hide()  # which has lost the keys by now, and so leads them nowhere

    def _words(self, text: str, keys: tuple[str, ...] = ()) -> str:
        name = "" if self._action is None else full_name(self._action)
        return text.replace("{keys}", ", ".join(map(native, keys))).replace("{action}", name)

    def _listen(self) -> None:
        self.title.setText(
            self._words(_("Press the new key for “{action}”. Escape leaves it as it is."))
        )
        self.saying.say("")
        self.capture.show()
        self.capture.setFocus(Qt.FocusReason.OtherFocusReason)
        for button in (self.use, self.other):
            button.hide()

    def _take(self, key: str) -> None:
        action = self._action
        if action is None:
            return
        fixed = [other for other in holders(self._registry, action.id, key) if other.run is None]
        if fixed:
            words = _("{key} is a gesture of the hand, “{other}”, and stays so. Choose another.")
            self._refuse(
                words.replace("{key}", native(key)).replace("{other}", full_name(fixed[0]))
            )
            return
        self.propose(action, (*(one for one in self._kept if one != key), key))

    def _refuse(self, words: str) -> None:
        self.saying.say(words, loud=True)

    def _warnings(self, key: str) -> list[str]:
        """What the teacher should know before this key is taken."""
        action = self._action
        if action is None or key in action.keys:
            return []
        found = []
        for other in holders(self._registry, action.id, key):
            words = _("{key} does “{other}” now, which goes without it.")
            found.append(words.replace("{key}", native(key)).replace("{other}", full_name(other)))
        far = out_of_reach(key)
        if far:
            names = ", ".join(_(layout.name) for layout in far)
            words = _("{key} needs AltGr, or cannot be pressed, on these keyboards: {keyboards}.")
            found.append(words.format(key=native(key), keyboards=names))
        return found

    def _use(self) -> None:
        if self._action is not None:
            self.given.emit(self._action.id, self._wanted)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
