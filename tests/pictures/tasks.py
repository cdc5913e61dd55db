"""Tasks that a process apart carries out for the tests."""

from __future__ import annotations

import time
from typing import Any

from tubewise.errors import UserError
from tubewise.pictures.process import Progress


def double(question: dict[str, Any], progress: Progress) -> list[int]:
    """Twice each number, with a step of progress for each."""
    for done, _ in enumerate(question["numbers"], 1):
        progress(done, len(question["numbers"]))
    print("libraries may print; the answer is not disturbed")
    return [2 * n for n in question["numbers"]]


def endless(question: dict[str, Any], progress: Progress) -> None:
    """Takes a minute."""
    time.sleep(60)


def greedy(question: dict[str, Any], progress: Progress) -> int:
    """Takes four gigabytes."""
    return len(bytearray(4 * 2**30))


def refusing(question: dict[str, Any], progress: Progress) -> None:
    """Finds fault with its question."""
    raise UserError("This is no picture.", where="a.jpg")


def broken(question: dict[str, Any], progress: Progress) -> None:
    """Has a fault of its own."""
    raise ZeroDivisionError


def under_a_bound(question: dict[str, Any], progress: Progress) -> Any:
    """Bounds itself for good, then asks a process of its own."""
    import resource

    from tubewise.pictures.process import run_apart

    resource.setrlimit(resource.RLIMIT_AS, (question["bound"], question["bound"]))
    return run_apart("tests.pictures.tasks:double", question, seconds=20)
