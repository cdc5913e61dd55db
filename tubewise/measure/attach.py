"""Measured optics kept with their tube: attached, listed, withdrawn, taken up again, exported."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tubewise.errors import UserError
from tubewise.measure.measured import MeasuredOptics, from_documents

if TYPE_CHECKING:
    from tubewise.store.measurements import Measurement
    from tubewise.store.store import Store


@dataclass(frozen=True, slots=True)
class Version:
    """One measurement of a tube: its number, and whether it was set aside."""

    tube: str
    version: int
    withdrawn: bool
    optics: MeasuredOptics

    @property
    def words(self) -> str:
        """`version 2, measured on … (withdrawn)`."""
        return f"version {self.version}, {self.optics.summary}" + (
            " (withdrawn)" if self.withdrawn else ""
        )


def attach(store: Store, optics: MeasuredOptics) -> Version:
    """Keep measured optics as the next version of their tube; it drives advice from then on.

    Raises UserError when they name no tube.
    """
    if not optics.tube:
        raise UserError("The measurement names no tube; say --tube ID.")
    c = optics.conditions
    kept_as = [
        f"specular {c.specular}" if c.specular else "",
        c.geometry,
        c.light,
        f"bandpass {c.bandpass}" if c.bandpass else "",
        f"backing {c.backing}" if c.backing else "",
    ]
    kept = store.add_measurement(
        optics.tube,
        raw=optics.raw_document(),
        fit=optics.fit_document(),
        measured_on=day_of(optics.date),
        instrument=optics.instrument,
        conditions=", ".join(word for word in kept_as if word),
    )
    return _version(kept)


def history(store: Store, tube: str) -> tuple[Version, ...]:
    """Every measurement of a tube, oldest first, withdrawn ones too."""
    return tuple(_version(m) for m in store.measurements(tube))


def current(store: Store, tube: str) -> Version | None:
    """The newest measurement of a tube that isn't withdrawn."""
    found = store.measured([tube]).get(tube)
    return None if found is None else _version(found)


def measured_optics(store: Store, tubes: Iterable[str] | None = None) -> dict[str, MeasuredOptics]:
    """Measured optics in use by tube id, of all tubes or of those asked for."""
    return {tube: _version(found).optics for tube, found in store.measured(tubes).items()}


def withdraw(store: Store, tube: str, version: int | None = None) -> Version:
    """Set a measurement aside, by default the one in use; the one before takes its place.

    Raises UserError when there is none.
    """
    chosen = _chosen(store, tube, version)
    if not store.withdraw(tube, chosen.version):
        raise UserError(f"Version {chosen.version} was withdrawn already.", where=tube)
    return _chosen(store, tube, chosen.version)


def reinstate(store: Store, tube: str, version: int) -> Version:
    """Use a withdrawn measurement again. Raises UserError when it wasn't withdrawn."""
    if not store.reinstate(tube, version):
        raise UserError(f"There is no withdrawn version {version}.", where=tube)
    return _chosen(store, tube, version)


def export(store: Store, tube: str, version: int | None = None) -> str:
    """A measurement as JSON text, raw readings and all; `measured.from_json` reads it back."""
    return _chosen(store, tube, version).optics.to_json()


def _chosen(store: Store, tube: str, version: int | None) -> Version:
    if version is None:
        found = current(store, tube)
        if found is None:
            raise UserError("This tube has no measurement in use.", where=tube)
        return found
    for change in history(store, tube):
        if change.version == version:
            return change
    raise UserError(f"This tube has no measurement number {version}.", where=tube)


def _version(kept: Measurement) -> Version:
    where = f"{kept.tube_id}, version {kept.version}"
    return Version(
        kept.tube_id, kept.version, kept.withdrawn, from_documents(kept.fit, kept.raw, where)
    )


_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def day_of(text: str) -> datetime.date | None:
    """The day in an instrument's date where it can't be mistaken, else None.

    `2026-03-01…`, `1 March 2026`, `March 1, 2026` and `13.02.2026` are sure; `03/02/2026` isn't.
    """
    iso = re.search(r"\b(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})", text)
    if iso:
        return _day(*(int(v) for v in iso.groups()))
    words = text.casefold()
    month = next((n for n, name in enumerate(_MONTHS, 1) if re.search(rf"\b{name}", words)), None)
    year = re.search(r"\b(\d{4})\b", text)
    day = re.search(r"\b(\d{1,2})\b(?!:)", text)
    if month and year and day:
        return _day(int(year.group(1)), month, int(day.group(1)))
    dotted = re.search(r"\b(\d{1,2})([./-])(\d{1,2})\2(\d{4})\b", text)
    if dotted:
        first, second, y = int(dotted.group(1)), int(dotted.group(3)), int(dotted.group(4))
        # With points the day comes first; with strokes only where no month has that number.
        if dotted.group(2) == "." or first > 12:
            return _day(y, second, first)
        if second > 12:
            return _day(y, first, second)
    return None


def _day(year: int, month: int, day: int) -> datetime.date | None:
    try:
        return datetime.date(year, month, day)
    except ValueError:
        return None
