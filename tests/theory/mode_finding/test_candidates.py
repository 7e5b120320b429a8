"""Candidates of tonic and mode: order, ties and reasons, on riffs that can be checked by eye."""

import pytest
from hypothesis import given

from chalkfret.model import Key, Mode
from chalkfret.model.pitch import pitch_class
from chalkfret.theory.mode_finding.candidates import Finding, candidates, spelled
from chalkfret.theory.mode_finding.evidence import Heard, count
from chalkfret.theory.mode_finding.reasons import Why
from chalkfret.theory.mode_finding.section import contradicted, found_in
from tests.builder import lesson, part, section, tuned
from tests.strategies import lessons

LOW_C = part("Low", tuned("C2 G2 C3 F3 A3 D4"))


def found(line, setup=LOW_C, **head):
    made = lesson(section("A", line, **head), parts=(setup,))
    return found_in(made.sections[0], made.parts)


def whys(candidate):
    return {one.why: one for one in candidate.reasons}


PHRYGIAN = "e 6:0 0 1 0 3 1 0 0 | e 6:0 7 8 7 10 8 7 5"


def test_two_bars_over_an_open_low_string():
    first = found(PHRYGIAN).candidates[0]
    assert first.key == Key("C", Mode.PHRYGIAN)
    why = whys(first)
    assert (why[Why.FITS].count, why[Why.FITS].many) == (16, 16)
    assert (why[Why.RULES_OUT].degree, why[Why.RULES_OUT].other) == ("b2", Mode.MINOR)
    assert why[Why.LOW_OPEN].count == 6
    assert Why.BEGINS in why
    assert Why.ENDS not in why  # a riff loops


def test_bars_whose_lowest_strong_note_is_the_tonic_are_counted():
    line = " | ".join(["e 6:0 3 7 3 0 10 7 3"] * 7 + ["e 6:5 3 7 3 5 10 7 3"])
    first = found(line).candidates[0]
    assert pitch_class(first.key.tonic) == 0
    assert (whys(first)[Why.BASS].count, whys(first)[Why.BASS].many) == (7, 8)


def test_what_is_not_played_ties():
    """1 2 b3 4 5 b7 on C: without a sixth, Dorian fits as well as minor."""
    two = found("e 6:0 2 3 5 7 10 0 0 | e 6:0 10 7 5 3 2 0 0")
    keys = [one.key for one in two.candidates[: two.tied]]
    assert {Key("C", Mode.MINOR), Key("C", Mode.DORIAN)} <= set(keys)
    (missing,) = [r for r in two.candidates[0].reasons if r.why is Why.NOT_PLAYED]
    assert missing.degree in ("b6", "6")


def test_the_sixth_decides():
    natural = found("e 6:0 2 3 5 7 9 10 0 | e 6:0 9 7 5 3 2 0 0")
    flat = found("e 6:0 2 3 5 7 8 10 0 | e 6:0 8 7 5 3 2 0 0")
    assert natural.candidates[0].key == Key("C", Mode.DORIAN)
    assert flat.candidates[0].key == Key("C", Mode.MINOR)
    assert (natural.tied, flat.tied) == (0, 0)


def test_the_fifth_of_a_power_chord_is_its_roots_shadow():
    """The chord on 2 brings a natural 6, which the line in minor under it does not have."""
    chords = "q 6:0+5:0 6:2+5:2 e 6:3 2 0 8 | q 6:0+5:0 6:2+5:2 e 6:10 8 7 5"
    assert found(chords).candidates[0].key == Key("C", Mode.MINOR)


def test_a_note_passed_through_by_semitones_counts_a_quarter():
    notes = [Heard(m, at, 1, 0) for at, m in enumerate((40, 45, 46, 47, 40, 46, 40))]
    share = count(notes, ended=False).share
    assert share[46 % 12] == pytest.approx((0.25 + 1) / 6.25)


def test_an_end_counts_only_where_the_music_ends():
    notes = [Heard(m, at, 1, 4 if at % 4 == 0 else 1, at // 4)
             for at, m in enumerate((62, 64, 65, 67, 69, 71, 72, 69, 62, 64, 60, 62))]  # fmt: skip
    looped, ended = candidates(notes), candidates(notes, ended=True)
    assert Why.ENDS in whys(ended.candidates[0])
    assert ended.candidates[0].key == Key("D", Mode.DORIAN)
    assert all(Why.ENDS not in whys(one) for one in looped.candidates)


@pytest.mark.parametrize("line", ["q r", "q 6:0 0 0 0", "q 6:0 3"])
def test_too_little_gives_nothing(line):
    assert found(line) == Finding()


def test_names_of_tonics_have_the_fewest_accidentals():
    assert spelled(1, Mode.MAJOR).tonic == "Db"
    assert spelled(1, Mode.MINOR).tonic == "C#"
    assert spelled(10, Mode.PHRYGIAN).tonic in ("A#", "Bb")


@given(lessons())
def test_any_section_has_candidates_in_order_that_hold_what_they_say(made):
    for one in made.sections:
        result = found_in(one, made.parts)
        scores = [candidate.score for candidate in result.candidates]
        assert scores == sorted(scores, reverse=True) or result.tied
        assert result.tied != 1
        assert result.tied <= len(result.candidates)
        for candidate in result.candidates:
            fits = whys(candidate)[Why.FITS]
            assert 0 <= fits.count <= fits.many


def contradiction(line, key):
    made = lesson(section("A", line, key=key), parts=(LOW_C,))
    return contradicted(made.sections[0], made.parts)


def test_a_key_that_the_notes_contradict_is_told_with_its_bar():
    line = "e 6:0 0 7 0 12 0 7 0 | e 6:1 8 1 3 1 8 10 8"
    told = contradiction(line, "C major")
    assert told is not None
    assert (told.bar, told.better) == (1, Key("C", Mode.PHRYGIAN))
    assert (told.outside, told.notes) == (8, 16)


@pytest.mark.parametrize("key", ["C phrygian", "C", None, "C minor"])
def test_a_fitting_key_a_bare_tonic_and_a_near_mode_are_not(key):
    assert contradiction(PHRYGIAN, key) is None
