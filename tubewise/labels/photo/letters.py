"""Figures and letters of one shape, told apart by what codes exist, and said aloud."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from tubewise.labels.known import known
from tubewise.labels.photo.lines import PrintedLine

# In many types the figure 0 and the letter O are one shape: P048 for PO48.
_NOUGHT: Final = re.compile(r"(?<![A-Za-z0-9])P[. ]?(?P<sign>0)[. ]?(?P<number>\d{1,3})(?![\d:])")


def with_letters(line: PrintedLine) -> PrintedLine:
    """The line with O for 0 where only so a code exists; such signs keep what was `seen`."""
    signs = list(line.signs)
    for hit in _NOUGHT.finditer(line.text):
        if f"PO{hit['number'].lstrip('0')}" in known().pigments:
            place = hit.start("sign")
            signs[place] = replace(signs[place], character="O", seen="0")
    return replace(line, signs=tuple(signs))
