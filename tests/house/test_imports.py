"""Imports run one way: each room uses only those below it, and no two modules need each other."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import grimp
import pytest
from importlinter.cli import lint_imports

HOUSE = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def graph() -> grimp.ImportGraph:
    """Who imports whom, in functions and for types too."""
    return grimp.build_graph("tubewise", "tools", "bench", "tests", cache_dir=None)


def test_no_room_imports_one_above_it() -> None:
    """The order stands in pyproject.toml."""
    assert lint_imports(str(HOUSE / "pyproject.toml"), no_cache=True, no_logo=True) == 0


def test_no_module_needs_itself_by_way_of_others(graph: grimp.ImportGraph) -> None:
    needs = {module: graph.find_modules_directly_imported_by(module) for module in graph.modules}
    try:
        TopologicalSorter(needs).prepare()
    except CycleError as error:
        pytest.fail(" → ".join(error.args[1]))


def test_what_is_shipped_imports_nothing_that_is_not(graph: grimp.ImportGraph) -> None:
    shipped = [module for module in graph.modules if module.split(".")[0] == "tubewise"]
    up = [
        f"{module} imports {other}"
        for module in shipped
        for other in graph.find_modules_directly_imported_by(module)
        if other.split(".")[0] in ("tools", "bench", "tests")
    ]
    assert up == []


def test_benches_and_tools_do_not_lean_on_tests(graph: grimp.ImportGraph) -> None:
    up = [
        f"{module} imports {other}"
        for module in graph.modules
        if module.split(".")[0] in ("tools", "bench")
        for other in graph.find_modules_directly_imported_by(module)
        if other.split(".")[0] == "tests"
    ]
    assert up == []
