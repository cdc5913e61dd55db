"""Compiled code is kept under the sources it was made of, wherever something can be written."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tubewise.search import jit
from tubewise.search.machine_code import KEPT_FOLDERS, PREFIX, digest, folder

SOURCES = Path(jit.__file__).parent
LOW = """
from tiny.jit import jit

@jit
def above(x):
    return x + {step}
"""
HIGH = """
from tiny.jit import jit
from tiny.low import above

@jit
def doubled(x):
    return 2.0 * above(x)

if __name__ == "__main__":
    print(doubled(1.0), sum(doubled.stats.cache_hits.values()))
"""


@pytest.fixture
def room(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A room of two kernels, one of which inlines the other from another file."""
    monkeypatch.delenv("NUMBA_CACHE_DIR", raising=False)
    room = tmp_path / "tiny"
    room.mkdir()
    shutil.copy(SOURCES / "jit.py", room / "jit.py")
    (room / "low.py").write_text(LOW.format(step=1.0))
    (room / "high.py").write_text(HIGH)
    return room


def run(room: Path) -> tuple[float, int]:
    """What the room's main kernel answers in a new process, and how often it came from a file."""
    made = subprocess.run(
        [sys.executable, "-m", "tiny.high"],
        cwd=room.parent,
        check=True,
        capture_output=True,
        text=True,
    )
    answer, hits = made.stdout.split()
    return float(answer), int(hits)


@pytest.mark.slow
def test_a_kernel_is_compiled_anew_when_one_that_it_inlines_from_another_file_changes(room):
    assert run(room) == (4.0, 0)
    assert run(room) == (4.0, 1)
    (room / "low.py").write_text(LOW.format(step=5.0))
    assert run(room) == (12.0, 0)


def test_any_edit_in_the_room_names_another_folder(room):
    first = digest(room)
    assert digest(room) == first
    (room / "low.py").write_text(LOW.format(step=2.0))
    second = digest(room)
    (room / "further").mkdir()
    (room / "further" / "new.py").write_text("")
    assert len({first, second, digest(room)}) == 3


def test_another_version_of_what_compiles_names_another_folder(room, monkeypatch):
    first = digest(room)
    monkeypatch.setattr("tubewise.search.machine_code.version", lambda name: "99.0")
    assert digest(room) != first


def test_the_folder_lies_in_the_room_and_is_named_after_the_digest(room):
    assert folder(room) == room / "__pycache__" / (PREFIX + digest(room))


def test_a_room_that_is_read_only_keeps_its_code_with_the_user(room, tmp_path, monkeypatch):
    monkeypatch.setattr("platformdirs.user_cache_dir", lambda *a, **k: str(tmp_path / "cache"))
    (room / "__pycache__").write_text("a file, so that no folder can be made here")
    assert folder(room) == tmp_path / "cache" / (PREFIX + digest(room))


def test_where_nothing_can_be_written_kernels_are_compiled_each_time(room, tmp_path, monkeypatch):
    (tmp_path / "cache").write_text("")
    (room / "__pycache__").write_text("")
    monkeypatch.setattr("platformdirs.user_cache_dir", lambda *a, **k: str(tmp_path / "cache"))
    assert folder(room) is None
    monkeypatch.setattr(jit, "KEPT_IN", None)
    kernel = jit.jit(lambda x: x + 1.0)
    assert kernel(1.0) == 2.0 and not kernel.stats.cache_path


def test_folders_of_earlier_sources_are_cleared_out_but_for_the_newest(room):
    made = []
    for step in range(KEPT_FOLDERS + 3):
        (room / "low.py").write_text(LOW.format(step=float(step)))
        made.append(folder(room))
    assert [path is not None and path.is_dir() for path in made] == [False] * 3 + [
        True
    ] * KEPT_FOLDERS
