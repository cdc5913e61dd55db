"""What runs in such a process: it reads the store, and answers until the server goes away."""

from __future__ import annotations

import os
import pickle  # nosec B403 # between two processes of ours
import sys
import threading
import time
import traceback
from dataclasses import dataclass, field
from typing import IO, Any

from tubewise import limits
from tubewise.apart.worker import bound, give_way
from tubewise.errors import UserError
from tubewise.search.compiled import ready
from tubewise.store.store import Store
from tubewise.web.counter import Counter
from tubewise.web.works import Progress

_TELL_EVERY_S = 0.1
_LOOK_EVERY_S = 1.0


@dataclass
class _Reported(Progress):
    """Progress that is told to the server, not more often than anybody looks."""

    pipe: IO[bytes] | None = None
    spoke: float = field(default_factory=time.monotonic)

    def step(self, done: int, every: int) -> None:
        """So many of all are done."""
        super().step(done, every)
        if time.monotonic() - self.spoke >= _TELL_EVERY_S:
            self.spoke = time.monotonic()
            _tell(self.pipe, "progress", (done, every))


def main() -> None:
    """Answer what comes on standard input, on standard output."""
    # Libraries that print must not speak in between: the pipe is ours alone.
    pipe = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    threading.Thread(target=_end_with, args=(os.getppid(),), daemon=True).start()
    give_way()
    bound(limits.ANSWER_MEMORY)
    try:
        with Store(str(_received())) as store:
            counter = Counter(store)
            ready()
            counter.holdings().warm_search()
            while True:
                revision, task, arguments = _received()
                _answer(pipe, counter, revision, task, arguments)
    except (EOFError, BrokenPipeError, KeyboardInterrupt):
        return


def _end_with(server: int) -> None:
    """Go away with the server, in the middle of an answer too, however it was ended."""
    while os.getppid() == server:
        time.sleep(_LOOK_EVERY_S)
    os._exit(0)


def _received() -> Any:
    return pickle.load(sys.stdin.buffer)  # nosec B301 # from the server alone


def _answer(
    pipe: IO[bytes], counter: Counter, revision: int, task: Any, arguments: tuple[Any, ...]
) -> None:
    try:
        holdings = counter.holdings_at(revision)
        answer = task(holdings, _Reported(pipe=pipe), *arguments)
        packed = pickle.dumps(("answer", answer), pickle.HIGHEST_PROTOCOL)
    except UserError as error:
        _tell(pipe, "refused", (error.message, error.where, error.problems))
    except Exception:
        _tell(pipe, "fault", traceback.format_exc())
    else:
        pipe.write(packed)
        pipe.flush()


def _tell(pipe: IO[bytes] | None, kind: str, found: Any) -> None:
    assert pipe is not None
    pickle.dump((kind, found), pipe, pickle.HIGHEST_PROTOCOL)
    pipe.flush()


if __name__ == "__main__":
    main()
