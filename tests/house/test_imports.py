"""What each room may take from outside, which import-linter cannot tell apart by module.

import-linter keeps the rooms in their order (pyproject.toml). Here every import statement of a
room, also inside functions, is read from the source and held against the table of the design.
"""

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "app" / "chalkfret"

VALUES = {"msgspec"}  # how a value is made and changed, in any room
QT_PAINTING = {"PySide6.QtCore", "PySide6.QtGui", "PySide6.QtSvg"}
OUTSIDE: dict[str, set[str]] = {
    "__init__": set(),
    "__main__": set(),
    "places": {"platformdirs"},
    "system": set(),
    "model": VALUES,
    "theory": VALUES,
    "strings": VALUES,
    "timeline": VALUES,
    "edits": VALUES,
    "arrange": VALUES,
    "words": VALUES | {"babel"},
    "sound": VALUES | {"numpy"},
    "sheet": VALUES | {"markdown_it"},
    "sheet/paint": VALUES | QT_PAINTING,
    "files": VALUES | {"mido", "music21", "pypdf"} | QT_PAINTING,
    "desk": VALUES | {"platformdirs", "PySide6"},
    "cli": VALUES,
}


def room_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    if parts[0] == "sheet" and len(parts) > 1 and parts[1].startswith("paint"):
        return "sheet/paint"
    return parts[0]


def outside_imports(path: Path) -> Iterator[str]:
    """Dotted names of all third-party modules that the file imports, wherever it does."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names = [each.name for each in node.names]
        elif isinstance(node, ast.ImportFrom) and not node.level and node.module:
            # `from PySide6 import QtGui` and `from PySide6.QtGui import QPen` are the same thing.
            whole = node.module == "PySide6"
            names = [f"PySide6.{each.name}" for each in node.names] if whole else [node.module]
        else:
            continue
        for name in names:
            top = name.partition(".")[0]
            if top not in sys.stdlib_module_names and top != "chalkfret":
                yield name


def fits(name: str, allowed: set[str]) -> bool:
    return any(name == each or name.startswith(each + ".") for each in allowed)


@pytest.mark.parametrize(
    "path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: str(path.relative_to(PACKAGE))
)
def test_a_room_takes_from_outside_only_what_the_table_names(path: Path):
    allowed = OUTSIDE[room_of(path)]
    strangers = {name for name in outside_imports(path) if not fits(name, allowed)}
    assert not strangers, f"{room_of(path)} may import {allowed or 'nothing'} from outside"


def test_the_desk_is_reached_from_the_command_line_only_when_called():
    """A name of the desk at the top of cli would load Qt for `chalkfret --version`."""
    for path in [PACKAGE / "cli.py", *PACKAGE.glob("cli/**/*.py")]:
        if path.exists():
            for node in ast.parse(path.read_text(encoding="utf-8")).body:
                assert not (isinstance(node, ast.ImportFrom) and "desk" in (node.module or ""))
                assert not (
                    isinstance(node, ast.Import) and any("desk" in name.name for name in node.names)
                )


def test_what_is_imported_is_declared_and_what_is_declared_is_imported():
    """So that an installation brings all that is needed and nothing that is not."""
    project = tomllib.loads((PACKAGE.parents[1] / "pyproject.toml").read_text(encoding="utf-8"))
    declared = {
        re.split(r"[<>=!~ \[]", line)[0].lower() for line in project["project"]["dependencies"]
    }
    brought_by = packages_distributions()
    imported = {
        brought_by[name.partition(".")[0]][0].lower()
        for path in PACKAGE.rglob("*.py")
        for name in outside_imports(path)
    }
    assert imported == declared
