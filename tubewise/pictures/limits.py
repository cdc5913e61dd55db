"""The most that one picture may cost."""

from __future__ import annotations

from typing import Final

MOST_BYTES: Final = 40 * 2**20  # of a file
MOST_PIXELS: Final = 50_000_000  # of a picture; telephones take 12 to 50 million
LEAST_SIDE: Final = 64  # pixels; nothing can be read on less
MOST_MEMORY: Final = 6 * 2**30  # address space of the process that reads, in bytes
MOST_SECONDS: Final = 150.0  # for one picture; a box of twelve takes some ten on two idle cores
