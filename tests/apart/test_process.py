"""Work on pictures is done apart: with progress, and ended where it takes too much."""

from __future__ import annotations

import time

import pytest

from tubewise.apart.process import run_apart
from tubewise.errors import UserError

TASKS = "tests.apart.tasks:"


def test_the_answer_comes_back_with_progress() -> None:
    steps: list[tuple[int, int]] = []
    answer = run_apart(
        TASKS + "double",
        {"numbers": [1, 2, 3]},
        seconds=20,
        progress=lambda done, of: steps.append((done, of)),
    )
    assert answer == [2, 4, 6] and steps == [(1, 3), (2, 3), (3, 3)]


@pytest.mark.slow
def test_work_that_takes_too_long_is_ended() -> None:
    start = time.monotonic()
    with pytest.raises(UserError, match="longer than 1 second"):
        run_apart(TASKS + "endless", {}, seconds=1.0)
    assert time.monotonic() - start < 20


def test_work_that_takes_too_much_memory_is_ended() -> None:
    with pytest.raises(UserError, match="too much memory"):
        run_apart(TASKS + "greedy", {}, seconds=20, memory=2 * 2**30)


def test_work_that_is_killed_in_the_middle_of_its_answer_says_so() -> None:
    with pytest.raises(UserError, match="stopped before it was done"):
        run_apart(TASKS + "killed", {}, seconds=20)


def test_faults_come_back_as_what_they_are() -> None:
    with pytest.raises(UserError, match="no picture") as refused:
        run_apart(TASKS + "refusing", {}, seconds=20)
    assert refused.value.where == "a.jpg"
    with pytest.raises(RuntimeError, match="ZeroDivisionError"):
        run_apart(TASKS + "broken", {}, seconds=20)


def test_where_the_machine_allows_less_memory_work_is_done_within_it() -> None:
    pytest.importorskip("resource")
    question = {"numbers": [4], "bound": 4 * 2**30}
    assert run_apart(TASKS + "under_a_bound", question, seconds=30) == [8]
