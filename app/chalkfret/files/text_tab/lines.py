"""A text as lines: which of them are strings of a tab, which stand above strings, which are words.

Conventions
-----------
- Lines count from 1, columns from 0 in code and from 1 in faults.
- ``text`` of a line is the line as tab is read: typographic dashes, bars and spaces made plain,
  tab stops set out, the ``>`` of a quoted mail taken off; ``raw`` is the line as it stands.
"""

from __future__ import annotations

import re
from typing import Final

from msgspec import Struct

from chalkfret.files.text_tab.heads import INDENT, read_meter
from chalkfret.files.text_tab.lengths import WORD

_PLAIN: Final = str.maketrans(
    dict.fromkeys("‐‑‒–—―−─━┄┅┈┉╌═⎯﹣－_", "-")
    | dict.fromkeys("│┃╎╏┆┇┊┋║¦∣｜‖┤├┼┬┴╫╪", "|")
    | dict.fromkeys("\u00a0\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u3000", " ")
    | dict.fromkeys("\u200b\u200c\u200d\u2060\ufeff\u00ad", None)
    | {"♯": "#", "♭": "b", "’": "'", "‘": "'", "×": "x", "∼": "~", "～": "~", "≈": "~", "／": "/"}
)  # fmt: skip
_QUOTED: Final = re.compile(r"^(?:\s?>)+ ?")
_NAME: Final = r"[A-Ha-h](?:##?|bb?)?\d?|(?:Do|Re|Mi|Fa|Sol|La|Si)[#b]?"
_MARGIN: Final = re.compile(
    rf"\s*(?:(?P<name>{_NAME})(?![A-Za-z])|(?P<number>1[0-2]|[1-9])(?=\s*[|:)\]]))?"
    r"\s*(?P<sep>[):\]]?\s*(?=[|+\-:]))"
)
_BODY: Final = frozenset("-|0123456789hHpPbBrRsStTxXvVmLduz/\\~^()<>[]{}=*o.:'+ ½¼1fl")
_SCRAP: Final = frozenset("-=0123456789xXhp/\\~b()<>")
_STRING_MAX: Final = 10_000  # characters; a longer line is no string
_FULL_WORDS: Final = re.compile(r"full|½|¼|tr")
_SPAN_WORD: Final = re.compile(
    r"(?P<PM>P\.?\s?M\.?)|(?P<ring>let ring|l\.\s?r\.|LR\b|ring)|(?P<TP>T\.?P\.?)", re.IGNORECASE
)
_SPANS: Final = re.compile(
    r"(?:\s*(?:P\.?\s?M\.?|let ring|l\.\s?r\.|LR\b|TP|T\.P\.)[-. _~]*[|>]?)+\s*", re.IGNORECASE
)
ENDING: Final = re.compile(r"\[?(\d{1,2}(?:\s?[,-]\s?\d{1,2})*)\.\]?-*\|?")
TIMES: Final = re.compile(r"\(?(?:x\s?(\d{1,2})|(\d{1,2})\s?x|(\d{1,2}) times)\)?", re.IGNORECASE)
_COUNTED: Final = re.compile(r"\(?(\d{1,2}|[&+]|and|[ea]|ah|\.)\)?")


class Line(Struct, frozen=True):
    """A line; ``names`` a string only where ``start``, the column of its first sign, is not -1."""

    number: int
    raw: str
    text: str
    start: int = -1
    name: str = ""
    sure: bool = False  # a string wherever it stands; else only among strings


def lines_of(text: str) -> list[Line]:
    """The lines of a text, strings marked."""
    raws = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    plain = [_plain(raw) for raw in raws]
    filled = [one for one in plain if one.strip()]
    quoted = sum(1 for one in filled if _QUOTED.match(one))
    if quoted * 2 > len(filled):
        plain = [_QUOTED.sub("", one) for one in plain]
        raws = [_QUOTED.sub("", raw) for raw in raws]
    lines: list[Line] = []
    in_notes = False  # where a teacher may write tab without meaning music
    for number, (raw, one) in enumerate(zip(raws, plain, strict=True), 1):
        set_in = raw.startswith(INDENT)
        in_notes = raw == "Notes:" or (in_notes and (set_in or not raw.strip()))
        lines.append(Line(number, raw, one) if in_notes and set_in else _line(number, raw, one))
    return lines


