"""Every fault that the program can make, read from its source.

A fault is made by ``fault``, ``Fault``, ``refuse`` or ``Found``. Where its code is no literal, the
literals that can reach it are looked for in the function, in the table it is taken from, and in
the calls of the function whose parameter it is; a code that cannot be followed so fails the test,
so that none escapes.
"""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

APP = Path(__file__).parents[2] / "app" / "chalkfret"
MAKERS = {"fault": 0, "Fault": 0, "refuse": 0, "Found": 1}
# The makers themselves, and a copy of a fault already made, whose code was read where it was made.
MAKERS_THEMSELVES = {"model/faults.py", "edits/faults.py"}


@dataclass(frozen=True)
class Made:
    """A place in the source where a fault is made; ``figures`` None: they are not literal."""

    code: str
    figures: frozenset[str] | None
    place: str


class NotFollowed(Exception):
    """A code whose literals cannot be found: make it easier to follow."""


def all_made() -> list[Made]:
    """Every fault made anywhere in the program. Raises NotFollowed."""
    return [one for path in sorted(APP.rglob("*.py")) for one in _in_file(path)]


def _in_file(path: Path) -> Iterator[Made]:
    name = path.relative_to(APP).as_posix()
    if name in MAKERS_THEMSELVES:
        return
    tree = ast.parse(path.read_text("utf-8"))
    for node in ast.walk(tree):
        for child in ast.iter_child_nodes(node):
            child.parent = node  # type: ignore[attr-defined]
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Name)
            and node.func.id in MAKERS
        ):
            at = MAKERS[node.func.id]
            code = node.args[at] if len(node.args) > at else _keyword(node, "code")
            if code is None:
                continue  # a local function of the same name
            place = f"{name}:{node.lineno}"
            for literal in _literals(code, tree, place, set()):
                yield Made(literal, _figures(node), place)


def _called(node: ast.Call) -> str:
    """The name of the function that is called; empty for a method."""
    return node.func.id if isinstance(node.func, ast.Name) else ""


def _keyword(node: ast.Call, name: str) -> ast.expr | None:
    return next((one.value for one in node.keywords if one.arg == name), None)


def _figures(node: ast.Call) -> frozenset[str] | None:
    match node:
        case ast.Call(ast.Name("Found"), [_, _, ast.Dict(keys)]) if all(keys):
            return frozenset(text for key in keys if key for text in _strings(key))
    if _called(node) in ("Fault", "Found") or any(one.arg is None for one in node.keywords):
        return None
    return frozenset(str(one.arg) for one in node.keywords) - {"where"}


def _literals(code: ast.expr, tree: ast.Module, place: str, seen: set[str]) -> list[str]:
    """The string literals that this expression can be."""
    match code:
        case ast.Constant(str(text)):
            return [text]
        case ast.IfExp(body=one, orelse=other):
            return [*_literals(one, tree, place, seen), *_literals(other, tree, place, seen)]
        case ast.Name(name) if name not in seen:
            return _of_name(code, name, tree, place, {*seen, name})
        case ast.Attribute(attr="code"):
            return []  # a copy of a fault, made and read elsewhere
        case ast.Call(func=ast.Attribute(ast.Name(table), "get")) | ast.Subscript(ast.Name(table)):
            return _of_table(tree, table)
    raise NotFollowed(f"{place}: {ast.unparse(code)}")


def _of_name(code: ast.expr, name: str, tree: ast.Module, place: str, seen: set[str]) -> list[str]:
    function = code
    while not isinstance(function, ast.FunctionDef):
        function = function.parent  # type: ignore[attr-defined]
    found: list[str] = []
    for node in ast.walk(function):
        match node:
            case ast.Assign(targets=[ast.Name(target)], value=value) if target == name:
                found += _literals(value, tree, place, seen)
            case ast.For(target=ast.Tuple(targets), iter=ast.Tuple(rows)):
                found += _of_loop(name, targets, rows)
    parameters = [argument.arg for argument in function.args.args]
    if name in parameters:
        found += _of_calls(function.name, parameters.index(name), tree, place, seen)
    if not found:
        raise NotFollowed(f"{place}: {name}")
    return found


def _of_loop(name: str, targets: list[ast.expr], rows: list[ast.expr]) -> list[str]:
    """The literals of one column of a table that a loop runs over."""
    at = next((i for i, t in enumerate(targets) if isinstance(t, ast.Name) and t.id == name), None)
    if at is None:
        return []
    return [text for row in rows if isinstance(row, ast.Tuple) for text in _strings(row.elts[at])]


def _strings(values: ast.AST) -> list[str]:
    return [
        node.value
        for node in ast.walk(values)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]


def _of_table(tree: ast.Module, table: str) -> list[str]:
    for node in tree.body:
        match node:
            case ast.AnnAssign(ast.Name(name), value=ast.Dict(values=values)) if name == table:
                return [text for value in values for text in _strings(value)]
    raise NotFollowed(table)


def _of_calls(function: str, at: int, tree: ast.Module, place: str, seen: set[str]) -> list[str]:
    found: list[str] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _called(node) == function and len(node.args) > at:
            found += _literals(node.args[at], tree, place, seen)
    return found
