"""A screen reader that listens."""

import pytest
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent


class Heard(list):
    """What was sent to the accessibility layer: the event's name, and what it says or is of."""

    def of(self, event):
        return [words for kind, words in self if kind == event]


@pytest.fixture(autouse=True)
def listened_to(qapp):
    """Qt keeps its accessible things up to date only while someone listens."""
    QAccessible.setActive(True)
    yield
    QAccessible.setActive(False)


@pytest.fixture
def heard(listened_to, monkeypatch):
    """The events of a test, each still sent on to Qt."""
    events, send = Heard(), QAccessible.updateAccessibility

    def listen(event):
        if isinstance(event, QAccessibleAnnouncementEvent):
            words = event.message()
        else:
            one = event.accessibleInterface()
            words = "" if one is None else one.text(QAccessible.Text.Name)
        events.append((event.type().name, words))
        send(event)

    monkeypatch.setattr(QAccessible, "updateAccessibility", staticmethod(listen))
    return events
