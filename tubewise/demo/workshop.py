"""The demo workshops, ready to be checked: one for each medium, each in a folder of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.demo.titles import FIRST, TITLES
from tubewise.errors import UserError
from tubewise.labels.phrasing import either
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.supply import read_supply_list


def folder(workshop: str = FIRST) -> Path:
    """Where a workshop's spreadsheets lie. Raises UserError for one that does not exist."""
    name = workshop.strip().casefold()
    if name not in TITLES:
        raise UserError(f"the demo's workshops are {either(list(TITLES))}", where=f"“{workshop}”")
    demo = Path(str(files("tubewise.demo")))
    return demo if name == FIRST else demo / name


def opened(workshop: str = FIRST) -> Workshop:
    """A demo workshop with its supply list, boxes and shop; else as `folder`."""
    here = folder(workshop)
    title = TITLES[workshop.strip().casefold()]
    return Workshop(
        replace(read_supply_list(here / "supply.csv"), name=title),
        read_boxes(here / "boxes.csv"),
        read_catalogue(here / "catalogue.csv"),
    )


def run(progress: Callable[[int, int], None] | None = None, workshop: str = FIRST) -> ClassCheck:
    """The class check of a demo workshop; reads the packaged files and touches nothing else.

    Raises UserError for a workshop that does not exist.
    """
    return check(opened(workshop), progress)
