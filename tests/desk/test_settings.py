"""Settings and shelf: kept whole, read back equal, and never worth a crash."""

from pathlib import Path

import pytest

from chalkfret.desk.look import Look
from chalkfret.desk.settings import (
    RECENT_MOST,
    Settings,
    Theme,
    open_settings,
    settings_folder,
    with_recent,
)
from chalkfret.desk.shelf import Shelf, open_shelf
from chalkfret.desk.window import Window
from chalkfret.model.start import STANDARD_SETUP
from tests.builder import tuned


def test_the_folder_is_the_users_own(private_home):
    assert private_home in settings_folder().parents


def test_what_is_kept_is_read_back():
    open_settings().change(page="strings", recent=("/a/b.chalkfret",))
    assert open_settings().value == Settings(page="strings", recent=("/a/b.chalkfret",))


def test_keys_of_another_version_are_let_be():
    settings_folder().mkdir(parents=True)
    (settings_folder() / "settings.json").write_text('{"page": "sheet", "of_tomorrow": [1]}')
    assert open_settings().value.page == "sheet"


@pytest.mark.parametrize("damage", [b"", b"{", b"\xff\xfe", b'{"recent": 5}', b"[]", b"null"])
def test_a_damaged_file_costs_the_defaults_and_is_kept_aside(damage):
    settings_folder().mkdir(parents=True)
    path = settings_folder() / "settings.json"
    path.write_bytes(damage)
    kept = open_settings()
    assert kept.value == Settings()
    assert path.read_bytes() == damage
    assert kept.change(page="handouts") is None
    assert open_settings().value.page == "handouts"
    assert (settings_folder() / "settings.unreadable.json").read_bytes() == damage


def test_the_colours_are_chosen_in_the_menu_and_kept(window, look, qtbot):
    window.files.new()
    window.registry.qaction("theme_dark").trigger()
    assert look.dark
    view = next(one for one in window.menuBar().actions() if one.text() == "&View").menu()
    colours = next(one for one in view.actions() if one.text() == "&Colours").menu()
    colours.aboutToShow.emit()
    names = [one.objectName() for one in colours.actions() if one.isChecked()]
    assert [name for name in names if name.startswith("theme")] == ["theme_dark"]
    again = Look()
    other = Window(again, open_settings())
    qtbot.addWidget(other)
    assert again.dark
    other.registry.run("theme_light")
    assert (again.dark, open_settings().value.theme) == (False, Theme.LIGHT)


def test_a_folder_that_cannot_be_made_is_told_and_the_value_holds(private_home):
    private_home.joinpath(".config").write_text("a file where the folder should be")
    kept = open_settings()
    assert isinstance(kept.change(page="sheet"), OSError)
    assert kept.refresh().page == "sheet"
    private_home.joinpath(".config").unlink()
    assert kept.change(page="sheet") is None
    assert open_settings().value.page == "sheet"


def test_two_windows_do_not_take_from_each_other():
    one, other = open_shelf(), open_shelf()
    one.update(lambda shelf: shelf.put(STANDARD_SETUP, "From the first"))
    other.update(lambda shelf: shelf.put(STANDARD_SETUP, "From the second"))
    assert open_shelf().value.names == ("From the first", "From the second")
    assert one.refresh().names == ("From the first", "From the second")


def test_recent_lessons_are_the_newest_once_and_not_too_many():
    settings = Settings()
    for number in [*range(20), 19, 12]:
        settings = with_recent(settings, Path(f"/{number}"))
    assert settings.recent[:3] == ("/12", "/19", "/18")
    assert len(settings.recent) == len(set(settings.recent)) == RECENT_MOST


def test_the_shelf_is_for_every_lesson():
    low = tuned("C2 G2 C3 F3 A3 D4", scale_mm=685.8)
    shelf = open_shelf()
    shelf.update(lambda value: value.put(low, "Low C").put(STANDARD_SETUP, "Plain"))
    again = open_shelf().value
    assert again.names == ("Low C", "Plain")
    assert again.named("Low C").courses == low.courses
    assert again.named("Low C").scale_mm == 685.8


def test_putting_under_the_same_name_replaces_in_its_place():
    shelf = Shelf().put(STANDARD_SETUP, "A").put(STANDARD_SETUP, "B")
    low = tuned("B1 F#2 B2 E3 G#3 C#4")
    shelf = shelf.put(low, "A")
    assert shelf.names == ("A", "B")
    assert shelf.named("A").courses == low.courses


def test_two_setups_cannot_have_one_name():
    shelf = Shelf().put(STANDARD_SETUP, "A").put(STANDARD_SETUP, "B")
    with pytest.raises(ValueError, match="B"):
        shelf.rename("A", "B")
    assert shelf.rename("A", "C").names == ("C", "B")
    assert shelf.remove("A").names == ("B",)
