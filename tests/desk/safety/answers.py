"""Hands for the questions above the page."""


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
