"""Catalogues drop in: one made on the spot is spoken, and without one the texts stay English."""

import struct
from collections.abc import Iterator
from pathlib import Path

import pytest

from chalkfret.model import Where, fault
from chalkfret.words import text
from chalkfret.words.sentences import sentence


def catalogue(texts: dict[str, str]) -> bytes:
    """A compiled catalogue (GNU gettext manual, "The Format of GNU MO Files")."""
    rows = sorted({"": "Content-Type: text/plain; charset=UTF-8\n", **texts}.items())
    keys = [key.encode() for key, _ in rows]
    values = [value.encode() for _, value in rows]
    start = 28 + 16 * len(rows)
    tables, blob = [], b""
    for column in (keys, values):
        for entry in column:
            tables += [len(entry), start + len(blob)]
            blob += entry + b"\0"
    head = struct.pack("<7I", 0x950412DE, 0, len(rows), 28, 28 + 8 * len(rows), 0, 0)
    return head + struct.pack(f"<{len(tables)}I", *tables) + blob


@pytest.fixture
def german(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    texts = {
        "bar {number}": "Takt {number}",
        "section {letter}": "Teil {letter}",
        "there are no notes. Write some, or remove the section.": "keine Noten.",
    }
    (folder / "chalkfret.mo").write_bytes(catalogue(texts))
    monkeypatch.setattr(text, "TRANSLATIONS", tmp_path)
    text._catalogue.cache_clear()
    yield
    text.speak(None)
    text._catalogue.cache_clear()


def test_without_a_catalogue_the_texts_are_english() -> None:
    text.speak("xx")
    try:
        assert text._("bar {number}") == "bar {number}"
        assert text.ngettext("one", "many", 1) == "one"
        assert text.ngettext("one", "many", 2) == "many"
    finally:
        text.speak(None)


@pytest.mark.usefixtures("german")
def test_a_catalogue_is_spoken_at_once_when_it_is_chosen() -> None:
    empty = fault("section_empty", Where(section="A"))
    assert sentence(empty).startswith("section A: there are no notes.")
    text.speak("de")
    assert sentence(empty) == "Teil A: keine Noten."
    text.speak(None)
    assert sentence(empty).startswith("section A: there are no notes.")
