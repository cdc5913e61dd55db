"""What the trade calls the two ways of reading a gloss film: with its mirror, or without."""

from __future__ import annotations

import re


def geometry_named(text: str) -> str:
    """`included` or `excluded` from the trade's ways of writing it, else empty.

    A 45-degree geometry sees no mirror reflection, so it counts as excluded; so do a scanner and a
    camera.
    """
    t = re.sub(r"[\s_]+", " ", text.casefold())
    if re.search(r"exclu|\bsce\b|\bspex\b|\bspec\w* ?out\b|:? ?de:8|8:de\b", t):
        return "excluded"
    if re.search(r"inclu|\bsci\b|\bspin\b|\bspec\w* ?in\b|:? ?di:8|8:di\b", t):
        return "included"
    if re.search(r"\b45\D{0,4}[:/x]\D{0,4}0\b|\b0\D{0,4}[:/x]\D{0,4}45\b", t):
        return "excluded"
    return "excluded" if re.search(r"\bscan|\bphoto\b|\bphotograph|\bcamera\b", t) else ""
