"""Everything is compiled ahead, with a line to the person, and known to be done afterwards."""

from __future__ import annotations

import threading
from dataclasses import replace

import numpy as np
import pytest
from numba.core import event

from tubewise.search import compiled
from tubewise.search.adjust import corrections
from tubewise.search.body import ROUGH, body
from tubewise.search.cover import Covering
from tubewise.search.recipes import search


@pytest.fixture
def unaware(monkeypatch: pytest.MonkeyPatch, tmp_path) -> list[int]:
    """As in a new process with an empty folder: which parts are compiled, without doing it."""
    parts: list[int] = []
    monkeypatch.setattr(compiled, "_done", threading.Event())
    monkeypatch.setattr(compiled, "folder", lambda room: tmp_path)

    def compile_all(place) -> None:
        parts.extend(range(compiled.PARTS))
        compiled._mark(place).touch()

    monkeypatch.setattr(compiled, "_compile", compile_all)
    return parts


def test_one_line_says_what_happens_and_how_long(unaware):
    lines: list[str] = []
    assert compiled.ready(lines.append)
    assert len(lines) == 1 and "seconds" in lines[0]
    assert unaware == list(range(compiled.PARTS))


def test_the_next_process_finds_it_done_and_says_nothing(unaware, monkeypatch):
    compiled.ready()
    monkeypatch.setattr(compiled, "_done", threading.Event())
    lines: list[str] = []
    assert not compiled.ready(lines.append)
    assert not lines and len(unaware) == compiled.PARTS


def test_a_second_thread_waits_and_compiles_nothing_again(unaware):
    threads = [threading.Thread(target=compiled.ready) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert unaware == list(range(compiled.PARTS))


class Compilations(event.Listener):
    """The names of the kernels that are compiled while it listens."""

    def __init__(self) -> None:
        self.names: list[str] = []

    def on_start(self, event) -> None:
        self.names.append(event.data["dispatcher"].py_func.__name__)

    def on_end(self, event) -> None:
        """Nothing more to note."""


@pytest.mark.slow
@pytest.mark.parametrize(
    "wishes",
    [
        {},
        {"max_parts": 8},
        {"max_parts": 60},
        {"film_thickness": 0.5, "ground": 0.9, "max_paints": 2},
        {"objective": "spectral", "target_reflectance": np.linspace(0.1, 0.7, 36)},
        {"min_share": 0.05},
        {"tolerance": 0},
        {"prove": False},
    ],
)
def test_no_search_compiles_anything_more(problem, wishes):
    """Kernels are looked up only by the types that `ready` compiled them for."""
    seen = Compilations()
    ask = replace(problem(6, 2, [80, -30, 90], max_paints=3), **wishes)
    with event.install_listener("numba:compile", seen):
        corrections(ask, search(ask).best)
    assert seen.names == []


def test_no_choice_of_paints_compiles_anything_more(problem):
    seen = Compilations()
    ask = problem(6, 2, [80, -30, 90])
    with event.install_listener("numba:compile", seen):
        body(ask, range(5), fine=ROUGH)
        Covering(ask, np.array([[60.0, 10.0, 10.0]]), 3.0).least([np.ones(6)])
    assert seen.names == []
