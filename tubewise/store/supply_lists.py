"""Supply lists into the store."""

from __future__ import annotations

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.rows import digest, now, supply_documents
from tubewise.store.tables import SUPPLY_LISTS
from tubewise.tubes.supply import SupplyList


def import_supply_list(connection: Connection, supply: SupplyList) -> str:
    """Add a supply list or bring the one of its name up to date.

    Returns `added`, `changed` or `unchanged`.
    """
    slots, mixes = supply_documents(supply)
    row = {
        "name": supply.name,
        "slots": slots,
        "mixes": mixes,
        "digest": digest([slots, mixes]),
        "changed_at": now(),
        "deleted_at": None,
    }
    old = connection.execute(
        sa.select(SUPPLY_LISTS).where(SUPPLY_LISTS.c.name == supply.name)
    ).first()
    if old is None:
        connection.execute(sa.insert(SUPPLY_LISTS).values(row))
        return "added"
    if old.digest == row["digest"] and old.deleted_at is None:
        return "unchanged"
    connection.execute(sa.update(SUPPLY_LISTS).where(SUPPLY_LISTS.c.pk == old.pk).values(row))
    return "changed"
