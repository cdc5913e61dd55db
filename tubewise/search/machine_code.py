"""Where compiled code is kept: a folder named after everything the code depends on.

numba looks at the file of the function it compiles and at nothing else, so after an edit to one
kernel those that inline it from another file would run on as before. Here the folder's name is a
digest of the whole room, so that any edit, and any new version of what compiles it, begins an empty
folder.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import platform
import shutil
import tempfile
from collections.abc import Iterator
from importlib.metadata import version
from pathlib import Path

import platformdirs

PREFIX = "compiled-"
# Folders of earlier sources are left for other copies of the program; the oldest go.
KEPT_FOLDERS = 4


def digest(room: Path) -> str:
    """Sixteen hexadecimal digits of every source below `room`, its place, and the versions used."""
    seen = hashlib.sha256(str(room.resolve()).encode())
    for used in ("numba", "llvmlite", "numpy"):
        seen.update(f"{used} {version(used)}\n".encode())
    seen.update(f"{platform.python_implementation()} {platform.python_version()}\n".encode())
    for source in sorted(room.rglob("*.py")):
        seen.update(f"{source.relative_to(room).as_posix()}\n".encode())
        seen.update(source.read_bytes())
    return seen.hexdigest()[:16]


def homes(room: Path) -> Iterator[Path]:
    """Folders that may hold compiled code, the most wanted first."""
    if chosen := os.environ.get("NUMBA_CACHE_DIR"):
        yield Path(chosen)
    yield room / "__pycache__"
    with contextlib.suppress(OSError, RuntimeError):
        yield Path(platformdirs.user_cache_dir("tubewise", appauthor=False))


def folder(room: Path) -> Path | None:
    """The folder for the code of `room`, made if need be; None when none can be written to."""
    name = PREFIX + digest(room)
    for home in homes(room):
        try:
            fresh = not (home / name).is_dir()
            (home / name).mkdir(parents=True, exist_ok=True)
            tempfile.TemporaryFile(dir=home / name).close()
        except OSError:
            continue
        if fresh:
            _clear_out(home)
        return home / name
    return None


def _clear_out(home: Path) -> None:
    """Leave only the newest folders of compiled code."""
    with contextlib.suppress(OSError):
        by_age = sorted(home.glob(PREFIX + "*"), key=lambda path: path.stat().st_mtime)
        for old in by_age[:-KEPT_FOLDERS]:
            shutil.rmtree(old, ignore_errors=True)
