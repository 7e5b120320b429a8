"""Why the notes are in a tonic and mode, in words: one line a reason."""

from __future__ import annotations

from chalkfret.model.lesson import NoteNaming
from chalkfret.model.section import Key
from chalkfret.theory.mode_finding.candidates import Candidate, Finding
from chalkfret.theory.mode_finding.reasons import Reason, Why
from chalkfret.theory.naming import degree_shown, shown
from chalkfret.theory.scales import note_of_degree
from chalkfret.words.music import mode_words
from chalkfret.words.text import _, ngettext


def reasons_words(candidate: Candidate, naming: NoteNaming = NoteNaming.ENGLISH) -> tuple[str, ...]:
    """The reasons of a candidate, a line each."""
    return tuple(reason_words(one, candidate.key, naming) for one in candidate.reasons)


def reason_words(reason: Reason, key: Key, naming: NoteNaming = NoteNaming.ENGLISH) -> str:
    """One reason: ``fits 19 of 19 notes``, ``natural 6 rules out minor``."""
    text = _text(reason)
    note = shown(note_of_degree(key.tonic, reason.degree), naming) if reason.degree else ""
    return text.format(
        count=reason.count,
        many=reason.many,
        degree=degree_shown(reason.degree),
        note=note,
        tonic=shown(key.tonic, naming),
        other="" if reason.other is None else mode_words(reason.other),
    )


def _text(reason: Reason) -> str:
    natural = reason.degree.isdigit()
    match reason.why:
        case Why.FITS:
            return ngettext("fits {count} of {many} note", "fits {count} of {many} notes",
                            reason.many)  # fmt: skip
        case Why.OUTSIDE:
            return ngettext(
                "{note} ({degree}) is not of the scale and is played {count} time",
                "{note} ({degree}) is not of the scale and is played {count} times",
                reason.count,
            )
        case Why.RULES_OUT:
            if natural:
                return _("natural {degree} rules out {other}")
            return _("{degree} rules out {other}")
        case Why.NOT_PLAYED:
            if natural:
                return _("natural {degree} is not played, so {other} fits as well")
            return _("{degree} is not played, so {other} fits as well")
        case Why.BASS:
            return ngettext(
                "the lowest note on strong beats is {tonic} in {count} of {many} bar",
                "the lowest notes on strong beats are {tonic} in {count} of {many} bars",
                reason.many,
            )
        case Why.LOW_OPEN:
            return ngettext(
                "the low string is {tonic} and is struck open {count} time",
                "the low string is {tonic} and is struck open {count} times",
                reason.count,
            )
        case Why.BEGINS:
            return _("the first bar line has {tonic}")
        case Why.ENDS:
            return _("the last note is {tonic}")


def tie_words(found: Finding) -> str:
    """That the notes do not decide; empty where they do."""
    if not found.tied:
        return ""
    return ngettext(
        "{count} scale fits equally: the notes do not decide",
        "{count} scales fit equally: the notes do not decide",
        found.tied,
    ).format(count=found.tied)
