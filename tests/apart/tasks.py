"""Tasks that a process apart carries out for the tests."""

from __future__ import annotations

import os
import signal
import stat
import time
from typing import Any

from tubewise.apart.process import Progress
from tubewise.errors import UserError


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


def killed(question: dict[str, Any], progress: Progress) -> None:
    """Is killed in the middle of its answer, as a machine without memory does."""
    os.write(max(fd for fd in range(3, 64) if _is_pipe(fd)), b'{"answer": [1, 2')
    os.kill(os.getpid(), signal.SIGKILL)


def _is_pipe(fd: int) -> bool:
    try:
        return stat.S_ISFIFO(os.fstat(fd).st_mode)
    except OSError:
        return False


def under_a_bound(question: dict[str, Any], progress: Progress) -> Any:
    """Bounds itself for good, then asks a process of its own."""
    import resource

    from tubewise.apart.process import run_apart

    resource.setrlimit(resource.RLIMIT_AS, (question["bound"], question["bound"]))
    return run_apart("tests.apart.tasks:double", question, seconds=20)
