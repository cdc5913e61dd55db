"""What a run found, into the store and back."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from tubewise.advice.chain.line import Line, document
from tubewise.advice.chain.run import Kept, Plan, Run, run
from tubewise.measure.attach import measured_optics
from tubewise.store.kept_standins import KeptStandIns, keep_standins, kept_standins
from tubewise.store.store import Store


def run_in_store(
    store: Store,
    plan: Plan,
    progress: Callable[[int, int], None] | None = None,
    *,
    anew: bool = False,
) -> Run:
    """Find what stands in for every tube of the store, and keep it there.

    Only what changed since the last run is judged, or all of it `anew`. What a run that was stopped
    had kept stays and is not judged again.
    """
    before = {} if anew else {kept.tube_id: _read(kept) for kept in kept_standins(store)}

    def keep(found: Sequence[Kept]) -> None:
        keep_standins(store, map(_written, found))

    done = run(store.catalogue(), measured_optics(store), plan, before, progress, keep)
    if done.gone:
        keep_standins(store, (), done.gone)
    return done


def _written(kept: Kept) -> KeptStandIns:
    return KeptStandIns(
        tube_id=kept.tube,
        medium=kept.medium,
        digest=kept.digest,
        basis=kept.basis,
        points={medium: point.tolist() for medium, point in kept.points.items()},
        radius=kept.radius if math.isfinite(kept.radius) else None,
        lines=[document(line) for line in kept.lines],
    )


def _read(kept: KeptStandIns) -> Kept:
    return Kept(
        tube=kept.tube_id,
        medium=kept.medium,
        digest=kept.digest,
        basis=kept.basis,
        points={medium: np.asarray(point) for medium, point in kept.points.items()},
        radius=math.inf if kept.radius is None else kept.radius,
        lines=tuple(Line(**line) for line in kept.lines),
    )
