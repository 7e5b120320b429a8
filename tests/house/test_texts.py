"""No text is put into a language while modules are imported: the language may be chosen later."""

import ast
from collections.abc import Iterator
from pathlib import Path

APP = Path(__file__).parents[2] / "app" / "chalkfret"
TRANSLATING = {"_", "ngettext"}


def run_at_import(node: ast.AST) -> Iterator[ast.AST]:
    """What runs when a module is imported: all but the insides of functions and lambdas."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef):
            # A default and a decorator are worked out at import.
            for inside in (*child.args.defaults, *child.args.kw_defaults, *child.decorator_list):
                if inside is not None:
                    yield inside
                    yield from run_at_import(inside)
        elif isinstance(child, ast.Lambda):
            continue
        else:
            yield child
            yield from run_at_import(child)


def translated_at_import(source: str) -> list[int]:
    """The lines on which a module calls ``_`` while it is imported."""
    return [
        node.lineno
        for node in run_at_import(ast.parse(source))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in TRANSLATING
    ]


def test_the_search_finds_what_it_looks_for() -> None:
    source = 'A = {1: _("one")}\nclass B:\n    c = _("two")\n    def d(self, e=_("three")):\n'
    source += '        return _("never")\nf = lambda: _("never")\n'
    assert translated_at_import(source) == [1, 3, 4]


def test_no_text_is_translated_at_import() -> None:
    found = [
        f"{path.relative_to(APP)}:{line}"
        for path in sorted(APP.rglob("*.py"))
        for line in translated_at_import(path.read_text(encoding="utf-8"))
    ]
    assert found == []
