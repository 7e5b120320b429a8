"""Every key of the registry is reached on American, German, Spanish and French keyboards.

The tables in ``desk/keys/layouts.py`` are those of xkeyboard-config 2.35.1 (X.Org, 2022), read
from its compiled keymaps; a few cells are written out again below from the keyboards' own print
(common practice, from memory), so that a slip in copying them shows.
"""

from collections import defaultdict

import pytest

from chalkfret.desk.actions import canonical, meet
from chalkfret.desk.keys.conflicts import gesture_keys
from chalkfret.desk.keys.digit_row import DigitRow
from chalkfret.desk.keys.layouts import (
    DEAD,
    DIGIT_CODES,
    FRENCH,
    GERMAN,
    LAYOUTS,
    SPANISH,
    US,
    Press,
    out_of_reach,
    split,
)
from chalkfret.desk.riffs import digits
from chalkfret.model.start import new_lesson
from tests.desk.keys.boards import send_through

HELD = {"Ctrl", "Alt", "Shift"}


@pytest.fixture
def shown(show, qtbot, monkeypatch):
    """A new lesson in a window that hears digits by their place, as X11 tells it."""
    monkeypatch.setattr(digits.sys, "platform", "linux")  # whose codes the tables have
    window = show(new_lesson())
    qtbot.waitUntil(lambda: window.findChild(DigitRow) is not None)
    return window


def press(code, *held):
    return Press(code, frozenset(held))


@pytest.mark.parametrize(
    ("layout", "sequence", "presses"),
    [
        (GERMAN, "Z", [press(29)]),  # where American keyboards have Y
        (GERMAN, "/", [press(16, "Shift")]),
        (GERMAN, "[", []),  # AltGr+8
        (GERMAN, "^", []),  # dead
        (SPANISH, "?", [press(20, "Shift")]),
        (SPANISH, "@", []),  # AltGr+2
        (SPANISH, "Ñ", [press(47)]),
        (FRENCH, "A", [press(24)]),  # where American keyboards have Q
        (FRENCH, "M", [press(47)]),
        (FRENCH, ".", [press(59, "Shift")]),
        (FRENCH, ",", [press(58)]),
        (FRENCH, "Alt+1", [press(10, "Alt")]),
        (US, "Ctrl++", [press(21, "Ctrl", "Shift")]),
    ],
)
def test_known_keys_of_known_keyboards(layout, sequence, presses):
    assert list(layout.presses(sequence)) == presses


def test_what_stands_behind_altgr_or_waits_for_a_letter_is_out_of_reach():
    assert [layout.name for layout in out_of_reach("Ctrl+[")] == ["German", "Spanish", "French"]
    assert out_of_reach("Ctrl+F") == ()
    assert all(not list(layout.presses(DEAD)) for layout in LAYOUTS)


def test_the_plus_sign_is_a_key_too():
    assert split("Ctrl++") == (frozenset({"Ctrl"}), "+")
    assert split("+") == (frozenset(), "+")
    assert split("Ctrl+Shift+K") == (frozenset({"Ctrl", "Shift"}), "K")


def all_entries(window):
    window.make_pages()
    return list(window.registry.entries())


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda one: one.name)
def test_every_action_with_keys_is_reached(show, layout):
    window = show(new_lesson())
    for action, _where in all_entries(window):
        if action.keys:
            keys = [canonical(key) for key in action.keys]
            assert any(any(layout.presses(key)) for key in keys), f"{action.id}: {keys}"
            assert all(split(key)[0] <= HELD for key in keys), action.id


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda one: one.name)
def test_no_press_means_two_things_in_one_place(show, layout):
    """Digits are gestures by their place: what a French key writes there must not be a key."""
    window = show(new_lesson())
    meanings = defaultdict(set)
    for action, where in all_entries(window):
        if action.run is None:
            for key in gesture_keys(action):
                held, digit = split(key)
                meanings[press(DIGIT_CODES[digit], *held)].add((where, action.id))
        for key in map(canonical, action.keys):
            for one in layout.presses(key):
                meanings[one].add((where, action.id))
    for one, owners in meanings.items():
        places = [where for where, _id in owners]
        for number, where in enumerate(places):
            others = [other for other in places[number + 1 :] if meet(where, other)]
            assert not others, f"{layout.name}: {one} means {owners}"


@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda one: one.name)
@pytest.mark.parametrize(("held", "first"), [((), 0), (("Ctrl",), 10)], ids=str)
def test_the_upper_row_writes_frets_without_shift_on_every_keyboard(shown, layout, held, first):
    window = shown
    for digit, code in DIGIT_CODES.items():
        send_through(window, layout, press(code, *held))
        notes = [note for bar in window.document.lesson.sections[0].bars for note in bar.notes[0]]
        assert notes[-1].fret == first + int(digit)


@pytest.mark.parametrize("digit", "1234")
@pytest.mark.parametrize("layout", [FRENCH], ids=lambda one: one.name)
def test_alt_and_a_digits_place_bring_a_page_without_shift(shown, layout, digit):
    window = shown
    window.show_page("sheet" if digit != "3" else "riffs")
    pages = {"1": "riffs", "2": "strings", "3": "sheet", "4": "handouts"}
    assert send_through(window, layout, press(DIGIT_CODES[digit], "Alt"))
    assert window.is_shown(pages[digit])


def test_shift_with_a_digit_is_shift_with_a_digit_in_french_too(shown):
    """Alt+Shift+& writes Alt+1 there; it cuts the beat, as on every keyboard."""
    window = shown
    send_through(window, FRENCH, press(DIGIT_CODES["3"], "Alt", "Shift"))
    assert window.is_shown("riffs")
    assert window.document.lesson.sections[0].bars[0].head.steps[0] == 3


def test_a_sign_of_the_digit_row_that_is_a_key_itself_stays_one(shown):
    """Alt and - on a French keyboard stands on the key of 6."""
    window = shown
    window.key_choices.give("page_handouts", ("Alt+6",))
    assert not send_through(window, FRENCH, press(DIGIT_CODES["6"], "Alt")), "grid_smaller has it"
    window.key_choices.reset_all()
