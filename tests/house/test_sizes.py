"""How large a file, a function and a list of parameters may be."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2]
ROOMS = ("tubewise", "tools", "bench", "tests")
MOST_LINES_OF_A_FILE = 400
MOST_LINES_OF_A_FUNCTION = 60
MOST_PARAMETERS = 8
MOST_PARAMETERS_OF_A_KERNEL = 15

# Compiled kernels that are longer because a call inside the loop costs measured time; each with
# what splitting it cost.
LONG_KERNELS: dict[str, str] = {}


def python_files() -> list[Path]:
    return sorted(path for room in ROOMS for path in (HOUSE / room).rglob("*.py"))


def functions(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            yield node


def is_kernel(function: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    """Whether numba compiles it, to be called or to be set into its callers."""
    return any(
        name.id.startswith(("jit", "inlined"))
        for decorator in function.decorator_list
        for name in ast.walk(decorator)
        if isinstance(name, ast.Name)
    )


def parameters(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """How many it takes, without `self` and `cls`."""
    given = function.args
    positional = [*given.posonlyargs, *given.args]
    own = bool(positional) and positional[0].arg in ("self", "cls")
    return len(positional) - own + len(given.kwonlyargs)


def too_large(path: Path) -> list[str]:
    """What breaks a bound in a file, in words."""
    name = path.relative_to(HOUSE).as_posix()
    found = []
    lines = len(path.read_text(encoding="utf-8").splitlines())
    if lines > MOST_LINES_OF_A_FILE:
        found.append(f"{name} has {lines} lines")
    for function in functions(path):
        kernel = is_kernel(function)
        called = f"{name}:{function.name}"
        length = (function.end_lineno or function.lineno) - function.lineno + 1
        if length > MOST_LINES_OF_A_FUNCTION and called not in LONG_KERNELS:
            found.append(f"{called} has {length} lines")
        most = MOST_PARAMETERS_OF_A_KERNEL if kernel else MOST_PARAMETERS
        if parameters(function) > most:
            found.append(f"{called} has {parameters(function)} parameters")
    return found


def test_files_and_functions_can_be_taken_in_at_one_look() -> None:
    assert [words for path in python_files() for words in too_large(path)] == []


def test_what_is_excused_is_a_kernel_and_still_too_long() -> None:
    for called in LONG_KERNELS:
        name, _, function_name = called.partition(":")
        kernel = next(f for f in functions(HOUSE / name) if f.name == function_name)
        assert is_kernel(kernel), called
        assert (kernel.end_lineno or 0) - kernel.lineno + 1 > MOST_LINES_OF_A_FUNCTION, called


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("x = 1\n" * 401, "has 401 lines"),
        ("def f():\n" + "    x = 1\n" * 60, "f has 61 lines"),
        ("def f(a, b, c, d, e, f, g, h, i): ...\n", "f has 9 parameters"),
        ("@jit(cache=True)\ndef f(a, b, c, d, e, f, g, h, i): ...\n", ""),
    ],
)
def test_the_measure_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, words: str
) -> None:
    monkeypatch.setattr("tests.house.test_sizes.HOUSE", tmp_path)
    path = tmp_path / "a.py"
    path.write_text(text)
    assert words in " ".join(too_large(path)) if words else too_large(path) == []
