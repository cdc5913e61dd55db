"""The demo's shop, boxes and workshop."""

from __future__ import annotations

import pytest

from tests.demo.demo_tubes import DEMO
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.supply import SupplyList, read_supply_list
from tubewise.tubes.tube import Box, Tube


@pytest.fixture(scope="module")
def shop() -> list[Tube]:
    return read_catalogue(DEMO / "catalogue.csv")


@pytest.fixture(scope="module")
def boxes() -> dict[str, Box]:
    return {box.seat: box for box in read_boxes(DEMO / "boxes.csv")}


@pytest.fixture(scope="module")
def workshop() -> SupplyList:
    return read_supply_list(DEMO / "supply.csv")
