"""The matcher: what is begun is found, typing on narrows, and equals keep their order."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chalkfret.desk.find.matching import (
    BEGINS,
    INITIALS,
    INSIDE,
    SCATTERED,
    WORD,
    answer,
    folded,
    numbered,
    words_of,
)

LETTERS = st.sampled_from("abcdeßéñöüçøABCÉ")
WORDS = st.text(LETTERS, min_size=1, max_size=7)
TEXTS = st.lists(WORDS, min_size=1, max_size=5).map(" ".join)


def found(typed: str, text: str) -> bool:
    return answer(words_of(typed), text) is not None


@given(TEXTS, st.data())
def test_the_beginning_of_any_word_finds_it(text, data):
    word = data.draw(st.sampled_from(text.split()))
    length = data.draw(st.integers(1, len(word)))
    assert found(word[:length], text)


@given(TEXTS, st.data())
def test_beginnings_of_several_words_find_it_in_any_order(text, data):
    words = data.draw(st.permutations(text.split()))
    typed = " ".join(word[: data.draw(st.integers(1, len(word)))] for word in words)
    assert found(typed, text)


@given(TEXTS)
def test_the_first_letters_of_its_words_find_it(text):
    assert found("".join(word[0] for word in words_of(text)), text)


@given(TEXTS, st.text(st.sampled_from("abcdeé ñö"), max_size=8), WORDS)
def test_what_more_letters_find_fewer_found_too(text, typed, more):
    if found(typed + more, text):
        assert found(typed, text)


@given(TEXTS, TEXTS)
def test_case_and_accents_make_no_difference(typed, text):
    bare = "".join(
        sign for sign in unicodedata.normalize("NFD", typed) if not unicodedata.combining(sign)
    )
    how = answer(words_of(typed), text)
    assert how == answer(words_of(typed.swapcase()), text)
    assert how == answer(words_of(bare), text)
    assert folded(folded(text)) == folded(text)


@pytest.mark.parametrize(
    ("typed", "text", "way"),
    [
        ("palm", "Palm mute", WORD),
        ("mut", "Palm mute", BEGINS),
        ("pm", "Palm mute", INITIALS),
        ("lm", "Palm mute", INSIDE),
        ("plm", "Palm mute", SCATTERED),
        ("starke", "Stärke der Saiten", WORD),
        ("strasse", "Straße", WORD),
        ("ctrl+d", "Duplicate Ctrl+D", WORD),
        ("12", "Bar 12", WORD),
        ("1", "Bar 12", BEGINS),
        ("b12", "Bar 12", BEGINS),
    ],
)
def test_the_ways_of_answering(typed, text, way):
    worst, _total, _first = answer(words_of(typed), text)
    assert worst == way


@pytest.mark.parametrize(
    ("typed", "text"),
    [("2", "Bar 12"), ("13", "Bar 123"), ("xq", "Palm mute"), ("mp", "Palm mute"), ("ap", "Palm")],
)
def test_what_does_not_answer(typed, text):
    assert not found(typed, text)


@given(
    st.lists(
        st.sampled_from(["bar", "ba", "1", "12", "2", "0", "20", "verse", "v", "x"]), max_size=3
    ),
    st.sampled_from(["Bar Section A", "Bar Section 2: Verse", "Bar Section B: Verse 12"]),
    st.integers(1, 150),
)
def test_bars_by_their_number_are_as_if_each_were_written_out(typed, common, count):
    every = {
        number: how
        for number in range(1, count + 1)
        if (how := answer(typed, f"{common} {number}")) is not None
    }
    assert dict(numbered(typed, common, count)) == every
