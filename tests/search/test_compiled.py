"""Everything is compiled ahead, with a line to the person, and known to be done afterwards."""

from __future__ import annotations

import threading
from dataclasses import replace

import numpy as np
import pytest

from tubewise.search import compiled
from tubewise.search.adjust import corrections
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


@pytest.mark.parametrize(
    "wishes",
    [
        {},
        {"max_parts": 8},
        {"film_thickness": 0.5, "ground": 0.9, "max_paints": 2},
        {"objective": "spectral", "target_reflectance": np.linspace(0.1, 0.7, 36)},
        {"min_share": 0.05},
        {"prove": False},
    ],
)
def test_no_search_compiles_anything_more(problem, wishes, monkeypatch):
    """Kernels are looked up only by the types that `ready` compiled them for."""
    from numba.core import event

    class Compilations(event.Listener):
        names: tuple[str, ...] = ()

        def on_start(self, happening) -> None:
            self.names += (happening.data["dispatcher"].py_func.__name__,)

        def on_end(self, happening) -> None:
            pass

    seen = Compilations()
    ask = replace(problem(6, 2, [80, -30, 90], max_paints=3), **wishes)
    with event.install_listener("numba:compile", seen):
        corrections(ask, search(ask).best)
    assert seen.names == ()
