"""Many targets against one box: a whole batch solved together, one target a thread."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from tubewise.search.problem import SearchProblem, SearchResult
from tubewise.search.recipes import search
from tubewise.search.threads import spread


def search_many(
    ask: SearchProblem,
    targets: Iterable[ArrayLike],
    *,
    progress: Callable[[], object] | None = None,
) -> Iterator[SearchResult]:
    """The best recipe for each target, in order, as they are found.

    `ask` is a problem whose own target is replaced by each of `targets`: CIELAB (3,) or
    (lights, 3). `progress` is called once for every target done.
    """

    def solved(target: ArrayLike) -> SearchResult:
        result = search(replace(ask, target_lab=np.asarray(target, dtype=np.float64)))
        if progress is not None:
            progress()
        return result

    yield from spread(solved, targets)
