"""The version of all that judges: another one makes every stand-in anew."""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path

_HOUSE = Path(__file__).parents[2]
# What a judgement is worked out by, from spectra to words.
_ROOMS = ("colour", "optics", "search", "pigments", "labels", "paints", "advice")
_KINDS = (".py", ".csv", ".toml")


@cache
def model() -> str:
    """Sixteen hexadecimal digits of the sources and the data that a judgement hangs on."""
    seen = hashlib.blake2b(digest_size=8)
    for room in _ROOMS:
        for path in sorted((_HOUSE / room).rglob("*")):
            if path.suffix in _KINDS:
                seen.update(f"{path.relative_to(_HOUSE).as_posix()}\n".encode())
                seen.update(path.read_bytes())
    return seen.hexdigest()
