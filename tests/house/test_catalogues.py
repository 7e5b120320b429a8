"""Every text of the program is there in every language, with the same gaps to fill."""

import re

import pytest
from babel.messages.catalog import Catalog, Message

from tests.texts.catalogues import as_mo, as_po, languages, po_path, read, template, updated

LANGUAGES = languages()
_GAPS = re.compile(r"\{[^}]*\}")


@pytest.fixture(scope="module")
def texts() -> Catalog:
    return template()


def _pairs(message: Message) -> list[tuple[str, str]]:
    """Each text with its translation; the singular is held to what the plural may leave out."""
    if isinstance(message.id, str):
        return [(message.id, message.string)]
    return list(zip(message.id, message.string, strict=True))


def test_german_and_spanish_are_there():
    assert {"de", "es"} <= set(LANGUAGES)


@pytest.mark.parametrize("language", LANGUAGES)
def test_nothing_is_missing_and_nothing_is_left_over(texts, language):
    have = read(language)
    wanted = {message.id for message in texts if message.id}
    assert {message.id for message in have if message.id} == wanted, "run: python -m tests.texts"
    empty = [text for message in have if message.id for text, said in _pairs(message) if not said]
    assert not empty
    assert not [message.id for message in have if message.id and message.fuzzy]


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_compiled_catalogue_and_the_order_are_those_of_the_command(texts, language):
    path = po_path(language)
    assert as_po(updated(language, texts)) == path.read_bytes(), "run: python -m tests.texts"
    assert as_mo(read(language)) == path.with_suffix(".mo").read_bytes()


@pytest.mark.parametrize("language", LANGUAGES)
def test_gaps_keys_and_ends_are_those_of_the_text(language):
    wrong = []
    for message in read(language):
        for text, said in _pairs(message) if message.id else []:
            same = (
                sorted(set(_GAPS.findall(text))) == sorted(set(_GAPS.findall(said)))
                and text.count("\n") == said.count("\n")
                and ("&" in text) == ("&" in said)
                and text.startswith(" ") == said.startswith(" ")
                and text.endswith(" ") == said.endswith(" ")
                and text.endswith(("…", ".", ":")) == said.endswith(("…", ".", ":"))
            )
            wrong += [] if same else [(text, said)]
    assert not wrong
