"""The process apart: one question on standard input, progress and the answer on standard output."""

from __future__ import annotations

import json
import os
import sys
from importlib import import_module
from typing import TextIO

from tubewise.errors import UserError


def main() -> None:
    """Carry out the task named on the command line."""
    # Libraries that print must not speak in between: the pipe is ours alone.
    pipe = os.fdopen(os.dup(1), "w", encoding="utf-8")
    os.dup2(2, 1)
    message = json.loads(sys.stdin.readline())
    bound(message["memory"])
    give_way()
    module, _, name = sys.argv[1].partition(":")
    try:
        answer = getattr(import_module(module), name)(
            message["question"], lambda done, all_: _send(pipe, {"done": done, "all": all_})
        )
    except UserError as error:
        fault = {"message": error.message, "where": error.where, "problems": error.problems}
        _send(pipe, {"error": fault})
    except MemoryError:
        sys.exit(1)
    except Exception as error:
        _send(pipe, {"fault": f"{type(error).__name__}: {error}"})
    else:
        _send(pipe, {"answer": answer})


def _send(pipe: TextIO, message: object) -> None:
    print(json.dumps(message), file=pipe, flush=True)


def give_way() -> None:
    """Whoever waits for a page goes before who waits for a file to be read."""
    if hasattr(os, "nice"):  # Windows has it not
        os.nice(10)


def bound(memory: int) -> None:
    """Take no more address space than so many bytes from now on, where the system can see to it."""
    try:
        import resource
    except ImportError:  # Windows has no such bound; time and pixels are bounded all the same
        return
    # Where the machine allows less already, less it is: a bound can't be raised.
    _, most = resource.getrlimit(resource.RLIMIT_AS)
    if most != resource.RLIM_INFINITY:
        memory = min(memory, most)
    resource.setrlimit(resource.RLIMIT_AS, (memory, memory))


if __name__ == "__main__":
    main()
