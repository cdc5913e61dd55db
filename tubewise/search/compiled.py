"""Compiles the search ahead of its first question, once for a machine and a version.

Left to the first question this takes half a minute of silence. Here it is said, divided among two
processes, and known to be done the next time.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import llvmlite.binding as llvm
import numpy as np

from tubewise.search.kernels.layout import BANDS
from tubewise.search.machine_code import folder
from tubewise.search.prepared import prepare
from tubewise.search.problem import SearchProblem

ROOM = Path(__file__).parent
TELL = "Compiling the recipe search for this computer; once, about {seconds} seconds."
SECONDS = 30
PARTS = 2

_lock = threading.Lock()
_done = threading.Event()


def ready(report: Callable[[str], None] | None = None) -> bool:
    """Compile everything the search runs, unless that is done; whether there was anything to do.

    `report` receives one line before the work begins, and nothing when there is none. Takes a few
    milliseconds when all is compiled. A second thread or process waits for the first.
    """
    if _done.is_set():
        return False
    with _lock:
        if _done.is_set():
            return False
        place = folder(ROOM)
        with _alone(place):
            busy = place is None or not _mark(place).exists()
            if busy:
                if report is not None:
                    report(TELL.format(seconds=SECONDS))
                _compile(place)
        _done.set()
        return busy


def _mark(place: Path) -> Path:
    """The file that says that all is compiled for this kind of processor."""
    return place / f"complete-{llvm.get_host_cpu_name()}"


@contextlib.contextmanager
def _alone(place: Path | None) -> Iterator[None]:
    """Hold back other processes that would compile the same."""
    if place is None or sys.platform == "win32":
        yield
        return
    import fcntl

    with (place / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _compile(place: Path | None) -> None:
    """Compile all parts; in processes of their own where what they compile is kept."""
    if place is not None and sys.executable:
        path = os.pathsep.join(p for p in sys.path if p)
        run = "from tubewise.search.compiled import compile_part; compile_part({part})"
        processes = [
            subprocess.Popen(
                [sys.executable, "-c", run.format(part=part)],
                env=os.environ | {"PYTHONPATH": path},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
            for part in range(PARTS)
        ]
        failures = [process.wait() for process in processes]
        if not any(failures):
            _mark(place).touch()
            return
    for part in range(PARTS):
        compile_part(part)


def compile_part(part: int) -> None:
    """Compile one of the parts, 0 or 1, in this process, by the smallest questions that need it.

    Either takes about as long. The finish is compiled first in one part and needed last in the
    other, which then finds it done.
    """
    if part == 0:
        _compile_first_answers()
        _compile_screen()
        _compile_bodies()
    else:
        _compile_whole_parts()
        _compile_tree()
        _compile_covers()


def _question(**wishes: object) -> SearchProblem:
    rng = np.random.default_rng(0)
    given: dict[str, object] = {
        "K": rng.lognormal(size=(4, BANDS)),
        "S": rng.lognormal(size=(4, BANDS)),
        "weights": np.full((BANDS, 3), 100.0 / BANDS),
        "whites": np.full(3, 100.0),
        "target_lab": np.array([60.0, -60.0, -30.0]),
        "max_paints": 2,
    }
    return SearchProblem(**(given | wishes))  # type: ignore[arg-type]


def _compile_first_answers() -> None:
    from tubewise.search.first_answers import first_answers
    from tubewise.search.listing import as_proportions

    problem = prepare(_question())
    as_proportions(problem, first_answers(problem)[0], "best")


def _compile_whole_parts() -> None:
    from tubewise.search.adjust import moves_of
    from tubewise.search.parts import ALL_TRIED, in_whole_parts
    from tubewise.search.pools import Pool

    problem = prepare(_question(max_parts=6))
    pair = Pool(np.array([[0, 1]]), np.full((1, 2), 0.5), np.ones(1), np.ones(1))
    in_whole_parts(problem, pair)
    in_whole_parts(prepare(_question(max_parts=ALL_TRIED)), pair)
    moves_of(problem, [0, 1], np.full(2, 0.5))


def _compile_screen() -> None:
    from tubewise.search.incumbent import sizes
    from tubewise.search.proof import Prover

    problem = prepare(_question())
    prover = Prover(problem, 10.0, 0.0, np.inf)
    prover.sweep((sizes(problem)[-1], 0))


def _compile_tree() -> None:
    from tubewise.search.incumbent import sizes
    from tubewise.search.proof import Prover

    problem = prepare(_question(film_thickness=0.5, ground=0.9))
    prover = Prover(problem, 10.0, 0.0, np.inf)
    prover.sweep((sizes(problem)[-1], 0))


def _compile_bodies() -> None:
    from tubewise.search.body import ROUGH, body

    body(_question(), range(4), fine=ROUGH)


def _compile_covers() -> None:
    from tubewise.search.aim import aim_at
    from tubewise.search.near_sets import best_of, grow, workspace
    from tubewise.search.paints import paints_of

    problem = prepare(_question())
    paints, memo = paints_of(problem), np.full((4, 4, 4), -1, np.int8)
    aim, _ = aim_at(problem.aim.lab[0], 1.0, paints.W, problem.film.base)
    work = workspace(paints, aim)
    members = np.arange(4)
    best_of(members, 4, memo, paints, aim, work, np.empty(3, np.int64))
    grow(members, 1, np.array([1, 2]), memo, paints, aim, work)
