"""Tubes, boxes and supply lists; spreadsheets in and out; the store."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tubewise.tubes.catalogue import (
        Products,
        complete,
        read_boxes,
        read_catalogue,
        write_boxes,
        write_catalogue,
    )
    from tubewise.tubes.store import Imported, Measurement, Page, Store
    from tubewise.tubes.supply import (
        KeyMix,
        Slot,
        SupplyList,
        read_supply_list,
        write_supply_list,
    )
    from tubewise.tubes.tube import Box, Tube, make_tube

_HOMES = {
    "Box": "tube",
    "Imported": "store",
    "KeyMix": "supply",
    "Measurement": "store",
    "Page": "store",
    "Products": "catalogue",
    "Slot": "supply",
    "Store": "store",
    "SupplyList": "supply",
    "Tube": "tube",
    "complete": "catalogue",
    "make_tube": "tube",
    "read_boxes": "catalogue",
    "read_catalogue": "catalogue",
    "read_supply_list": "supply",
    "write_boxes": "catalogue",
    "write_catalogue": "catalogue",
    "write_supply_list": "supply",
}

__all__ = [
    "Box",
    "Imported",
    "KeyMix",
    "Measurement",
    "Page",
    "Products",
    "Slot",
    "Store",
    "SupplyList",
    "Tube",
    "complete",
    "make_tube",
    "read_boxes",
    "read_catalogue",
    "read_supply_list",
    "write_boxes",
    "write_catalogue",
    "write_supply_list",
]


def __getattr__(name: str) -> Any:
    """Load the module of a public name on first use, so that importing the package is cheap."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
