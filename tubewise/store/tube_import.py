"""Tubes into the store: new ones added, known ones brought up to date."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.errors import UserError
from tubewise.store.chunks import ASKED_AT_ONCE, chunks
from tubewise.store.rows import now, tube_row
from tubewise.store.tables import TUBES
from tubewise.store.tube_index import index, unindex
from tubewise.tubes.tube import Tube


def distinct(tubes: list[Tube]) -> list[Tube]:
    """The tubes, equal ones folded. Raises UserError where two that differ share an id."""
    found: dict[str, Tube] = {}
    problems = []
    for tube in tubes:
        if found.setdefault(tube.id, tube) != tube:
            problems.append(f"{tube.id}: two tubes that differ have this id")
    if problems:
        raise UserError("These tubes contradict each other; nothing was kept.", problems=problems)
    return list(found.values())


def import_tubes(
    connection: Connection, tubes: Sequence[Tube], words: dict[str, int]
) -> dict[str, int]:
    """Add tubes or bring them up to date, with their indexes; counts by outcome."""
    old: dict[str, tuple[int, str, bool]] = {}
    for some in chunks(tubes, ASKED_AT_ONCE):
        for known in connection.execute(
            sa.select(TUBES.c.id, TUBES.c.pk, TUBES.c.digest, TUBES.c.deleted_at).where(
                TUBES.c.id.in_([tube.id for tube in some])
            )
        ):
            old[known.id] = (known.pk, known.digest, known.deleted_at is not None)
    moment = now()
    fresh: list[tuple[Tube, dict[str, Any]]] = []
    changed: list[tuple[int, Tube]] = []
    for tube in tubes:
        row = tube_row(tube)
        if tube.id not in old:
            fresh.append(
                (tube, {**row, "added_at": moment, "changed_at": moment, "deleted_at": None})
            )
            continue
        pk, kept, deleted = old[tube.id]
        if kept != row["digest"] or deleted:
            connection.execute(
                sa.update(TUBES)
                .where(TUBES.c.pk == pk)
                .values({**row, "changed_at": moment, "deleted_at": None})
            )
            changed.append((pk, tube))
    if changed:
        unindex(connection, [pk for pk, _ in changed])
    added: list[tuple[int, Tube]] = []
    if fresh:
        # Asking for the keys afterwards is several times faster than having them returned.
        connection.execute(sa.insert(TUBES), [row for _, row in fresh])
        by_id = {tube.id: tube for tube, _ in fresh}
        for chunk in chunks(list(by_id), ASKED_AT_ONCE):
            added += [
                (kept.pk, by_id[kept.id])
                for kept in connection.execute(
                    sa.select(TUBES.c.pk, TUBES.c.id).where(TUBES.c.id.in_(chunk))
                )
            ]
        added.sort(key=lambda entry: entry[0])
    index(connection, changed + added, words)
    return {
        "added": len(added),
        "changed": len(changed),
        "unchanged": len(tubes) - len(added) - len(changed),
    }
