"""Pictures stand with their tube, and are set aside rather than deleted."""

from __future__ import annotations

from pathlib import Path

from tubewise.store.pictures import KeptPicture
from tubewise.store.store import Store


def test_a_picture_is_kept_found_and_set_aside(tmp_path: Path) -> None:
    with Store(tmp_path / "store.sqlite3") as store:
        first = store.keep_picture(KeptPicture(tube_id="rose", jpeg=b"\xff\xd8one", marks=[]))
        second = store.keep_picture(KeptPicture(tube_id="rose", jpeg=b"\xff\xd8two", marks=[1]))
        assert store.pictures_of("rose") == [second, first]
        assert store.pictures_of("blue") == []
        found = store.picture(first)
        assert found is not None and found.jpeg == b"\xff\xd8one" and found.tube_id == "rose"
        assert store.withdraw_picture(first) and not store.withdraw_picture(first)
        assert store.pictures_of("rose") == [second] and store.picture(first) is None
