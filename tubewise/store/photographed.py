"""Tubes read off photographs into a seat's box, with their pictures, all or nothing."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy.engine import Connection

from tubewise.store import pictures
from tubewise.store.boxes import boxes_of_set, import_box
from tubewise.store.pictures import KeptPicture
from tubewise.tubes.tube import Box, box_of


def keep_in_box(
    connection: Connection,
    box: Box,
    name: str,
    *,
    instead: bool,
    kept: Sequence[KeptPicture],
) -> None:
    """Add the tubes of `box` to its seat's box of the set `name`, or put them `instead`."""
    own = box_of(boxes_of_set(connection, name), box.seat) or Box(box.seat, ())
    before = () if instead else own.tubes
    import_box(connection, Box(own.seat, (*before, *box.tubes)), name)
    for picture in kept:
        pictures.keep(connection, picture)
