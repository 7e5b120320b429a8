"""Faults and remarks as sentences: their place, what is wrong, and what to do about it.

``sentence(fault)`` is "section B, bar 3, Low guitar: string 7 on a 6-string setup. Move ...".
"""

from __future__ import annotations

from collections.abc import Iterator

from chalkfret.model.faults import Fault, Where
from chalkfret.model.meter import QUARTER
from chalkfret.words.fault_texts import FIGURE_WORDS, ONE, TEXTS, WITH
from chalkfret.words.figures import number_words
from chalkfret.words.text import _, ngettext


def sentence(fault: Fault) -> str:
    """The fault in the user's language. Raises KeyError for a code without a text."""
    figures = dict(_figures(fault))
    of_one = (ONE[fault.code, name] for name, count in fault.figures
              if count == 1 and (fault.code, name) in ONE)  # fmt: skip
    text = _(next(of_one, TEXTS[fault.code])).format_map(figures)
    for (code, figure), more in WITH.items():
        if code == fault.code and figure in figures:
            text += " " + _(more).format_map(figures)
    more_like_it = dict(fault.figures).get("more", 0)
    if isinstance(more_like_it, int) and more_like_it > 0:
        text += " " + ngettext(
            "({count} more like it here.)", "({count} more like it here.)", more_like_it
        ).format(count=more_like_it)
    places = list(_place(fault.where, "course" not in figures))
    if "field" in figures and "{field}" not in TEXTS[fault.code]:
        places.append(figures["field"])
    return f"{', '.join(places)}: {text}" if places else text[:1].upper() + text[1:]


def place_words(where: Where) -> str:
    """A place as one says it: ``section B, bar 3, Low guitar, string 5``; empty for nowhere."""
    return ", ".join(_place(where, with_string=True))


def _place(where: Where, with_string: bool) -> Iterator[str]:
    if where.section is not None:
        yield _("section {letter}").format(letter=where.section)
    if where.bar is not None:
        yield _("bar {number}").format(number=where.bar)
    if where.part is not None:
        yield where.part
    if where.course is not None and with_string:
        yield _("string {number}").format(number=where.course)
    if where.path is not None:
        yield where.path


def _figures(fault: Fault) -> Iterator[tuple[str, str]]:
    """The figures as they are written, those in ticks also in quarters."""
    for name, figure in fault.figures:
        if isinstance(figure, str):
            yield name, _(figure) if figure in FIGURE_WORDS else figure
        else:
            yield name, number_words(figure)
            yield f"{name}_quarters", number_words(figure / QUARTER)
