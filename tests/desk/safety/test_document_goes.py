"""A document with unsaved work goes, and its care with it, in each of the ways it can"""

import gc
import sys

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from shiboken6 import Shiboken

from chalkfret.desk.document import Document
from chalkfret.desk.safety.care import Care
from chalkfret.edits import notes
from chalkfret.edits.place import Spot
from chalkfret.model import QUARTER


def at_once(document):
    Shiboken.delete(document)


def later(document):
    document.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.mark.parametrize("go", [at_once, later])
def test_nothing_is_raised_by_what_hears_the_undo_stack_end(qapp, tmp_path, monkeypatch, go):
    raised = []
    monkeypatch.setattr(sys, "excepthook", lambda *what: raised.append(what))
    document = Document()
    care = Care.of(document)
    care.state = tmp_path
    document.attempt("Note", lambda one: notes.set_fret(one, Spot(0, 0, 0, 0, 6), 7, QUARTER))
    assert document.dirty
    assert care.journal.is_running
    go(document)
    del document, care
    gc.collect()
    assert not raised
    assert (tmp_path / "sessions").exists(), "the work is left to the next start"
