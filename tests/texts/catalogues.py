"""The texts of the code, and the catalogues that translate them.

Each language has ``resources/translations/LANGUAGE/LC_MESSAGES/chalkfret.po``, which people edit,
and the ``.mo`` compiled from it, which the program reads. Neither carries dates or line numbers:
they change only where a text does.
"""

from __future__ import annotations

import io
from datetime import UTC, datetime
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from chalkfret.words.text import DOMAIN, TRANSLATIONS

APP = Path(__file__).parents[2] / "app" / "chalkfret"
KEYWORDS = {"_": None, "N_": None, "ngettext": (1, 2)}
COMMENT = "For translators:"
_NO_TIME = datetime(2000, 1, 1, tzinfo=UTC)
_IDLE_HEADERS = (
    b'"POT-Creation-Date', b'"PO-Revision-Date', b'"Generated-By', b'"Report-Msgid-Bugs-To',
    b'"Last-Translator', b'"Language-Team',
)  # fmt: skip


def template() -> Catalog:
    """Every text of the code, with the files it stands in."""
    made = Catalog(project="Chalkfret", charset="utf-8", fuzzy=False)
    found = extract_from_dir(
        str(APP), keywords=KEYWORDS, comment_tags=(COMMENT,), strip_comment_tags=True
    )
    for name, _line, message, comments, _context in found:
        made.add(message, None, [(name, 0)], auto_comments=comments)
    return made


def languages() -> list[str]:
    """The languages that have a catalogue."""
    return sorted(path.parents[1].name for path in TRANSLATIONS.glob(f"*/LC_MESSAGES/{DOMAIN}.po"))


def po_path(language: str) -> Path:
    return TRANSLATIONS / language / "LC_MESSAGES" / f"{DOMAIN}.po"


def read(language: str) -> Catalog:
    """A language's catalogue as its translators left it."""
    with po_path(language).open("rb") as file:
        return read_po(file, locale=language, domain=DOMAIN)


def as_po(catalogue: Catalog) -> bytes:
    out = io.BytesIO()
    write_po(
        out, catalogue, width=100, sort_output=True, include_lineno=False,
        omit_header=False, ignore_obsolete=True,
    )  # fmt: skip
    lines = out.getvalue().splitlines(True)
    return b"".join(line for line in lines if not line.startswith(_IDLE_HEADERS))


def as_mo(catalogue: Catalog) -> bytes:
    out = io.BytesIO()
    # The time of a reading is no news: the same texts are the same bytes.
    catalogue.creation_date = catalogue.revision_date = _NO_TIME
    write_mo(out, catalogue)
    return out.getvalue()


def updated(language: str, texts: Catalog) -> Catalog:
    """The catalogue with the texts of now: new ones empty, those that are gone left out."""
    catalogue = read(language)
    catalogue.update(texts, no_fuzzy_matching=True)
    catalogue.obsolete.clear()
    return catalogue
