"""Invented tubes, photographed: their codes are read, and errors are doubted aloud."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from tools.photographs.tube_pictures import photograph
from tubewise.labels.photo.photo_reading import from_plain
from tubewise.labels.photo.read import marked_path, task

pytestmark = [pytest.mark.slow]


@pytest.fixture(autouse=True)
def _one_thread(monkeypatch: pytest.MonkeyPatch) -> None:
    # Two tests run at a time; more threads would only get into each other's way.
    monkeypatch.setitem(os.environ, "OMP_NUM_THREADS", "1")


def test_a_middling_and_a_hard_picture_are_read_and_marked(tmp_path: Path) -> None:
    shots = {name: photograph(seed, name) for seed, name in ((2, "middle"), (3, "hard"))}
    paths = []
    for name, shot in shots.items():
        paths.append(tmp_path / f"{name}.jpg")
        paths[-1].write_bytes(shot.data)
    steps: list[int] = []
    (tmp_path / "marked").mkdir()
    question = {"paths": list(map(str, paths)), "marked": str(tmp_path / "marked")}
    # In this process, so that what it runs through is counted as tested.
    answer = task(question, lambda done, of: steps.append(done))
    found = [from_plain(json.loads(json.dumps(plain))) for plain in answer]
    assert steps == [0, 1, 2]
    for (name, shot), reading in zip(shots.items(), found, strict=True):
        [tube] = reading.tubes
        right = set(tube.reading.codes) == set(shot.labels[0].codes)
        assert right or (name == "hard" and not tube.settled), (name, tube.text)
        assert tube.name == shot.labels[0].name
        assert set(tube.reading.codes) <= set(shot.labels[0].codes)
    assert all(marked_path(tmp_path / "marked", path).stat().st_size > 10_000 for path in paths)
