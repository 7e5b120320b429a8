"""What a line of words says to a reader of tab: a heading, a field, a tuning, bars of rest."""

from __future__ import annotations

import re
from typing import Final

from chalkfret.files.text_tab.heads import Fields, read_meter, read_tempo
from chalkfret.files.text_tab.lines import TIMES
from chalkfret.model.limits import TIMES_MAX

_OWN: Final = re.compile(r"\[([^\]]{1,4})\](?: (.*))?")
_BRACKETED: Final = re.compile(r"\[([^\]]{2,60})\]\s*(.*)")
_KNOWN: Final = re.compile(
    r"((?:main |opening |final |second |first )?"
    r"(?:intro|verse|chorus|bridge|solo|outro|riff|pre-?chorus|interlude|coda|ending|breakdown"
    r"|refrain|strophe|estribillo|estrofa|section|part)\b[ ]?[\w .,#'-]{0,30}?)\s*:?",
    re.IGNORECASE,
)  # fmt: skip
_FIELD_NAMES: Final = {
    "tempo": "tempo", "bpm": "tempo", "meter": "meter", "metre": "meter", "time": "meter",
    "time signature": "meter", "key": "key", "swing": "swing", "times": "times",
    "pause": "pause", "difficulty": "difficulty", "takt": "meter", "compás": "meter",
}  # fmt: skip
_BPM: Final = re.compile(
    r"(?:tempo\s*)?((?:[q♩]\s*=\s*)?\d{2,3}(?:\.\d+)?)\s*(bpm)?", re.IGNORECASE
)
_RESTS: Final = re.compile(
    r"[(\[]?(?:(?:rest|tacet|pause)\s*(?:for\s*)?x?\s*(\d{1,2})\s*(?:bars?|measures?)?"
    r"|(\d{1,2})\s*(?:bars?|measures?)(?: of)?\s*(?:rest|tacet)|(?:rest|tacet))[)\].]?",
    re.IGNORECASE,
)


def own_heading(text: str, follows: str) -> tuple[str, str] | None:
    """Letter and name of a section as we write it; ``follows`` is the line after it."""
    match = _OWN.fullmatch(text)
    if match is None:
        return None
    letter, name = match[1], match[2] or ""
    if follows.startswith("Tempo: ") or re.fullmatch(r"[A-Z]\d{0,2}", letter):
        return letter, name
    return None


def heading(text: str) -> tuple[str, int] | None:
    """The name of a section as people head one, and how often it is played."""
    plain = text.strip(" *=#~_-")
    times = 1
    if (match := re.search(r"\s*(\([^)]*\)|[xX]\s?\d{1,2})\s*:?$", plain)) is not None:
        counted = TIMES.fullmatch(match[1].strip())
        if counted is not None:
            times = int(next(filter(None, counted.groups())))
            plain = plain[: match.start()].strip()
    match = _BRACKETED.fullmatch(plain)
    if match is not None and not match[2]:
        return match[1].strip(), times if 1 <= times <= TIMES_MAX else 1
    match = _KNOWN.fullmatch(plain)
    if match is None:
        return None
    return match[1].strip(), times if 1 <= times <= TIMES_MAX else 1


def take_fields(text: str, fields: Fields) -> bool:
    """Take a line of fields, ``Tempo: 96; Meter: 3/4``; False where it is none."""
    plain = text.strip()
    if (match := _BPM.fullmatch(plain)) is not None and (match[2] or "=" in match[1]):
        tempo = read_tempo(match[1])
        fields.tempo = tempo or fields.tempo
        return tempo is not None
    alone = re.fullmatch(r"(\d{1,2}/\d{1,2})(?: time)?", plain, re.IGNORECASE)
    if alone is not None and (meter := read_meter(alone[1])) is not None:
        fields.meter, fields.grouping = meter
        return True
    taken = False
    for piece in plain.split(";"):
        label, colon, value = piece.strip().partition(":")
        name = _FIELD_NAMES.get(label.strip().lower())
        value = re.sub(r"\s*bpm\b", "", value, flags=re.IGNORECASE)
        if not (colon and name and fields.take(name, value)):
            return False
        taken = True
    return taken


def bars_of_rest(text: str) -> int:
    """How many bars of rest a line asks for; 0 for any other line."""
    match = _RESTS.fullmatch(text.strip())
    return 0 if match is None else int(match[1] or match[2] or 1)
