"""Talking points in the reader's language: whole sentences, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Final

from chalkfret.model.lesson import NoteNaming
from chalkfret.words.talk import facts, say_music, say_setups
from chalkfret.words.text import N_, _

# How each kind is said, and the heading under which it stands in a list.
_KINDS: Final[dict[type[Any], tuple[Callable[[Any, NoteNaming], Iterator[str]], str]]] = {
    facts.Whole: (say_setups.whole, N_("Length")),
    facts.Tuned: (say_setups.tuned, N_("Tuning")),
    facts.Retuning: (say_setups.retuning, N_("How to get there")),
    facts.Feel: (say_setups.feel, N_("Strings")),
    facts.Student: (say_setups.student, N_("Other tunings")),
    facts.Pace: (say_music.pace, N_("Tempo")),
    facts.Changed: (say_music.changed, N_("What changes")),
    facts.KeyOf: (say_music.key, N_("Key")),
    facts.Shaped: (say_music.shaped, N_("What the frets suggest")),
    facts.NotesOf: (say_music.notes, N_("Notes")),
    facts.Second: (say_music.second, N_("The other guitar")),
    facts.Effect: (say_music.effect, N_("Effect")),
    facts.HardBar: (say_music.hard, N_("Hard bar")),
}


def sentences(fact: facts.Fact, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """A fact as one can say it, in one or a few sentences."""
    say, _heading = _KINDS[type(fact.what)]
    return " ".join(say(fact.what, naming))


def heading(fact: facts.Fact) -> str:
    """What a fact is about, in a word or two."""
    return _(_KINDS[type(fact.what)][1])
