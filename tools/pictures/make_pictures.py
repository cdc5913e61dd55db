"""Pictures of the README and physics.md: `python -m tools.pictures.make_pictures [NAME …]`.

Physics pictures are computed from the optics; terminal pictures show what commands really print,
sheets and pages what is really set and served. The same code and data give the same files, but
for the pages' letters, which the browser draws.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from tools.pictures import web_pictures
from tools.pictures.photograph_pictures import PHOTOGRAPHS
from tools.pictures.physics_pictures import PHYSICS
from tools.pictures.sheet_pictures import SHEETS
from tools.pictures.terminal_pictures import TYPED
from tools.pictures.terminal_pictures import draw as draw_terminal

PICTURES = Path(__file__).parents[2] / "docs" / "pictures"
NAMES = (*PHYSICS, *TYPED, *SHEETS, *web_pictures.PAGES, *PHOTOGRAPHS)


def make(name: str) -> tuple[str, bytes]:
    """The file name and the contents of one picture of `NAMES`."""
    if name in PHOTOGRAPHS:
        return f"{name}.jpg", PHOTOGRAPHS[name]()
    if name in SHEETS:
        return f"{name}.png", SHEETS[name]()
    if name in web_pictures.PAGES:
        return f"{name}.png", web_pictures.draw(name)
    drawn = PHYSICS[name]() if name in PHYSICS else draw_terminal(name)
    return f"{name}.svg", drawn.encode()


def main(argv: Sequence[str] | None = None) -> None:
    """Write the named pictures, or all of them, into docs/pictures/."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", metavar="NAME", help=", ".join(NAMES))
    names = parser.parse_args(argv).names or NAMES
    unknown = sorted(set(names) - set(NAMES))
    if unknown:
        parser.error(f"no such picture: {', '.join(unknown)}; there are {', '.join(NAMES)}")
    PICTURES.mkdir(exist_ok=True)
    for name in names:
        file, contents = make(name)
        path = PICTURES / file
        path.write_bytes(contents)
        print(f"{path.name}: {path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
