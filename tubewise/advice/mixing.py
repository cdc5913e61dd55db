"""What a mixture looks like: its colour, its spectrum and how sure we are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.advice.paint import DRAWS, Paint, least_sure, seeded
from tubewise.advice.permanence import cautions
from tubewise.advice.swatch import Colour, swatches
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.srgb import lab_from_hex
from tubewise.errors import UserError
from tubewise.optics.film import (
    BLACK_GROUND,
    THIN_FILM,
    WHITE_GROUND,
    film_reflectance,
    opaque_reflectance,
)
from tubewise.optics.surface import internal_from_measured, measured_from_internal
from tubewise.pigments.register import Caution

Floats = NDArray[np.float64]

# How well parts are squeezed by eye: standard deviation of the logarithm of each part.
# common practice, no source.
PARTS_ERROR = 0.05
# More than anybody squeezes; beyond it a slip of the keyboard is likelier than a wish.
MOST_PARTS = 100_000


@dataclass(frozen=True, slots=True)
class Spectrum:
    """Reflectance, 0 to 1, by wavelength in nanometres."""

    wavelengths_nm: tuple[float, ...]
    reflectance: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Uncertainty:
    """`delta_e00_95`: 95 % of the truths lie within this CIEDE2000 of the prediction."""

    delta_e00_95: float


@dataclass(frozen=True, slots=True)
class Portion:
    """One paint of a mixture and its parts by volume."""

    term: str
    parts: float


@dataclass(frozen=True, slots=True)
class Mixture:
    """A predicted mixture: `colour`, `spectrum`, `uncertainty`, and what it rests on."""

    parts: tuple[Portion, ...]
    film: str
    ground: str
    colour: Colour
    spectrum: Spectrum
    uncertainty: Uncertainty
    basis: str
    confidence: str
    notes: tuple[str, ...] = field(default=())
    cautions: tuple[Caution, ...] = field(default=())

    @property
    def words(self) -> str:
        """The colour's name."""
        return self.colour.name

    def _repr_html_(self) -> str:
        label = " + ".join(f"{p.parts:g} {p.term}" for p in self.parts)
        return swatches([(label, self.colour)])


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


def appearance(K: Floats, S: Floats, film: str = "opaque", ground: ArrayLike = 1.0) -> Floats:
    """Reflectance as an instrument reads it of an `opaque` or `thin` film over `ground`.

    K, S (..., 36); `ground` is the reflectance inside the film, scalar or (36,).
    """
    if film == "opaque":
        return measured_from_internal(opaque_reflectance(K, S))
    return measured_from_internal(film_reflectance(K, S, THIN_FILM, ground))


def ground_reflectance(ground: str) -> Floats:
    """Internal reflectance (36,) of a ground named `white`, `black` or as a screen colour.

    A screen colour is spread over the bands smoothly, since it says no more than its three
    numbers. Raises UserError for anything else.
    """
    if ground == "white":
        return np.full(WAVELENGTHS_NM.shape, WHITE_GROUND)
    if ground == "black":
        return np.full(WAVELENGTHS_NM.shape, BLACK_GROUND)
    if not ground.startswith("#"):
        raise UserError(
            "a ground is white, black or a screen colour such as #c8b48a", where=f"“{ground}”"
        )
    return internal_from_measured(smooth_reflectance(lab_from_hex(ground)))


def smooth_reflectance(lab: ArrayLike) -> Floats:
    """A smooth reflectance (36,), in [0.005, 0.995], whose colour is nearest to `lab`.

    Least curvature of the logit subject to the colour (after the idea of smoothest-spectrum
    recovery; van Trigt, J. Opt. Soc. Am. A 7, 1990), by damped Gauss-Newton.
    """
    target = np.asarray(lab, dtype=np.float64)
    n = WAVELENGTHS_NM.size
    bend = np.diff(np.eye(n), 2, axis=0) * 3.0
    y = np.full(n, np.log(0.3 / 0.7))

    def reflect(y: Floats) -> Floats:
        return 0.005 + 0.99 / (1.0 + np.exp(-y))

    for _ in range(30):
        lab_now = lab_from_reflectance(reflect(y))
        J = (lab_from_reflectance(reflect(y + 1e-5 * np.eye(n))) - lab_now).T / 1e-5
        A = J.T @ J * 100.0 + bend.T @ bend + 1e-6 * np.eye(n)
        g = J.T @ (lab_now - target) * 100.0 + bend.T @ (bend @ y)
        step = np.linalg.solve(A, g)
        y = y - np.clip(step, -2.0, 2.0)
        if np.abs(step).max() < 1e-6:
            break
    return reflect(y)


def spread_95(lab: Floats) -> float:
    """CIEDE2000 within which 95 % of the draws lie of the best estimate; lab (DRAWS + 1, 3)."""
    return float(np.percentile(delta_e_2000(lab[1:], lab[0]), 95.0))


def mix(
    paints: Sequence[Paint],
    parts: Sequence[float],
    film: str = "opaque",
    ground: str = "white",
    light: str = "D65",
    observer: str = "2",
) -> Mixture:
    """Predict the mixture of `paints` in `parts` by volume as an opaque or thin film.

    Parts must be positive. Raises UserError otherwise.
    """
    if film not in ("opaque", "thin"):
        raise UserError("a film is opaque or thin", where=f"“{film}”")
    for paint, part in zip(paints, parts, strict=True):
        if not 0.0 < part <= MOST_PARTS:
            raise UserError(
                f"parts must be a number above 0 and at most {MOST_PARTS:,}",
                where=f"{paint.name}={part:g}",
            )
    Rg = ground_reflectance(ground)
    K, S = mixed(paints, parts, parts_error=PARTS_ERROR if len(paints) > 1 else 0.0)
    R = appearance(K, S, film, Rg)
    lab = lab_from_reflectance(R, light, observer)
    notes = tuple(dict.fromkeys(note for p in paints for note in p.notes))
    return Mixture(
        tuple(Portion(p.name, float(n)) for p, n in zip(paints, parts, strict=True)),
        film,
        ground,
        Colour.of(lab[0]),
        Spectrum(tuple(float(w) for w in WAVELENGTHS_NM), tuple(round(float(r), 5) for r in R[0])),
        Uncertainty(round(spread_95(lab), 2)),
        "measured" if all(p.basis == "measured" for p in paints) else "modelled",
        least_sure(*(p.confidence for p in paints)),
        notes,
        cautions(ref for p in paints for ref in p.refs),
    )