def _plain(raw: str) -> str:
    return raw.expandtabs(8).translate(_PLAIN).rstrip()


def _line(number: int, raw: str, text: str) -> Line:
    plain = Line(number, raw, text)
    if (
        not 0 < len(text) <= _STRING_MAX
        or _SPANS.fullmatch(text)
        or ("-" not in text and "|" not in text and "=" not in text and "+" not in text)
    ):
        return plain
    match = _MARGIN.match(text)
    if match is None:
        return Line(number, raw, text, 0) if _is_scrap(text.rstrip("|")) else plain
    named = match["name"] or match["number"] or ""
    start = match.end() if match["sep"] or match.end() else 0
    body = text[start:]
    if "-" not in body and "=" in body and body.count("=") > 3:
        text = text[:start] + body.replace("=", "-")
        body = text[start:]
    judged = body[: words_behind(body)].rstrip()
    judged = _FULL_WORDS.sub("", judged)
    strange = sum(1 for sign in judged if sign not in _BODY)
    ruled = judged.count("-") + judged.count("|") + judged.count("=")
    solid = len(judged.replace(" ", ""))
    framed = bool(named) and len(judged) > 1 and judged[0] in "|+" and judged[-1] in "|+"
    thin = ruled * 3 < solid and (strange or not framed)
    if not solid or strange * 10 > solid or thin:
        return plain
    sure = judged.count("-") >= 3 or framed
    if not sure and strange:
        return plain
    return Line(number, raw, text, start, named, sure)


def _is_scrap(text: str) -> bool:
    """Whether a text can be a piece of a string, broken off anywhere."""
    return set(text) <= _SCRAP and ("-" in text or "=" in text)


def words_behind(text: str) -> int:
    """The column behind a string's last bar line from which words follow it; else its length."""
    cut = text.rfind("|") + 1
    tail = text[cut:]
    is_tab = not tail.strip(" :*o") or tail.rstrip()[-1] == "+" or "--" in tail
    is_tab = is_tab or _is_scrap(tail)
    return cut if cut > 1 and not is_tab else len(text)


def lane_of(text: str) -> str:
    """What a line above strings says: ``rhythm``, ``count``, ``spans`` ..., or nothing known."""
    if _SPANS.fullmatch(text):
        return "spans"
    words = text.split()
    if not words or len(words) > 400:
        return ""
    if all(map(WORD.fullmatch, words)) and set(words) != {"E"}:
        return "rhythm"
    if set(words) <= set("dDuUnNvV") and (len(words) > 1 or words[0] in "du"):
        return "strokes"
    if set(words) <= {">", "^"}:
        return ">"
    if set(words) == {"."}:
        return "."
    if all(_bar_word(word) for word in words):
        return "bars"
    first = words[0].strip("()")
    if (first.isdigit() or first in "+&") and all(map(_COUNTED.fullmatch, words)):
        return "count"
    return ""


def _bar_word(word: str) -> bool:
    return bool(
        word == "pickup" or ENDING.fullmatch(word) or TIMES.fullmatch(word) or read_meter(word)
    )


def words_at(text: str) -> list[tuple[int, str]]:
    """The words of a line with their columns."""
    return [(match.start(), match[0]) for match in re.finditer(r"\S+", text)]


def spans_at(text: str) -> list[tuple[str, int, int]]:
    """``PM``, ``ring`` or ``TP`` with its first and last column; one without a line has one."""
    found = []
    matches = list(_SPAN_WORD.finditer(text))
    for index, match in enumerate(matches):
        stop = matches[index + 1].start() if index + 1 < len(matches) else len(text)
        rest = text[match.end() : stop].rstrip()
        lined = re.match(r"[-. _~]*[|>]?", rest)
        end = (
            match.end() + len(lined[0].rstrip()) - 1
            if lined and lined[0].strip()
            else match.start()
        )
        found.append((str(match.lastgroup), match.start(), end))
    return found
