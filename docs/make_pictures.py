"""Make the pictures of the README and of physics.md: `python docs/make_pictures.py [NAME …]`.

Physics pictures are computed from the optics; terminal pictures show what commands really print.
The same code and data give the same files.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from physics_pictures import PHYSICS
from terminal_pictures import TYPED
from terminal_pictures import draw as draw_terminal

PICTURES = Path(__file__).parent / "pictures"
NAMES = (*PHYSICS, *TYPED)


def make(name: str) -> str:
    """The SVG of one picture of `NAMES`."""
    return PHYSICS[name]() if name in PHYSICS else draw_terminal(name)


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
        path = PICTURES / f"{name}.svg"
        path.write_text(make(name), encoding="utf-8")
        print(f"{path.name}: {path.stat().st_size / 1000:.0f} kB")


if __name__ == "__main__":
    main()
