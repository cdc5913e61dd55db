"""What a mixture looks like: its colour, its spectrum and how sure we are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour, swatches
from tubewise.errors import UserError
from tubewise.optics.surface import GLOSS, Surface
from tubewise.paints.appearance import (
    Film,
    appearance,
    film_of,
    ground_reflectance,
    mixed,
    spread_95,
)
from tubewise.paints.paint import Paint
from tubewise.paints.setting import skin_of
from tubewise.paints.wash import is_water, wash
from tubewise.pigments.binders import WASH, laid_as
from tubewise.pigments.permanence import cautions
from tubewise.pigments.pigment import Caution
from tubewise.pigments.trust import Basis, Confidence, basis_of, least_sure

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
    film: Film | Literal["wash"]
    ground: str
    colour: Colour
    spectrum: Spectrum
    uncertainty: Uncertainty
    basis: Basis
    confidence: Confidence
    notes: tuple[str, ...] = field(default=())
    cautions: tuple[Caution, ...] = field(default=())

    @property
    def words(self) -> str:
        """The colour's name."""
        return self.colour.name

    def _repr_html_(self) -> str:
        label = " + ".join(f"{p.parts:g} {p.term}" for p in self.parts)
        return swatches([(label, self.colour)])


def mix(
    paints: Sequence[Paint],
    parts: Sequence[float],
    film: str = "",
    ground: str = "white",
    light: str = "D65",
    observer: str = "2",
) -> Mixture:
    """Predict the mixture of `paints` in `parts` by volume.

    `film` is "opaque", "thin" over `ground`, or "wash" on white paper; "" is a wash of watercolours
    or of anything in water, else opaque. Water is a part as any paint is; without it a wash is
    neat. Parts must be positive. Raises UserError otherwise.
    """
    kind = _laid(paints, film)
    for paint, part in zip(paints, parts, strict=True):
        if not 0.0 < part <= MOST_PARTS:
            raise UserError(
                f"parts must be a number above 0 and at most {MOST_PARTS:,}",
                where=f"{paint.name}={part:g}",
            )
    Rg = ground_reflectance(ground)
    K, S = mixed(paints, parts, parts_error=PARTS_ERROR if len(paints) > 1 else 0.0)
    R = wash(K, S) if kind == WASH else appearance(K, S, kind, Rg, _skin(paints))
    lab = lab_from_reflectance(R, light, observer)
    notes = tuple(dict.fromkeys(note for p in paints for note in p.notes))
    return Mixture(
        tuple(Portion(p.name, float(n)) for p, n in zip(paints, parts, strict=True)),
        kind,
        "paper" if kind == WASH else ground,
        Colour.of(lab[0]),
        Spectrum(tuple(float(w) for w in WAVELENGTHS_NM), tuple(round(float(r), 5) for r in R[0])),
        Uncertainty(round(spread_95(lab), 2)),
        basis_of(*(p.basis for p in paints)),
        least_sure(*(p.confidence for p in paints)),
        notes,
        cautions(ref for p in paints for ref in p.refs),
    )


def _skin(paints: Sequence[Paint]) -> Surface:
    """The skin of the mixture's film: that of its medium."""
    media = [p.tube.medium for p in paints if p.tube is not None and p.tube.medium]
    return skin_of(media[0]) if media else GLOSS


def _laid(paints: Sequence[Paint], film: str) -> Film | Literal["wash"]:
    """How a mixture is laid: as it is asked for, else as its medium is."""
    if film == WASH:
        return WASH
    if film:
        try:
            return film_of(film)
        except UserError as error:
            raise UserError(f"{error.message}, or on paper a wash", where=error.where) from None
    media = [p.tube.medium for p in paints if p.tube is not None and p.tube.medium]
    wet = any(map(is_water, paints)) or (bool(media) and laid_as(media[0]) == WASH)
    return WASH if wet else "opaque"
