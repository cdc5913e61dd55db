"""The demo workshop, ready to be checked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.supply import read_supply_list

WORKSHOP = "Heather, harebell, rowan"


def folder() -> Path:
    """Where the demo's spreadsheets lie."""
    return Path(str(files("tubewise.demo")))


def run(progress: Callable[[int, int], None] | None = None) -> ClassCheck:
    """The class check of the demo workshop; reads the packaged files and touches nothing else."""
    here = folder()
    demo = Workshop(
        replace(read_supply_list(here / "supply.csv"), name=WORKSHOP),
        read_boxes(here / "boxes.csv"),
        read_catalogue(here / "catalogue.csv"),
    )
    return check(demo, progress)
