"""One bad picture among several has its fault, and the others are read."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from tubewise.errors import UserError
from tubewise.labels.photo import read
from tubewise.labels.photo.photo_reading import PhotoReading, from_plain, to_plain


def test_pictures_are_read_alone_where_one_ends_the_process(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def apart(paths: Sequence[Path], *_: object) -> list[PhotoReading]:
        if Path("bomb.jpg") in paths:
            raise UserError("The reading was stopped.")
        return [PhotoReading(where=path.name, width=9, height=9, tubes=()) for path in paths]

    steps: list[tuple[int, int]] = []
    monkeypatch.setattr(read, "_read_apart", apart)
    found = read.read_photographs(
        [Path("a.jpg"), Path("bomb.jpg"), Path("c.jpg")],
        progress=lambda done, of: steps.append((done, of)),
    )
    assert [(one.where, one.fault) for one in found] == [
        ("a.jpg", ""),
        ("bomb.jpg", "The reading was stopped."),
        ("c.jpg", ""),
    ]
    assert steps == [(1, 3), (2, 3), (3, 3)]


def test_a_fault_comes_through_the_pipe() -> None:
    found = read.faulty(Path("x/a.jpg"), UserError("This picture moves.", where="a.jpg"))
    assert from_plain(to_plain(found)) == found and found.fault == "This picture moves."
