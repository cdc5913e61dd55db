"""What readers once stumbled over, found by `make fuzz` and kept, is read or refused."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tools.fuzz.feeding import changed, taken
from tools.fuzz.readers import READERS

FOUND = Path(__file__).parents[1] / "found"
KEPT = sorted(path for path in FOUND.glob("*/*") if path.is_file())


@pytest.fixture(autouse=True)
def images_need_pillow(request: pytest.FixtureRequest) -> None:
    if "image" in request.node.name:
        pytest.importorskip("PIL")


@pytest.mark.parametrize("path", KEPT, ids=lambda path: f"{path.parent.name}-{path.name}")
def test_found_inputs(path: Path) -> None:
    taken(READERS[path.parent.name].read, path.read_bytes())


@pytest.mark.parametrize("name", READERS)
def test_each_reader_takes_a_few_changed_files(name: str) -> None:
    chance = random.Random(7)
    seeds = READERS[name].seeds()
    for seed in seeds:
        taken(READERS[name].read, seed)
        taken(READERS[name].read, changed(seed, chance))


def test_what_is_no_refusal_is_seen() -> None:
    with pytest.raises(ZeroDivisionError):
        taken(lambda data: 1 // len(data), b"")
