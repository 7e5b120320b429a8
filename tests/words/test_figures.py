"""Numbers are written as the language writes them."""

import pytest

from chalkfret.words.figures import fixed, inches_words, number_words, signed
from chalkfret.words.text import speak


@pytest.fixture
def german():
    speak("de")
    yield
    speak(None)


def test_german_and_spanish_have_a_decimal_comma(german):
    assert fixed(14.25, 1) == "14,2"
    assert signed(-4.5, 1) == "−4,5"
    assert number_words(92.5) == "92,5"
    assert inches_words(25.5) == "25,5"
    speak("es")
    assert fixed(0.5, 2) == "0,50"


def test_english_has_a_point_and_idle_zeros_go():
    speak(None)
    assert [number_words(each) for each in (96.0, 92.5, -0.0001)] == ["96", "92.5", "0"]
    assert signed(3, 0) == "+3"
