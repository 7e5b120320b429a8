"""Nothing is clipped and nothing overlaps: all pages and all that actions open, in all languages,
with text from 100 to 200 %, from a small window to a very large one."""

import pytest

from chalkfret.desk.settings import open_settings
from chalkfret.desk.window import Window
from tests.desk.access.fit import misfits
from tests.desk.access.pseudo import LANGUAGES, PSEUDO, speak
from tests.desk.access.tour import Tour

SMALL, USUAL, LARGE, HUGE = (1024, 640), (1280, 800), (1920, 1080), (3840, 2160)


@pytest.fixture
def toured(qtbot, look, text_size, monkeypatch, tmp_path):
    """Tour a new window of this language, text size and size; fail with all that does not fit."""

    def go(language, percent, size, actions):
        speak(language, monkeypatch)
        text_size(percent)
        window = Window(look, open_settings())
        qtbot.addWidget(window, before_close_func=lambda one: one.document.undo_stack.setClean())
        window.resize(*size)
        window.show()
        window.activateWindow()
        found = {}
        tour = Tour(window, lambda scene, root: found.update({scene: misfits(root)}), monkeypatch)
        tour.pages(tmp_path / "bad.chalkfret")
        if actions:
            tour.actions()
        wrong = [f"{scene}: {one}" for scene, some in found.items() for one in some]
        if wrong:
            pytest.fail("\n".join(wrong), pytrace=False)

    return go


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("percent", [100, 150, 200])
@pytest.mark.parametrize("size", [SMALL, LARGE], ids=["small", "large"])
def test_every_page_fits(toured, language, percent, size):
    toured(language, percent, size, actions=False)


@pytest.mark.parametrize("percent", [100, 200])
def test_every_page_fits_on_a_very_large_screen(toured, percent):
    toured(PSEUDO, percent, HUGE, actions=False)


@pytest.mark.parametrize("percent", [100, 200])
def test_whatever_an_action_opens_fits(toured, percent):
    toured(PSEUDO, percent, SMALL, actions=True)
