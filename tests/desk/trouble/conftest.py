"""A window whose unexpected errors are caught as in the running program."""

import pytest
from PySide6.QtWidgets import QApplication

from chalkfret.desk.trouble import telling
from chalkfret.desk.trouble.catching import Catcher


@pytest.fixture
def catcher(qapp, monkeypatch):
    """Holds all roads while the test lasts; pytest-qt, which fails a test for them, gets none."""
    monkeypatch.setattr(telling, "_PAUSE_MS", 30)
    made = Catcher()
    let_go = made.take_hold()
    yield made
    QApplication.processEvents()
    let_go()
    made.deleteLater()


@pytest.fixture
def troubled(catcher, show):
    """The window on a lesson, made after the catcher."""
    from tests.desk.two_guitars import two_guitars

    return show(two_guitars())
