"""What one field writes into the lesson, from the first key typed in it to Enter.

The values met on the way (5 and 50, before 500 is refused) are one step of the undo stack, and
can be taken back as a whole: the lesson is then the very one from before.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from chalkfret.desk.document import Document
    from chalkfret.model import Lesson


class Writing:
    """One stretch of typing. The document notes here what it takes from it."""

    _current: ClassVar[Writing | None] = None

    def __init__(self) -> None:
        self._document: Document | None = None
        self._before: Lesson | None = None
        self._after: Lesson | None = None
        self._text = ""

    @classmethod
    def current(cls) -> Writing | None:
        """The writing whose value is being taken just now, None where nobody types."""
        return cls._current

    @contextmanager
    def at_work(self) -> Iterator[None]:
        """While this lasts, what is applied to a document comes from this writing."""
        last, Writing._current = Writing._current, self
        try:
            yield
        finally:
            Writing._current = last

    def note(self, document: Document, text: str, before: Lesson, after: Lesson) -> None:
        """The document took ``after`` in place of ``before``."""
        if self._document is None:
            self._document, self._before = document, before
        self._after, self._text = after, text

    def take_back(self) -> bool:
        """Put back the lesson from before.

        False where no document took anything from this writing, or something else changed the
        lesson meanwhile: that must not be lost.
        """
        document, before = self._document, self._before
        self._document = self._before = None
        if document is None or before is None or document.lesson is not self._after:
            return False
        with self.at_work():
            document.apply(self._text, before)
        self._document = self._before = None
        return True
