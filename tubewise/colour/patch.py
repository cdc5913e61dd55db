"""A colour as advice gives it: CIELAB (D65, 2 degrees) and the nearest screen colour."""

from __future__ import annotations

import html
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.hexes import hex_from_lab
from tubewise.colour.words import hue_name


@dataclass(frozen=True, slots=True)
class Colour:
    """One colour: `lab` (L*, a*, b*) and `hex`, the screen colour nearest at its hue."""

    lab: tuple[float, float, float]
    hex: str

    @classmethod
    def of(cls, lab: ArrayLike) -> Colour:
        """The colour at CIELAB `lab`, shape (3,)."""
        L, a, b = (round(float(v), 2) for v in np.asarray(lab, dtype=np.float64))
        return _colour(L, a, b)

    @property
    def name(self) -> str:
        """A painter's name for it, such as 'deep bluish red'."""
        return hue_name(self.lab)

    def _repr_html_(self) -> str:
        return swatches([(self.name, self)])


@lru_cache(maxsize=20_000)
def _colour(L: float, a: float, b: float) -> Colour:
    # Mapping into the screen's gamut is a search; one report asks for the same colours often.
    return Colour((L, a, b), str(hex_from_lab(np.array([L, a, b]))))


def swatches(items: Sequence[tuple[str, Colour]]) -> str:
    """HTML that shows labelled colours in a row; labels are escaped."""
    cells = "".join(
        f'<figure style="display:inline-block;margin:4px;text-align:center">'
        f'<div style="width:88px;height:64px;background:{colour.hex}"></div>'
        f"<figcaption>{html.escape(label)}</figcaption></figure>"
        for label, colour in items
    )
    return f"<div>{cells}</div>"
