"""All settings in one place: searched, with a sentence each, and the default one click away."""

import pytest
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication

from chalkfret.desk.settings import Settings, Theme, open_settings
from chalkfret.desk.settings_window.all_rows import all_rows
from chalkfret.desk.settings_window.row_view import RowView
from chalkfret.desk.settings_window.rows import GROUPS, KEYS, Choice, Number, Switch, kept_row
from chalkfret.model.start import new_lesson
from tests.desk.hands import press, type_text


@pytest.fixture
def settings(show, qtbot):
    window = show(new_lesson())
    press("Ctrl+,")
    shown = window.settings_window
    shown.activateWindow()
    qtbot.waitUntil(shown.search.hasFocus)
    yield shown
    shown.close()


def view(settings, row_id):
    return next(one for one in settings.rows if one.row.id == row_id)


def shown_groups(settings):
    items = [settings.groups.item(at) for at in range(settings.groups.count())]
    return [item.text() for item in items if not item.isHidden()]


def test_it_stays_beside_the_work_and_escape_leads_back(settings, qtbot):
    assert not settings.isModal()
    window = settings.parent()
    press("Escape")
    assert not settings.isVisible()
    window.activateWindow()
    qtbot.waitUntil(window.page("riffs").grid.hasFocus)


def test_a_setting_holds_at_once_is_kept_and_goes_back(settings, look):
    row = view(settings, "theme")
    assert not row.reset.isVisible(), "it is as it comes"
    row.control.setFocus()
    type_text("D")
    assert look.dark
    assert open_settings().value.theme is Theme.DARK
    assert row.reset.text() == "Back to: As the system’s"
    assert row.reset.isVisible()
    row.reset.click()
    assert open_settings().value.theme is Theme.SYSTEM
    assert not row.reset.isVisible()
    look.show_theme(Theme.LIGHT)


def test_it_shows_what_was_changed_elsewhere(settings, look):
    window = settings.parent()
    window.registry.run("theme_light")
    assert view(settings, "theme").control.value is Theme.LIGHT
    window.registry.run("theme_system")
    look.show_theme(Theme.LIGHT)


def test_what_is_typed_leaves_what_answers_it_in_every_group(settings):
    type_text("night")
    assert shown_groups(settings) == ["Look (1)"]
    assert view(settings, "theme").isVisible()
    settings.search.clear()
    type_text("palm mute")
    assert shown_groups(settings) == ["Keys (1)"]
    settings.search.clear()
    type_text("qqqq")
    assert shown_groups(settings) == []
    settings.search.clear()
    assert shown_groups(settings)[-1] == "Keys"


def test_down_leads_from_the_search_to_what_was_found(settings):
    type_text("night")
    press("Down")
    assert QApplication.focusWidget() is view(settings, "theme").control


def test_every_row_says_what_it_does_and_has_a_name_and_a_default(settings):
    window = settings.parent()
    rows = all_rows(window)
    assert len({row.id for row in rows}) == len(rows)
    for row in rows:
        assert row.group in GROUPS
        assert row.group != KEYS
        assert row.about.endswith("."), row.about
        assert row.name
        if isinstance(row.kind, Choice):
            assert row.default in row.kind.words
    for one in settings.rows:
        control = one.control.focusProxy() or one.control
        said = QAccessible.queryAccessibleInterface(control)
        assert said.text(QAccessible.Text.Name), one.row.id


def test_every_row_goes_back_to_its_default_by_its_button(settings):
    """Rows that build the window anew (language) only ask for it: there is no desk here."""
    for one in settings.rows:
        row, before = one.row, one.row.read()
        if isinstance(row.kind, Choice):
            other = next(value for value in row.kind.words if value != row.default)
        elif isinstance(row.kind, Switch):
            other = not row.default
        else:
            other = row.kind.step(row.default, 1)
        row.write(other)
        settings.show_values()
        assert one.row.read() == other, row.id
        assert not one.reset.isHidden(), row.id
        one.reset.click()
        assert one.row.read() == row.default, row.id
        assert one.reset.isHidden(), row.id
        row.write(before)


def test_a_row_is_declared_by_its_field(look, qtbot):
    kept = open_settings()
    row = kept_row(kept, "page", group=GROUPS[0], name="First page", about="Which is shown first.",
                   kind=Choice({"riffs": "Riffs", "sheet": "Sheet"}))  # fmt: skip
    assert (row.default, row.read()) == (Settings().page, "riffs")
    shown = RowView(row, look)
    qtbot.addWidget(shown)
    shown._take("sheet")
    assert kept.value.page == "sheet"
    assert not shown.reset.isHidden()
    shown.reset.click()
    assert kept.value.page == "riffs"


def test_numbers_are_typed_and_stepped(look, qtbot):
    kept = open_settings()
    kind = Number(str, str, lambda value, steps: f"{value}{steps}", "88888")
    row = kept_row(kept, "folder", group=GROUPS[0], name="N", about="A number.", kind=kind)
    shown = RowView(row, look)
    qtbot.addWidget(shown)
    shown.show()
    shown.activateWindow()
    shown.control.field.setFocus()
    qtbot.waitUntil(shown.control.field.hasFocus)
    press("Up")
    assert kept.value.folder == "1"


def test_a_choice_that_cannot_be_kept_says_so_and_holds(look, qtbot, private_home):
    private_home.joinpath(".config").write_text("a file where the folder should be")
    kept = open_settings()
    row = kept_row(kept, "page", group=GROUPS[0], name="First page", about="Which is shown first.",
                   kind=Choice({"riffs": "Riffs", "sheet": "Sheet"}))  # fmt: skip
    shown = RowView(row, look)
    qtbot.addWidget(shown)
    shown._take("sheet")
    assert kept.value.page == "sheet"
    assert shown.saying.is_loud
