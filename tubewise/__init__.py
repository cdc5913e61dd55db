"""Pigment by pigment: what is in a tube, what it mixes to, and whether a box will do.

From Python the same functions answer as on the command line:

    import tubewise

    shelf = tubewise.Shelf(tubewise.read_catalogue("catalogue.csv"))
    tubewise.compare("PV19/gamma", "PR209", shelf)
    tubewise.check(tubewise.Workshop(supply, boxes, catalogue))

Results are plain frozen objects; `tubewise.to_json` writes them, and a notebook shows them as
swatches. Importing the package loads nothing but this page; each name loads what it needs.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tubewise.advice import palette
    from tubewise.advice.alike.compare import compare
    from tubewise.advice.alike.names import names
    from tubewise.advice.alike.standin import standin
    from tubewise.advice.classroom.check import check
    from tubewise.advice.classroom.workshop import Workshop
    from tubewise.advice.counter.label import read_label
    from tubewise.advice.plain import to_json
    from tubewise.advice.recipes.recipe import recipe
    from tubewise.advice.recipes.target import target
    from tubewise.errors import UserError
    from tubewise.paints.mixing import mix
    from tubewise.paints.shelf import Shelf
    from tubewise.store.store import Store
    from tubewise.tubes.catalogue import read_boxes, read_catalogue
    from tubewise.tubes.supply import read_supply_list
    from tubewise.tubes.tube import Box, Tube

_HOMES = {
    "Box": ("tubewise.tubes.tube", "Box"),
    "Shelf": ("tubewise.paints.shelf", "Shelf"),
    "Store": ("tubewise.store.store", "Store"),
    "UserError": ("tubewise.errors", "UserError"),
    "Workshop": ("tubewise.advice.classroom.workshop", "Workshop"),
    "check": ("tubewise.advice.classroom.check", "check"),
    "compare": ("tubewise.advice.alike.compare", "compare"),
    "Tube": ("tubewise.tubes.tube", "Tube"),
    "mix": ("tubewise.paints.mixing", "mix"),
    # The room of its questions: palette.widest_range, palette.lesson and so on.
    "palette": ("tubewise.advice.palette", ""),
    "names": ("tubewise.advice.alike.names", "names"),
    "read_boxes": ("tubewise.tubes.catalogue", "read_boxes"),
    "read_catalogue": ("tubewise.tubes.catalogue", "read_catalogue"),
    "read_label": ("tubewise.advice.counter.label", "read_label"),
    "read_supply_list": ("tubewise.tubes.supply", "read_supply_list"),
    "recipe": ("tubewise.advice.recipes.recipe", "recipe"),
    "standin": ("tubewise.advice.alike.standin", "standin"),
    "target": ("tubewise.advice.recipes.target", "target"),
    "to_json": ("tubewise.advice.plain", "to_json"),
}

__all__ = [
    "Box",
    "Shelf",
    "Store",
    "Tube",
    "UserError",
    "Workshop",
    "check",
    "compare",
    "mix",
    "names",
    "palette",
    "read_boxes",
    "read_catalogue",
    "read_label",
    "read_supply_list",
    "recipe",
    "standin",
    "target",
    "to_json",
]


def __dir__() -> list[str]:
    return __all__


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, attribute = _HOMES[name]
    found = import_module(module)
    return getattr(found, attribute) if attribute else found
