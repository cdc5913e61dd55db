"""Tasks that a workroom carries out for the tests."""

from __future__ import annotations

import os
import signal
import threading
import time
from typing import Any

from tubewise.errors import UserError
from tubewise.web.holdings import Holdings
from tubewise.web.works import Progress

GATE = threading.Event()
RUNS: list[str] = []


def gated(holdings: Holdings, _: Progress, word: str) -> str:
    """Waits for the gate; only for threads."""
    RUNS.append(word)
    GATE.wait(30)
    return f"{word} at last"


def refusing(holdings: Holdings, _: Progress, word: str) -> str:
    """Finds fault with its question."""
    RUNS.append(word)
    GATE.wait(30)
    raise UserError("There is no such colour.", where=word, problems=["look"])


def counted(holdings: Holdings, progress: Progress, word: str) -> tuple[str, int, int]:
    """How many tubes there are, and who found out."""
    progress.step(1, 2)
    time.sleep(0.15)
    progress.step(2, 2)
    return word, len(holdings.tubes), os.getpid()


def plainly_refusing(holdings: Holdings, _: Progress) -> Any:
    """Finds fault with its question at once."""
    raise UserError("There is no such colour.", where="a", problems=["look"])


def broken(holdings: Holdings, _: Progress) -> Any:
    """Has a fault of its own."""
    raise ZeroDivisionError


def killed(holdings: Holdings, _: Progress) -> Any:
    """Is killed as a machine without memory does."""
    os.kill(os.getpid(), signal.SIGKILL)


def endless(holdings: Holdings, _: Progress) -> None:
    """Takes a minute."""
    time.sleep(60)
