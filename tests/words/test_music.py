import pytest
from msgspec.structs import replace

from chalkfret.model import (
    BeatUnit,
    Capo,
    Key,
    Meter,
    Mode,
    NoteNaming,
    Swing,
    SwingUnit,
    Tempo,
    Winding,
)
from chalkfret.model.start import STANDARD_SETUP, plain_setup
from chalkfret.strings.cautions import Caution, CautionCode, cautions
from chalkfret.strings.tension import tension
from chalkfret.strings.tunings import named
from chalkfret.words import music, strings
from tests.builder import lesson, part, section, tuned

LOW = tuned("C2 G2 C3 F3 A3 D4")


def line_of(riff: str, key: str | None, setup: object = LOW, **more: object) -> str:
    whole = lesson(section("A", riff, key=key), parts=(part("Low", setup),))
    return music.key_line(whole.sections[0], whole.parts[0], 0, **more)


def test_the_line_under_a_sections_banner() -> None:
    assert line_of("q 6:3", "Eb lydian") == "E♭ Lydian, root at fret 3 of string 6"
    assert line_of("q 6:0", "C minor") == "C minor, root on open string 6"
    assert line_of("q 6:0", None) == ""
    capo = replace(LOW, capo=Capo(2))
    assert line_of("q 6:1", "Eb lydian", capo) == (
        "E♭ Lydian, root at fret 1 above the capo on string 6"
    )
    german = line_of("q 5:4", "B minor", naming=NoteNaming.GERMAN)
    assert german == "H minor, root at fret 4 of string 5"


def test_keys() -> None:
    assert music.key_words(Key("F#")) == "F♯"
    assert music.key_words(Key("F#", Mode.PHRYGIAN_DOMINANT)) == "F♯ Phrygian dominant"
    assert music.key_words(Key("D", degrees=("1", "b2", "#4"))) == "D with 1 ♭2 ♯4"


@pytest.mark.parametrize("mode", Mode)
def test_every_mode_has_a_name(mode: Mode) -> None:
    assert music.mode_words(mode)


def test_scale_notes_stand_over_degrees() -> None:
    steps = music.scale_steps(Key("Eb", Mode.LYDIAN))
    assert [step.note for step in steps] == ["E♭", "F", "G", "A", "B♭", "C", "D"]
    assert [step.degree for step in steps] == ["1", "2", "3", "♯4", "5", "6", "7"]
    simple = music.scale_steps(Key("D#", Mode.MAJOR), simple=True)
    assert [step.note for step in simple] == ["D♯", "E♯", "G", "G♯", "A♯", "B♯", "D"]


def test_tempos_meters_swing() -> None:
    assert music.tempo_words(Tempo(120.0)) == "120 quarter notes a minute"
    slower = Tempo(96.0, BeatUnit.DOTTED_QUARTER, 72.5)
    assert music.tempo_words(slower) == ("96 to 72.5 dotted quarter notes a minute, getting slower")
    assert music.meter_words(Meter(7, 8)) == "7/8"
    assert music.swing_words(None) == ""
    assert music.swing_words(Swing(SwingUnit.SIXTEENTH, 1.5)) == "swung sixteenths, 1.5 to 1"


def test_tensions() -> None:
    string = STANDARD_SETUP.courses[5].strings[0]
    pull = tension(string, STANDARD_SETUP)
    assert pull is not None
    assert strings.tension_words(pull) == "17.5 lb, 78 N"
    assert strings.tension_words(None) == "not computed"
    assert strings.sources_words([(pull, string.winding)]) == (
        "from a string maker's published table, ± 5 %; another make may differ by 30 %"
    )
    plain = tension(STANDARD_SETUP.courses[0].strings[0], STANDARD_SETUP)
    assert plain is not None
    assert strings.sources_words([(plain, Winding.PLAIN)]).endswith("± 1 %")
    assert strings.sources_words([(plain, Winding.PLAIN), (pull, string.winding)]) == (
        "from a string maker's published table, ± 1 to 5 %; another make may differ by 30 %"
    )


def test_tunings() -> None:
    assert strings.setup_tuning_words(LOW) == "Drop C: C G C F A D"
    assert strings.setup_tuning_words(tuned("C#2 G2 C3 F3 A3 D4")) == "C♯ G C F A D"
    tuning = named("whole step down")
    assert tuning is not None
    assert strings.tuning_words(tuning) == "D standard (whole step down)"


@pytest.mark.parametrize("code", CautionCode)
def test_every_caution_has_its_words(code: CautionCode) -> None:
    words = strings.caution_words(Caution(code, course=6, lb=7.25))
    assert words.endswith(".")
    assert "None" not in words


def test_a_change_of_tension_is_said_with_its_sign() -> None:
    low = plain_setup(["C2", "G2", "C3", "F3", "A3", "D4"])
    words = [strings.caution_words(caution) for caution in cautions(low)]
    assert words[1].endswith("Here all strings together change by −24 lb.")


@pytest.mark.parametrize("winding", Winding)
def test_every_winding_has_a_name(winding: Winding) -> None:
    assert strings.winding_words(winding)
