import re
from string import Formatter

import pytest

from chalkfret.model import Where, fault
from chalkfret.words.fault_texts import ONE, TEXTS, WITH
from chalkfret.words.figures import number_words
from chalkfret.words.sentences import place_words, sentence
from tests.words.codes import Made, all_made

MADE = all_made()


def figures_of(text: str) -> set[str]:
    """The figures that a text names."""
    names = (name for _, name, _, _ in Formatter().parse(text) if name)
    return {name.removesuffix("_quarters") for name in names}


def test_every_code_has_a_text() -> None:
    missing = {f"{made.code} ({made.place})" for made in MADE if made.code not in TEXTS}
    assert not missing


def test_every_text_has_a_code() -> None:
    made = {one.code for one in MADE}
    assert set(TEXTS) <= made, "texts of faults that nothing makes"
    assert {code for code, _ in WITH} <= set(TEXTS)


@pytest.mark.parametrize(
    "made",
    [one for one in MADE if one.figures is not None],
    ids=lambda one: f"{one.place}-{one.code}",
)
def test_a_text_names_only_figures_that_its_fault_has(made: Made) -> None:
    assert made.figures is not None
    assert figures_of(TEXTS[made.code]) <= made.figures


@pytest.mark.parametrize("code", TEXTS)
def test_every_text_says_what_is_wrong_and_what_to_do(code: str) -> None:
    text = TEXTS[code]
    assert text.endswith((".", ")"))
    assert len(re.findall(r"[.:?!](?= |$)", text)) >= 2, "a fault and a remedy"
    assert not re.match(r"[A-Z][a-z]", text), "the place stands before it"


def test_place_and_remedy() -> None:
    where = Where("B", 3, "Low guitar", 7)
    said = sentence(fault("course_beyond_setup", where, course=7, courses=6))
    assert said == (
        "section B, bar 3, Low guitar: string 7 on a 6-string setup. "
        "Move the note to a string that is there, or give the setup more strings."
    )


def test_without_a_place_a_sentence_begins_as_one() -> None:
    assert sentence(fault("span_empty")).startswith("Nothing is selected.")


def test_ticks_are_said_in_quarters() -> None:
    where = Where("A", 1, "Lead", 2)
    said = sentence(fault("note_beyond_bar", where, end=22680, ticks=20160))
    assert said.startswith(
        "section A, bar 1, Lead, string 2: a note ends 4.5 quarters after the bar line, "
        "but the bar has 4."
    )


def test_a_fault_in_a_file_says_its_field() -> None:
    where = Where(section="B", bar=3)
    low = fault("number_too_small", where, field="head.meter[1]", value=0, least=1, most=32)
    assert sentence(low) == "section B, bar 3, head.meter[1]: 0 is too small. Make it 1 or more."


def test_a_figure_that_may_lack_is_said_where_it_is_there() -> None:
    where = Where(path="head")
    close = fault("key_unknown", where, field="tittle", key="tittle", close="title")
    assert sentence(close).endswith("Perhaps “title” is meant.")
    assert "Perhaps" not in sentence(fault("key_unknown", where, field="q", key="q"))


def test_others_like_it_are_counted() -> None:
    said = sentence(fault("notes_overlap", Where("A", 1), more=3))
    assert said.endswith("(3 more like it here.)")


def test_figures_with_braces_are_said_as_they_are() -> None:
    assert "“{0}”" in sentence(fault("cue_ends_before_start", label="{0}"))


def test_places() -> None:
    assert place_words(Where()) == ""
    assert place_words(Where("A", 2, "Bass", 4)) == "section A, bar 2, Bass, string 4"
    assert place_words(Where(path="order")) == "order"


def test_numbers() -> None:
    assert [number_words(n) for n in (1, 1.5, 2 / 3, -0.0001, 120.0)] == [
        "1", "1.5", "0.667", "0", "120",
    ]  # fmt: skip


def test_one_bar_and_one_note_have_sentences_of_their_own() -> None:
    assert {code for code, _ in ONE} <= set(TEXTS)
    one, two = (fault("tab_lengths_from_spacing", bars=bars) for bars in (1, 2))
    assert sentence(one).startswith("Lengths are not written above one bar with notes")
    assert sentence(two).startswith("Lengths are not written above 2 bars with notes")
    lost = fault("tab_strings_beyond", notes=1, part="Low", strings=7)
    assert sentence(lost).startswith("One note lies on a string that Low does not have. It is")
