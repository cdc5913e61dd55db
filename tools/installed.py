"""The wheel as somebody installs it: into a fresh environment, read-only, run by nobody special.

`python -m tools.installed [--constraint FILE]` builds the wheel, installs it with what it requires,
takes away every right to write there, and runs a day's commands as a user who owns nothing but an
empty home. Started by root it runs them as `nobody`; started by anybody else as they are.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

HOUSE = Path(__file__).parents[1]
LONGEST_SECONDS = 300
PAGES = (
    "/",
    "/find?name=ultramarine",
    "/names",
    "/instead",
    "/sheets/mixing-chart.pdf?t=PB29&t=PY3",
)
# A wheel must not lean on the sources, nor on what another environment holds.
FORGOTTEN = ("PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV", "TUBEWISE_DB", "NUMBA_CACHE_DIR")


@dataclass(frozen=True, slots=True)
class Person:
    """Who runs the commands, and where they are at home."""

    home: Path
    user: int | None
    python: str

    def run(self, *words: str, inside: Path) -> str:
        """What a command prints. Raises AssertionError where it fails."""
        start = time.monotonic()
        ran = subprocess.run(
            [str(inside / "bin" / words[0]), *words[1:]],
            cwd=self.home,
            env=self.environment,
            user=self.user,
            capture_output=True,
            text=True,
            timeout=LONGEST_SECONDS,
            check=False,
        )
        shown = " ".join(words[:3]).splitlines()[0]
        print(f"{time.monotonic() - start:6.1f} s  {shown}", flush=True)
        assert ran.returncode == 0, ran.stdout + ran.stderr
        return ran.stdout

    @property
    def environment(self) -> dict[str, str]:
        """As after logging in."""
        kept = {name: value for name, value in os.environ.items() if name not in FORGOTTEN}
        kept = {name: value for name, value in kept.items() if not name.startswith("XDG_")}
        return {**kept, "HOME": str(self.home)}


def main(words: list[str]) -> None:
    """Build, install, take the rights away, run; ends with an error where anything fails."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--constraint", type=Path, default=HOUSE / "constraints.txt")
    chosen = parser.parse_args(words)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        person = _person(folder / "home")
        if person is None:
            print("NOT TRIED: there is no Python 3.11 or newer here that `nobody` may run")
            return
        place = folder / "installed"
        start = time.monotonic()
        _install(_wheel(folder), place, person.python, chosen.constraint)
        print(f"{time.monotonic() - start:6.1f} s  built and installed", flush=True)
        with _read_only(place):
            _refuse_writing(person, place)
            _days_work(person, place)
    print("demo, import, sheets, a recipe, a backup and pages work from a read-only installation")


def _person(home: Path) -> Person | None:
    """Who runs the commands; None where root has no interpreter to lend."""
    home.mkdir()
    if os.name != "posix" or os.getuid() != 0:
        return Person(home, None, sys.executable)
    import pwd

    nobody = pwd.getpwnam("nobody").pw_uid
    os.chown(home, nobody, -1)
    python = _python_for(nobody)
    return Person(home, nobody, python) if python else None


def _python_for(user: int) -> str:
    """An interpreter that the user may run, or none: ours may lie in a home closed to them."""
    newer = "import sys; sys.exit(sys.version_info < (3, 11))"
    ours = str(Path(sys.executable).resolve())
    for python in (ours, "/usr/bin/python3"):
        try:
            ran = subprocess.run([python, "-c", newer], user=user, cwd="/", check=False)
        except OSError:
            continue
        if ran.returncode == 0:
            return python
    return ""


def _wheel(folder: Path) -> Path:
    # A copy of the sources, so that building leaves nothing in them.
    sources = folder / "sources"
    sources.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(HOUSE / name, sources)
    shutil.copytree(
        HOUSE / "tubewise", sources / "tubewise", ignore=shutil.ignore_patterns("__pycache__")
    )
    pip = [sys.executable, "-m", "pip", "-q", "--disable-pip-version-check"]
    subprocess.run([*pip, "wheel", "--no-deps", "-w", folder, sources], check=True)
    return next(folder.glob("tubewise-*.whl"))


def _install(wheel: Path, place: Path, python: str, constraint: Path) -> None:
    subprocess.run([python, "-m", "venv", "--without-pip", place], check=True)
    pip = [sys.executable, "-m", "pip", "-qq", "--disable-pip-version-check"]
    inside = ["--python", str(place / "bin" / "python")]
    subprocess.run([*pip, *inside, "install", "--constraint", constraint, wheel], check=True)


@contextmanager
def _read_only(place: Path) -> Iterator[None]:
    """Nobody may write there, until it is to be taken away."""
    every = [place, *(path for path in place.rglob("*") if not path.is_symlink())]
    rights = [(path, path.stat().st_mode) for path in every]
    for path, mode in rights:
        path.chmod(mode & 0o555)
    try:
        yield
    finally:
        for path, mode in rights:
            path.chmod(mode)


def _refuse_writing(person: Person, place: Path) -> None:
    """Whether the person can't write there, or all that follows would show nothing."""
    write = (
        "import pathlib, sys, tubewise\n"
        "try: (pathlib.Path(tubewise.__file__).parent / 'x').touch()\n"
        "except OSError: print('refused', tubewise.__file__)"
    )
    words = person.run("python", "-c", write, inside=place)
    assert words.startswith(f"refused {place}"), words


def _days_work(person: Person, place: Path) -> None:
    demo = person.run("tubewise", "demo", "--out", "out", inside=place)
    assert "1 " in demo and any((person.home / "out").iterdir())
    data = next(place.rglob("tubewise/demo/catalogue.csv"))
    person.run("tubewise", "import", str(data), inside=place)
    assert "ultramarine" in person.run("tubewise", "find", "ultramarine", inside=place).casefold()
    recipe = ("tubewise", "recipe", "#7a5c3a", "--medium", "acrylic", "--from", str(data))
    first = person.run(*recipe, inside=place)
    assert person.run(*recipe, inside=place) == first
    kept = [path for path in person.home.rglob("compiled-*") if any(path.iterdir())]
    assert kept, "compiled code was kept nowhere"
    person.run("tubewise", "sheet", "chart", "PB29", "PY3", "PW6", "--out", "c.pdf", inside=place)
    assert (person.home / "c.pdf").read_bytes().startswith(b"%PDF")
    person.run("tubewise", "store", "backup", "--out", "backup.sqlite3", inside=place)
    assert "Nothing is wrong" in person.run("tubewise", "store", "check", inside=place)
    _serve(person, place)


def _serve(person: Person, place: Path) -> None:
    """The server once: each page answers."""
    start = time.monotonic()
    server = subprocess.Popen(
        [str(place / "bin" / "tubewise"), "serve", "--port", "0"],
        cwd=person.home,
        env={**person.environment, "PYTHONUNBUFFERED": "1"},
        user=person.user,
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert server.stdout is not None
        address = re.search(r"http://\S+?(?=/ )", server.stdout.readline())
        assert address is not None
        for page in PAGES:
            with urllib.request.urlopen(address[0] + page, timeout=LONGEST_SECONDS) as answer:
                assert answer.status == 200 and answer.read(), page
    finally:
        server.terminate()
        server.wait(timeout=30)
    print(f"{time.monotonic() - start:6.1f} s  tubewise serve", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
