"""Pictures of the web pages, as PNG, taken with Chromium from a server of the demo.

The page is the same each time; how its letters are drawn depends on this machine's Chromium.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tools.pictures.shrink import small_png

DEMO = Path(__file__).parents[2] / "tubewise" / "demo"
COMMAND = [sys.executable, "-c", "from tubewise.cli.main import main; main()"]
# Pixels of the window, and of the picture, which shows its upper part only.
WIDTH, HEIGHT, SHOWN = 1080, 900, 700

PAGES: dict[str, tuple[str, int]] = {
    "web-first": ("", 700),
    "web-instead": ("instead?t=kaltenrain-lehrling-acrylic-permanent-rose-75ml", 520),
    "web-side-by-side": ("side-by-side?t=PV19/gamma&t=PR209&with=PB29", 516),
    "web-mixing": ("mixing?target=munsell:5P+5/6", 552),
}


@contextmanager
def served() -> Iterator[str]:
    """The address of a server with the demo's catalogue, in a store of its own."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "TUBEWISE_DB": f"sqlite:///{folder}/store.db"}
        subprocess.run(
            [*COMMAND, "import", str(DEMO / "catalogue.csv")],
            env=environment,
            check=True,
            capture_output=True,
        )
        server = subprocess.Popen(
            [*COMMAND, "serve", "--port", "0"],
            env={**environment, "PYTHONUNBUFFERED": "1"},
            stdout=subprocess.PIPE,
            text=True,
        )
        try:
            assert server.stdout is not None
            found = re.search(r"http://\S+", server.stdout.readline())
            if found is None:
                raise RuntimeError("the server did not start")
            yield found[0]
        finally:
            server.terminate()
            server.wait()


def draw(name: str) -> bytes:
    """The PNG of one of `PAGES`. Raises RuntimeError where there is no Chromium."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        raise RuntimeError("pictures of the web pages need Chromium")
    path, height = PAGES[name]
    with served() as address, tempfile.TemporaryDirectory() as folder:
        shot = Path(folder) / "page.png"
        subprocess.run(
            [
                chromium,
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--hide-scrollbars",
                "--virtual-time-budget=8000",
                f"--user-data-dir={folder}/profile",
                f"--window-size={WIDTH},{HEIGHT}",
                f"--screenshot={shot}",
                address + path,
            ],
            check=True,
            capture_output=True,
            timeout=120,
        )
        return small_png(shot.read_bytes(), SHOWN, height)
