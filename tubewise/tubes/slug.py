"""Words made into ids."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_BREAKS = re.compile(r"[^\w]+|_+")


@lru_cache(maxsize=100_000)
def slug(text: str) -> str:
    """Lower-case words joined by hyphens; accents fall off, letters of every script stay."""
    bare = text.replace("+", " plus ").casefold()
    if not bare.isascii():
        bare = unicodedata.normalize("NFKD", bare)
        bare = "".join(c for c in bare if not unicodedata.combining(c))
    return _BREAKS.sub("-", bare).strip("-")
