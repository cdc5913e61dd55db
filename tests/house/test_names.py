"""Names are nouns: a verb that names a value says nothing of what it holds."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
VERBS = frozenset({"said", "told", "one", "held", "asked"})
# A key of the JSON that people may have built on.
CONTRACTS = ("tubewise/advice/classroom/slot_verdict.py: asked",)


def named(tree: ast.AST) -> Iterator[str]:
    """What a module's functions, arguments and variables are called."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id
        elif isinstance(node, ast.arg):
            yield node.arg
        elif isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.name


def test_no_value_is_named_for_what_was_done_to_it() -> None:
    found = {
        f"{path.relative_to(ROOT)}: {name}"
        for room in ("tubewise", "tools", "bench")
        for path in (ROOT / room).rglob("*.py")
        for name in named(ast.parse(path.read_text(encoding="utf-8")))
        if name in VERBS
    }
    assert sorted(found.difference(CONTRACTS)) == []


def test_such_names_are_seen() -> None:
    assert {"told", "one"} <= set(named(ast.parse("def told(one): held = one")))
