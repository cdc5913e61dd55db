"""Stand-ins for every tube of an invented chain: tubes a second, what an index misses, a change.

`python -m bench.chain [TUBES]`. Wall time is that of two processes; the processor time beside it
says what the same takes where nothing else runs.
"""

from __future__ import annotations

import random
import resource
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from bench.chain_tubes import chain_tubes
from bench.row import Row
from tubewise.advice.alike.standin import standin
from tubewise.advice.alike.standin_results import StandInWishes
from tubewise.advice.chain.run import Kept, Plan, Run, run
from tubewise.paints.shelf import Shelf
from tubewise.search.compiled import ready
from tubewise.tubes.tube import Tube

SINGLE = StandInWishes(most_paints=1)
TWO = StandInWishes(most_paints=2)
PLAN = Plan(date="2026-01-31", model="bench", wishes=SINGLE, most=3, processes=2)
SAMPLE = 200
CHANGED = 10


def rows(count: int = 5_000) -> Iterator[Row]:
    """A run over all tubes, one with mixtures over a tenth of them, a change, and the recall."""
    ready()
    tubes = chain_tubes(count)
    single, row = _timed(f"stand-ins, single tubes, {count:,} tubes", tubes, PLAN, "200 tubes a s")
    yield row
    few = chain_tubes(max(100, count // 10))
    words = f"stand-ins, tubes and mixtures of two, {len(few):,} tubes"
    yield _timed(words, few, replace(PLAN, wishes=TWO), "20 tubes a s")[1]
    yield _change(tubes, single)
    yield _recall(tubes, single)


def _timed(words: str, tubes: Sequence[Tube], plan: Plan, to_reach: str) -> tuple[Run, Row]:
    start, busy = time.perf_counter(), _processor()
    done = run(tubes, {}, plan)
    took, used = time.perf_counter() - start, _processor() - busy
    remark = (
        f"{len(tubes) / took:.0f} tubes a second; {1000 * used / len(tubes):.0f} ms of processor "
        f"a tube, {2 * len(tubes) / used:.0f} a second on two that are free"
    )
    return done, Row(words, took, None, to_reach, remark)


def _processor() -> float:
    """Seconds of processor that this process and those that ended have used."""
    kinds = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    return sum(used.ru_utime + used.ru_stime for used in map(resource.getrusage, kinds))


def _change(tubes: Sequence[Tube], before: Run) -> Row:
    """Ten tubes are sold out; only what they reach is judged."""
    gone = set(random.Random(1).sample(range(len(tubes)), CHANGED))
    changed = [replace(t, stock=0) if n in gone else t for n, t in enumerate(tubes)]
    kept: dict[str, Kept] = {found.tube: found for found in before.kept}
    start = time.perf_counter()
    done = run(changed, {}, PLAN, kept)
    took = time.perf_counter() - start
    remark = f"{len(done.judged)} tubes judged anew"
    return Row(f"{CHANGED} of {len(tubes):,} tubes sold out", took, None, "under 5 s", remark)


def _recall(tubes: Sequence[Tube], single: Run) -> Row:
    """Of some tubes, how many have the best stand-in that all pairs give."""
    shelf = Shelf(tubes)
    some = random.Random(2).sample(range(len(tubes)), min(SAMPLE, len(tubes)))
    lines = {found.tube: found.lines[0] for found in single.kept}
    hits, times = [], []
    for number in some:
        tube = tubes[number]
        start = time.perf_counter()
        answer = standin(tube, tubes, shelf, most=1, wishes=SINGLE)
        times.append(time.perf_counter() - start)
        best, found = answer.standins, lines[tube.id]
        # Another of exactly the same likeness and standing is as good.
        hits.append(
            (found.kind == "nothing" and not best)
            or (
                bool(best)
                and (found.does, found.worst_delta_e00) == (best[0].does, best[0].worst_delta_e00)
            )
        )
    found_words = f"{100 * float(np.mean(hits)):.1f} % of {len(some)} have the best of all pairs"
    return Row("one tube against all pairs", float(np.median(times)), None, "99.5 %", found_words)


if __name__ == "__main__":
    for row in rows(int(sys.argv[1]) if len(sys.argv) > 1 else 5_000):
        print(" | ".join(row.cells), flush=True)
