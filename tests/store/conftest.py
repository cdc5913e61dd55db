"""A store with tubes in it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.tubes_for_tests import TUBES
from tubewise.store.store import Store


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path / "store.sqlite3") as opened:
        opened.import_catalogue(TUBES)
        yield opened
