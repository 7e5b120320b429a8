"""Files made bad: bytes flipped, cut, doubled; trees with values, keys and lists exchanged."""

import json
import re
from copy import deepcopy
from random import Random

ODD_BYTES = [
    b"\0", b"\xff", b"\n", b'"', b"\\", b"{", b"}", b"[", b"]", b",", b":", b"-", b"9",
    b"\xef\xbb\xbf", b"\xed\xa0\x80", b"NaN", b"1e999",
]  # fmt: skip
ODD_VALUES = [
    None, True, False, 0, -1, 1, 2**31, 2**63, 10**30, -0.0, 0.5, 1e-300, 1e300, float("nan"),
    float("inf"), float("-inf"), "", " ", "E2\n", "\0", "é" * 200, "x" * 30_000, "\ud800", "tie",
    [], {}, [[]], [None], {"mark": "bend"}, {"mark": None}, [0, 0], [4, 4], "H9", 37, 13, 401.0,
]  # fmt: skip
DEEP = 3_000


def mutated(data: bytes, draw: Random) -> bytes:
    """The file with one to four things done to it."""
    for _ in range(draw.choice([1, 1, 1, 2, 4])):
        change = draw.choice([_in_bytes, _in_the_tree])
        data = change(data, draw)
    return data


def _in_bytes(data: bytes, draw: Random) -> bytes:
    at = draw.randrange(len(data) + 1)
    to = min(len(data), at + draw.choice([1, 2, 8, 200]))
    piece = data[at:to]
    match draw.randrange(10):
        case 0:
            return data[:at]
        case 1:
            return data[at:]
        case 2:
            return data[:at] + data[to:]
        case 3:
            return data[:at] + piece * 2 + data[to:]
        case 4:
            return data[:at] + bytes(draw.randrange(256) for _ in piece) + data[to:]
        case 5:
            return data[:at] + bytes(byte ^ (1 << draw.randrange(8)) for byte in piece) + data[to:]
        case 6:
            other = draw.randrange(len(data) + 1)
            return data[:at] + data[other : other + 50] + data[at:]
        case 7:
            return data[:at] + draw.choice([b"[", b'{"a":', b"["]) * DEEP + data[at:]
        case 8:
            digit = draw.choice(b"0123456789")
            return data[:at] + re.sub(rb"[0-9]", bytes([digit]), data[at:], count=3)
        case _:
            return data[:at] + draw.choice(ODD_BYTES) + data[at:]


def _in_the_tree(data: bytes, draw: Random) -> bytes:
    try:
        tree = json.loads(data)
    except (ValueError, RecursionError):
        return _in_bytes(data, draw)
    places = list(_places(tree))
    if not places:
        return _in_bytes(data, draw)
    holder, key = draw.choice(places)
    match draw.randrange(9):
        case 0:
            del holder[key]
        case 1:
            holder[key] = [deepcopy(holder[key])]
        case 2 if isinstance(holder, list):
            holder.insert(key, deepcopy(holder[key]))
        case 3 if isinstance(holder, list):
            draw.shuffle(holder)
        case 4 if isinstance(holder, dict):
            holder[draw.choice([str(key) + "s", "", "fret", "mark", "é\n"])] = holder.pop(key)
        case 5:
            other, name = draw.choice(places)
            holder[key] = deepcopy(other[name]) if _still(other, name) else None
        case 6 if isinstance(holder[key], int | float):
            holder[key] += draw.choice([-1, 1, 0.5, 5040, -5040])
        case 7 if isinstance(holder, dict):
            return _doubled(tree, holder, key, draw)
        case _:
            holder[key] = draw.choice(ODD_VALUES)
    return _written(tree)


def _still(holder, key) -> bool:
    return key in holder if isinstance(holder, dict) else key < len(holder)


def _doubled(tree, holder, key, draw: Random) -> bytes:
    """The key a second time, which no tree can hold."""
    mark = "doubled-here"
    value = json.dumps(draw.choice([holder[key], None, 7]))
    holder[mark] = 0
    text = _written(tree)
    return text.replace(json.dumps(mark).encode() + b": 0", f"{json.dumps(key)}: {value}".encode())


def _written(tree) -> bytes:
    return json.dumps(tree).encode("utf-8", "surrogatepass")


def _places(tree):
    """Every member of every list and object: its holder and its key."""
    members = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for key, value in list(members):
        yield tree, key
        if isinstance(value, dict | list):
            yield from _places(value)
