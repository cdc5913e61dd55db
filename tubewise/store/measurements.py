"""Measurements in the store: each is a version of its own, and none is overwritten."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.errors import UserError
from tubewise.store.chunks import ASKED_AT_ONCE
from tubewise.store.rows import digest, now
from tubewise.store.tables import MEASUREMENTS


@dataclass(frozen=True, slots=True)
class Measurement:
    """Measured optics of one tube: what was measured, and K and S fitted to it, as JSON values."""

    tube_id: str
    version: int
    measured_on: datetime.date | None
    instrument: str
    conditions: str
    raw: Mapping[str, Any]
    fit: Mapping[str, Any]
    withdrawn: bool


def _refuse_infinite(value: object) -> None:
    if isinstance(value, float) and value - value != 0.0:
        raise ValueError("a number is not finite")
    if isinstance(value, Mapping):
        for entry in value.values():
            _refuse_infinite(entry)
    elif isinstance(value, (list, tuple)):
        for entry in value:
            _refuse_infinite(entry)


def _measurement(row: sa.Row[Any]) -> Measurement:
    return Measurement(
        tube_id=row.tube_id,
        version=row.version,
        measured_on=row.measured_on,
        instrument=row.instrument,
        conditions=row.conditions,
        raw=row.raw,
        fit=row.fit,
        withdrawn=row.withdrawn_at is not None,
    )


def keep(
    connection: Connection,
    tube_id: str,
    *,
    raw: Mapping[str, Any],
    fit: Mapping[str, Any],
    measured_on: datetime.date | None,
    instrument: str,
    conditions: str,
) -> Measurement:
    """Keep a measurement as the tube's next version."""
    newest = connection.execute(
        sa.select(sa.func.max(MEASUREMENTS.c.version)).where(MEASUREMENTS.c.tube_id == tube_id)
    ).scalar()
    values: dict[str, Any] = {
        "tube_id": tube_id,
        "version": (newest or 0) + 1,
        "measured_on": measured_on,
        "instrument": instrument,
        "conditions": conditions,
        "raw": dict(raw),
        "fit": dict(fit),
    }
    connection.execute(sa.insert(MEASUREMENTS).values(**values, added_at=now(), withdrawn_at=None))
    return Measurement(**values, withdrawn=False)


def refuse_what_json_loses(raw: Mapping[str, Any], fit: Mapping[str, Any]) -> None:
    """Raise UserError where a measurement holds anything but finite numbers, text and lists."""
    try:
        digest([raw, fit])
        _refuse_infinite([raw, fit])
    except (TypeError, ValueError) as error:
        raise UserError(f"The measurement holds what JSON can't keep ({error}).") from None


def versions(connection: Connection, tube_id: str) -> list[Measurement]:
    """All measurements of a tube, withdrawn ones too, oldest version first."""
    rows = connection.execute(
        sa.select(MEASUREMENTS)
        .where(MEASUREMENTS.c.tube_id == tube_id)
        .order_by(MEASUREMENTS.c.version)
    )
    return [_measurement(row) for row in rows]


def newest(connection: Connection, tube_ids: Iterable[str] | None) -> dict[str, Measurement]:
    """The newest measurement that is not withdrawn, of each tube or of those asked for."""
    query = (
        sa.select(MEASUREMENTS)
        .where(MEASUREMENTS.c.withdrawn_at.is_(None))
        .order_by(MEASUREMENTS.c.version)
    )
    wanted = None if tube_ids is None else set(tube_ids)
    if wanted is not None and len(wanted) <= ASKED_AT_ONCE:
        query = query.where(MEASUREMENTS.c.tube_id.in_(wanted))
    found = [_measurement(row) for row in connection.execute(query)]
    return {m.tube_id: m for m in found if wanted is None or m.tube_id in wanted}
