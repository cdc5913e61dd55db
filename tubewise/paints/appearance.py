"""How paints look: mixed, as a film, alone, thin and in company."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.hexes import lab_from_hex
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.smooth import smooth_reflectance
from tubewise.errors import UserError
from tubewise.optics.film import (
    BLACK_GROUND,
    THIN_FILM,
    WHITE_GROUND,
    card,
    film_reflectance,
    opaque_reflectance,
)
from tubewise.optics.surface import GLOSS, Surface, internal_from_measured, measured_from_internal
from tubewise.paints.paint import DRAWS, Paint, seeded

Film = Literal["opaque", "thin"]
FILMS: Final[tuple[Film, ...]] = ("opaque", "thin")
WHITE = "PW6"
# Lighter and greyer than this alone, a paint is a white.
WHITE_FROM_L = 88.0
WHITE_BELOW_C = 10.0


@dataclass(frozen=True, slots=True, eq=False)
class Company:
    """A mixture's other paints and their parts, and the parts of the paint under judgement."""

    name: str
    paints: tuple[Paint, ...]
    parts: tuple[float, ...]
    own: float

    @property
    def parts_text(self) -> str:
        """The proportions as painters write them, the paint under judgement first: 1 : 1 : 4."""
        return " : ".join(f"{p:g}" for p in (self.own, *self.parts))


def mixed(
    paints: Sequence[Paint], parts: ArrayLike, *, parts_error: float = 0.0
) -> tuple[Floats, Floats]:
    """K and S, (DRAWS + 1, 36) each, of paints mixed in `parts` by volume.

    `parts`: (n,), or (DRAWS + 1, n) where each draw has its own. With `parts_error` every draw
    but the first also squeezes a little wrong.
    """
    c = np.broadcast_to(np.asarray(parts, dtype=np.float64), (DRAWS + 1, len(paints))).copy()
    if parts_error:
        rng = seeded("parts" + "".join(p.name for p in paints))
        c[1:] *= np.exp(parts_error * rng.standard_normal((DRAWS, len(paints))))
    c /= c.sum(axis=1, keepdims=True)
    K = np.einsum("dn,ndb->db", c, np.stack([p.K for p in paints]))
    S = np.einsum("dn,ndb->db", c, np.stack([p.S for p in paints]))
    return K, S


def film_of(text: str) -> Film:
    """The film that a word names. Raises UserError for any but `opaque` and `thin`."""
    for film in FILMS:
        if text == film:
            return film
    raise UserError("a film is opaque or thin", where=f"“{text}”")


def appearance(
    K: Floats,
    S: Floats,
    film: Film = "opaque",
    ground: ArrayLike = 1.0,
    surface: Surface = GLOSS,
) -> Floats:
    """Reflectance as an instrument reads it of an `opaque` or `thin` film over `ground`.

    K, S (..., 36); `ground` is the reflectance inside the film, scalar or (36,);
    `surface` is its skin.
    """
    if film == "opaque":
        return measured_from_internal(opaque_reflectance(K, S), surface)
    return measured_from_internal(film_reflectance(K, S, THIN_FILM, ground), surface)


def ground_reflectance(ground: str) -> Floats:
    """Reflectance (36,) that a ground shows to a film on it.

    `white` and `black` are the trade's card; `85%` a grey card by what it reads; `#c8b48a` a screen
    colour, spread over the bands smoothly, since it says no more than its three numbers. Raises
    UserError for anything else.
    """
    if ground == "white":
        return np.full(WAVELENGTHS_NM.shape, WHITE_GROUND)
    if ground == "black":
        return np.full(WAVELENGTHS_NM.shape, BLACK_GROUND)
    if ground.endswith("%"):
        return np.full(WAVELENGTHS_NM.shape, _card_reading(ground))
    if not ground.startswith("#"):
        raise UserError(
            "a ground is white, black, what a card reads such as 85%, or a screen colour such as "
            "#c8b48a",
            where=f"“{ground}”",
        )
    return internal_from_measured(smooth_reflectance(lab_from_hex(ground)))


def _card_reading(ground: str) -> float:
    """What a card that reads so many per cent shows to a film on it."""
    try:
        return card(float(ground.removesuffix("%")) / 100.0)
    except ValueError:
        raise UserError("a card reads between 0% and 100%", where=f"“{ground}”") from None


def spread_95(lab: Floats) -> float:
    """CIEDE2000 within which 95 % of the draws lie of the best estimate; lab (DRAWS + 1, 3)."""
    return float(np.percentile(delta_e_2000(lab[1:], lab[0]), 95.0))


def lab_alone(paint: Paint) -> Floats:
    """Masstone, (DRAWS + 1, 3)."""
    return lab_from_reflectance(appearance(paint.K, paint.S))


def lab_thin(
    paint: Paint,
    factor: Floats | float = 1.0,
    ground: float = WHITE_GROUND,
    surface: Surface = GLOSS,
) -> Floats:
    """Thin over a ground, (DRAWS + 1, 3); a weaker paint laid `factor` times as thick."""
    film = np.broadcast_to(np.asarray(factor), (DRAWS + 1,))[:, None]
    R = appearance(paint.K * film, paint.S * film, "thin", ground, surface)
    return lab_from_reflectance(R)


def lab_with(paint: Paint, company: Company, factor: Floats | float = 1.0) -> Floats:
    """The opaque mixture with `company`, the paint's own parts times `factor`; (DRAWS + 1, 3)."""
    return lab_with_as(appearance, paint, company, factor)


def lab_with_as(
    reads: Callable[[Floats, Floats], Floats],
    paint: Paint,
    company: Company,
    factor: Floats | float = 1.0,
) -> Floats:
    """As `lab_with`, laid in any way: `reads` is its reflectance (..., 36) from its K and S."""
    parts = np.empty((DRAWS + 1, 1 + len(company.parts)))
    parts[:, 0] = company.own * np.asarray(factor)
    parts[:, 1:] = company.parts
    return lab_from_reflectance(reads(*mixed((paint, *company.paints), parts)))


def is_white(paint: Paint) -> bool:
    """Whether a paint is a white by its masstone."""
    L, a, b = lab_alone(paint)[0]
    return bool(L > WHITE_FROM_L and np.hypot(a, b) < WHITE_BELOW_C)
