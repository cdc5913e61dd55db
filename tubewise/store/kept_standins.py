"""What stands in for each tube, as the last run found it: made from the rest, at any time anew."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa

from tubewise.store.chunks import ASKED_AT_ONCE, chunks
from tubewise.store.store import Store
from tubewise.store.tables import STANDINS


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptStandIns:
    """The stand-ins of one tube as JSON `lines`, and what they hang on.

    `digest`, `basis`, `points` and `radius` are the run's own; see `advice.chain.run.Kept`.
    """

    tube_id: str
    medium: str
    digest: str
    basis: str
    points: Any
    radius: float | None
    lines: Any


def kept_standins(store: Store, tube_ids: Sequence[str] | None = None) -> list[KeptStandIns]:
    """What the last run found to stand in for all tubes, or for those asked for."""
    columns = [STANDINS.c[name] for name in KeptStandIns.__slots__]
    found: list[KeptStandIns] = []
    with store._reads() as connection:
        if tube_ids is None:
            rows = connection.execute(sa.select(*columns))
            return [KeptStandIns(**row) for row in rows.mappings()]
        for chunk in chunks(tube_ids, ASKED_AT_ONCE):
            rows = connection.execute(sa.select(*columns).where(STANDINS.c.tube_id.in_(chunk)))
            found += [KeptStandIns(**row) for row in rows.mappings()]
    return found


def keep_standins(store: Store, kept: Iterable[KeptStandIns], gone: Sequence[str] = ()) -> None:
    """Keep these in place of what was kept of their tubes, and nothing of those that are gone."""
    rows = [{name: getattr(found, name) for name in found.__slots__} for found in kept]
    with store._writes() as connection:
        for chunk in chunks([*(row["tube_id"] for row in rows), *gone], ASKED_AT_ONCE):
            connection.execute(sa.delete(STANDINS).where(STANDINS.c.tube_id.in_(chunk)))
        if rows:
            connection.execute(sa.insert(STANDINS), rows)
