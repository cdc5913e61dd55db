"""How a palette is painted with: opaque, with a white at hand, or thinned with water on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.lights import weights, white_xyz
from tubewise.errors import UserError
from tubewise.optics.surface import GLOSS, Surface, measured_from_internal
from tubewise.paints.appearance import WHITE, appearance
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import PAPER, STRAIGHT_FILM, wash, water
from tubewise.search.problem import SearchProblem

How = Literal["alone", "white", "water"]
# How long each recipe may go on being proved.
PROOF_SECONDS = 3.0
# The smallest share, beside whites and water, that somebody squeezes: a touch, one part in 48.
# Whites and water thin at will, in steps if need be. common practice, no source.
LEAST_SHARE = 1.0 / 48.0
WORDS = {
    "alone": "the tubes alone",
    "white": "with a white at hand",
    "water": "with water on white paper",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Film:
    """A way to paint. `at_hand` is what is always there beside the tubes, white or water.

    `surface` is the skin of a dry film.
    """

    how: How
    at_hand: Paint | None
    surface: Surface = GLOSS

    @property
    def words(self) -> str:
        """`with a white at hand`."""
        return WORDS[self.how]

    def problem(
        self,
        paints: Sequence[Paint],
        max_paints: int = 3,
        *,
        max_parts: int | None = None,
        prove: bool = True,
        least: float = 0.0,
    ) -> SearchProblem:
        """The search problem of these paints and what is at hand, which takes the last row.

        `least`: the smallest share that counts.
        """
        mixed = [*paints, *([self.at_hand] if self.at_hand else [])]
        wet = self.how == "water"
        return SearchProblem(
            K=np.stack([p.K[0] for p in mixed]),
            S=np.stack([p.S[0] for p in mixed]),
            weights=weights("D65"),
            whites=white_xyz("D65"),
            target_lab=np.array([50.0, 0.0, 0.0]),
            max_paints=max_paints,
            film_thickness=STRAIGHT_FILM if wet else None,
            k1=GLOSS.k1 if wet else self.surface.k1,
            k2=GLOSS.k2 if wet else self.surface.k2,
            ground=measured_from_internal(PAPER) if wet else None,
            max_parts=max_parts,
            min_share=least,
            alternatives=0,
            prove=prove,
            seconds=PROOF_SECONDS,
        )

    def free(self, paints: Sequence[Paint]) -> int:
        """The row of what is at hand in `problem`, or -1."""
        return len(paints) if self.at_hand else -1

    def lab(self, K: ArrayLike, S: ArrayLike) -> Floats:
        """CIELAB (..., 3) of paint of K, S (..., 36) as it is painted, without water."""
        if self.how == "water":
            return lab_from_reflectance(wash(K, S))
        return lab_from_reflectance(appearance(np.asarray(K), np.asarray(S), surface=self.surface))


def film_for(medium: str, shelf: Shelf, how: str = "") -> Film:
    """The film of a medium: watercolour with water, everything else opaque.

    `how`: "alone", "white", "water", or "" for what is usual in the medium. Raises UserError for
    another word.
    """
    setting = shelf.setting(medium)
    chosen = how or ("water" if setting.in_washes else "alone")
    if chosen == "alone":
        return Film(how="alone", at_hand=None, surface=setting.surface)
    if chosen == "white":
        white = shelf.pigment(WHITE) if setting.in_washes else setting.lightener
        return Film(how="white", at_hand=white, surface=setting.surface)
    if chosen == "water":
        return Film(how="water", at_hand=water())
    raise UserError("a palette is used alone, with white or with water", where=f"“{how}”")
