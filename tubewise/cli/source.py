"""Where a command's tubes come from: a file, or the store when none is given."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from tubewise.errors import UserError

if TYPE_CHECKING:
    from tubewise.measure.measured import MeasuredOptics
    from tubewise.paints.shelf import Shelf
    from tubewise.tubes.tube import Box, Tube


def tubes_of(path: Path | None) -> list[Tube]:
    """The tubes of a shop's export or a file of boxes; the store's without one.

    Raises UserError. That a file may not be whole is said beside.
    """
    from tubewise.tubes.exports import read_export

    if path is None:
        return catalogue_of(None)
    export = read_export(path, for_once=True)
    for doubt in export.doubts:
        print(f"tubewise: {path.name}: {doubt}", file=sys.stderr)
    return list(export.tubes)


def tubes_from(path: Path | None, seat: str = "", catalogue: Path | None = None) -> list[Tube]:
    """The tubes of a catalogue, or of a `seat`'s box, its sparse rows completed from `catalogue`.

    Without a file they are the store's. Raises UserError where the file holds several boxes and
    none is chosen, or not the one chosen: what several people own is nobody's to mix from.
    """
    from tubewise.tubes.box_lines import BoxReader

    if path is None:
        return _in_store(seat)
    boxes = _boxes_of(path)
    if not seat and not boxes:
        return tubes_of(path)
    if not seat and len(boxes) > 1:
        raise UserError(
            f"these are the boxes of {len(boxes)} seats; say whose with --seat", where=str(path)
        )
    chosen = [b for b in boxes if not seat or b.seat.casefold() == seat.strip().casefold()]
    if not chosen:
        known = ", ".join(box.seat for box in boxes) or "no seats in it"
        raise UserError(f"there is no seat “{seat}”; there are {known}", where=str(path))
    reader = BoxReader(catalogue_of(catalogue))
    read = {found.seat: found for found in reader.boxes(boxes)}
    return list(read[chosen[0].seat].box.tubes)


def _in_store(seat: str) -> list[Tube]:
    """What the store's shop sells, or what lies in the box of its only seat of that name."""
    from tubewise.store.database import default_url
    from tubewise.store.store import Store
    from tubewise.tubes.box_lines import BoxReader
    from tubewise.tubes.folded import folded

    with Store(default_url()) as store:
        catalogue = store.catalogue()
        boxes = [box for name in store.box_names() for box in store.boxes(name)]
    if not seat:
        if not catalogue:
            raise UserError(
                "the store holds no tubes yet; import a list, or name a file with --from"
            )
        return catalogue
    chosen = [box for box in boxes if folded(box.seat) == folded(seat)]
    if len(chosen) != 1:
        known = ", ".join(dict.fromkeys(box.seat for box in boxes)) or "none"
        several = "several boxes" if chosen else "no box"
        raise UserError(f"the store has {several} of seat “{seat}”; the seats are {known}")
    return list(BoxReader(catalogue).boxes(chosen)[0].box.tubes)


def _boxes_of(path: Path) -> list[Box]:
    """The boxes of a file; none where it is no file of boxes."""
    from tubewise.tubes.catalogue import read_boxes

    try:
        return read_boxes(path)
    except UserError:
        return []


def catalogue_of(path: Path | None) -> list[Tube]:
    """The tubes of a file, or of the store when `path` is None; no store means no tubes."""
    if path is not None:
        return tubes_of(path)
    from tubewise.store.database import default_url
    from tubewise.store.store import Store

    with Store(default_url()) as store:
        return store.catalogue()


def shelf_of(terms: Sequence[str], path: Path | None, more: Sequence[Tube] = ()) -> Shelf:
    """A shelf with the tubes that `terms` may name; the store is opened only when one needs it."""
    from tubewise.paints.shelf import Shelf
    from tubewise.paints.wash import WATER_NAME

    if path is not None:
        tubes = [*more, *tubes_of(path)]
        return Shelf(tubes, kept_measurements())
    known = {tube.id for tube in more}
    unknown = [t for t in terms if t not in known and t != WATER_NAME and not _is_pigment(t)]
    if not unknown:
        return Shelf(more, kept_measurements()) if more else Shelf()
    return Shelf((*more, *tubes_in_store()), kept_measurements())


def tubes_in_store() -> list[Tube]:
    """Every tube that the store knows by its id: those that somebody owns and the catalogue's."""
    from tubewise.store.database import default_url
    from tubewise.store.store import Store
    from tubewise.tubes.box_lines import BoxReader

    with Store(default_url()) as store:
        catalogue = store.catalogue()
        boxes = [box for name in store.box_names() for box in store.boxes(name)]
    reader = BoxReader(catalogue)
    owned = (tube for read in reader.boxes(boxes) for tube in read.box.tubes)
    return [*owned, *catalogue]


def kept_measurements() -> dict[str, MeasuredOptics]:
    """Measured optics by tube id, from the store where there is one; none is made for asking."""
    from tubewise.store.database import default_url

    url = default_url()
    place = url.removeprefix("sqlite:///")
    if place != url and not Path(place).exists():
        return {}
    from tubewise.measure.attach import measured_optics
    from tubewise.store.store import Store

    with Store(url) as store:
        return measured_optics(store)


def _is_pigment(term: str) -> bool:
    from tubewise import labels

    reading = labels.read(term)
    return len(reading.pigments) == 1 and bool(reading.pigments[0].name)


def tube_named(name: str, tubes: Sequence[Tube]) -> Tube:
    """The one paint that a name, a code, a maker and the like mean. Raises UserError."""
    from tubewise.tubes.naming import TubeNames, tube_meant

    return tube_meant(name, TubeNames(tubes))
