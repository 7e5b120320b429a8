"""Hands for the questions above the page, and what makes one be asked."""

import os

from chalkfret.files.journal import Standing, record
from chalkfret.files.sessions import Session
from chalkfret.places import state_folder


def press_button(window, text):
    """Press the first button with this text in the questions above the page."""
    for button in buttons(window):
        if button.text() == text:
            button.click()
            return
    raise AssertionError(f"no button {text!r} among {[one.text() for one in buttons(window)]}")


def buttons(window):
    """All buttons of the questions above the page."""
    questions = window.safety.questions
    return [button for one in questions._asked.values() for button in one.buttons]


def asked(window):
    """All that is asked above the page."""
    return window.safety.questions.text


def crashed(unsaved, path=None, saved=None, at=1_700_000_000.0):
    """What a window leaves whose process was killed."""
    session = Session(state_folder())
    session.write(record(Standing(unsaved, path, saved), at))
    os.close(session._lock)
    return session.folder
