"""A store with the demo's shop and a small class, and a visitor who reads and fills in forms."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx
import pytest
from starlette.testclient import TestClient

from tubewise.demo.workshop import folder
from tubewise.store.store import Store
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.supply import SupplyList, read_supply_list
from tubewise.web.app import application

BASE = "http://127.0.0.1"


@dataclass
class Visitor:
    """Somebody with a browser that keeps cookies."""

    client: TestClient

    def get(self, path: str, status: int = 200) -> str:
        """The page at an address, as text."""
        answer: httpx.Response = self.client.get(path)
        assert answer.status_code == status, answer.text[:2000]
        return answer.text

    def token(self) -> str:
        """The token that this visitor's forms carry."""
        return str(re.findall(r'name="token" value="([^"]+)"', self.get("/class/list"))[0])

    def send(
        self, path: str, status: int = 303, files: Any = None, **fields: str
    ) -> httpx.Response:
        """Send a form as its page would."""
        if "token" not in fields:
            fields["token"] = self.token()
        answer: httpx.Response = self.client.post(
            path, data=fields, files=files, follow_redirects=False
        )
        assert answer.status_code == status, answer.text[:2000]
        return answer

    def follow(self, answer: httpx.Response) -> str:
        """The page a form leads to."""
        return self.get(html.unescape(answer.headers["location"]))


def visitor_of(store: Store, **options: Any) -> Visitor:
    """A visitor of a server over a store."""
    return Visitor(TestClient(application(store, **options), base_url=BASE))


def fill(store: Store) -> None:
    """The demo's shop, and a class of two seats and three slots."""
    here = folder()
    store.import_catalogue(read_catalogue(here / "catalogue.csv"))
    boxes = [b for b in read_boxes(here / "boxes.csv") if b.seat in ("1", "8")]
    store.import_boxes(boxes, "Moor")
    whole = read_supply_list(here / "supply.csv")
    store.import_supply_list(SupplyList("Moor", whole.slots[:3], whole.mixes[:1]))


@pytest.fixture(scope="session")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """A filled store that no test changes."""
    with Store(Path(tmp_path_factory.mktemp("web") / "shop.sqlite3")) as store:
        fill(store)
        yield store


@pytest.fixture(scope="session")
def reader(shop: Store) -> Visitor:
    """A visitor of the filled store who only reads."""
    return visitor_of(shop)


@pytest.fixture
def owner(tmp_path: Path) -> Iterator[Visitor]:
    """A visitor of a filled store of their own."""
    with Store(tmp_path / "own.sqlite3") as store:
        here = folder()
        store.import_catalogue(read_catalogue(here / "catalogue.csv")[:30])
        boxes = [b for b in read_boxes(here / "boxes.csv") if b.seat in ("1", "8")]
        store.import_boxes(boxes, "Moor")
        yield visitor_of(store)


@pytest.fixture
def newcomer(tmp_path: Path) -> Iterator[Visitor]:
    """A visitor of an empty store."""
    with Store(tmp_path / "empty.sqlite3") as store:
        yield visitor_of(store)
