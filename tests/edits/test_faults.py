"""Every refusal has a known code with the figures that its sentence names."""

import ast
from pathlib import Path

import chalkfret.edits
from chalkfret.edits.faults import CODES, CannotEdit, refuse
from chalkfret.model import Where

ROOM = Path(chalkfret.edits.__file__).parent
CHECKED_BY_THE_MODEL = {"course_beyond_setup"}  # raised here too, with validate's own figures


def refusals() -> list[tuple[str, tuple[str, ...]]]:
    """Code and figures of each ``refuse(...)`` in the room."""
    found = []
    for path in sorted(ROOM.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "refuse":
                code = node.args[0]
                assert isinstance(code, ast.Constant)
                found.append((code.value, tuple(keyword.arg for keyword in node.keywords)))
    return found


def test_every_code_is_documented_and_used() -> None:
    codes = {code for code, _ in refusals()} - CHECKED_BY_THE_MODEL
    assert codes == set(CODES)


def test_every_refusal_gives_the_figures_of_its_code() -> None:
    for code, figures in refusals():
        if code not in CHECKED_BY_THE_MODEL:
            assert figures == CODES[code], code


def test_a_refusal_carries_its_fault() -> None:
    error = refuse("fret_range", Where("A", 3), fret=40, most=36)
    assert isinstance(error, CannotEdit)
    assert error.fault.where.bar == 3
    assert dict(error.fault.figures) == {"fret": 40, "most": 36}
