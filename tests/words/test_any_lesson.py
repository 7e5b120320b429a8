"""Whatever a lesson holds, its words can be said."""

from hypothesis import given

from chalkfret.model import Lesson, setup_in
from chalkfret.strings.cautions import cautions
from chalkfret.strings.tension import tension
from chalkfret.words.music import key_line, scale_steps, swing_words, tempo_words
from chalkfret.words.remarks import remarks
from chalkfret.words.sentences import sentence
from chalkfret.words.strings import (
    caution_words,
    setup_tuning_words,
    sources_words,
    tension_words,
)
from tests.files.anything import sound_lessons


@given(sound_lessons)
def test_every_remark_is_a_sentence(lesson: Lesson) -> None:
    for remark in remarks(lesson):
        assert len(sentence(remark)) > 20


@given(sound_lessons)
def test_every_section_and_setup_has_words(lesson: Lesson) -> None:
    naming = lesson.head.note_naming
    for section in lesson.sections:
        assert tempo_words(section.head.tempo)
        swing_words(section.head.swing)
        if section.head.key is not None:
            assert scale_steps(section.head.key, naming, lesson.head.simple_names)
        for index, part in enumerate(lesson.parts):
            assert bool(key_line(section, part, index, naming)) == bool(section.head.key)
            setup = setup_in(section, part)
            assert setup_tuning_words(setup, naming)
            assert all(caution_words(caution) for caution in cautions(setup))
            for string in (string for course in setup.courses for string in course.strings):
                pull = tension(string, setup)
                assert tension_words(pull)
                assert pull is None or sources_words([(pull, string.winding)])
