"""What paint of a medium is judged in: how it is laid, what makes it paler, which situations count.

Acrylic and oil are films, thick or thin on a ground, paler with white. Watercolour is a wash on
white paper, paler with water, and no dark ground lies below. Gouache and what else is body colour
hides: nobody scrapes it thin. common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.surface import GLOSS, MATT, Surface
from tubewise.paints.appearance import WHITE, Company, appearance, is_white, lab_with_as
from tubewise.paints.paint import Paint
from tubewise.paints.wash import WASHES, is_water, lab_wash, water
from tubewise.paints.wash import wash as wash_on_paper
from tubewise.pigments.binders import BODY, WASH, Laid, is_matt, is_oil, laid_as

# The parts of white to one of paint, and of water, in which a paint's strength is seen.
TINTS = (3.0, 10.0)
WATERS = (WASHES["middle"], WASHES["pale"])
TESTER = "PB29"
# The whites of an oil painter, the usual one first. common practice, no source.
OIL_WHITES = (WHITE, "PW1", "PW4")

# What thins a mixture, and how much of each.
Thinner = tuple[tuple[Paint, ...], tuple[float, ...]]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Setting:
    """How paint of one medium is used.

    `laid` as a film, a wash or body colour; `lightener` makes it paler: its white, or water;
    `tester` is the blue that a white shows its strength in; `surface` the skin of a dry film.
    """

    laid: Laid
    lightener: Paint
    tester: Paint
    surface: Surface = GLOSS

    @property
    def in_washes(self) -> bool:
        """Whether paint is laid in washes on paper."""
        return self.laid == WASH

    @property
    def alone(self) -> str:
        """What paint by itself is called: `alone`, or `in a strong wash`."""
        return "in a strong wash" if self.in_washes else "alone"

    def judging(self, reference: Paint) -> Setting:
        """The setting a paint is judged in: a white is body colour, even among watercolours."""
        return replace(self, laid=BODY) if self.in_washes and is_white(reference) else self

    def with_white(self, white: Paint) -> Setting:
        """The same made paler with a white that was asked for: in watercolour, body colour."""
        return replace(self, laid=BODY if self.in_washes else self.laid, lightener=white)

    def reads(self, K: Floats, S: Floats) -> Floats:
        """Reflectance (..., 36) as an instrument reads it of paint as it is laid here."""
        return wash_on_paper(K, S) if self.in_washes else appearance(K, S, surface=self.surface)

    def reads_alone(self, paint: Paint) -> Floats:
        """Reflectance (36,) of the best estimate of paint by itself, see `lab_alone`."""
        if self.judging(paint).in_washes:
            return wash_on_paper(paint.K[0], paint.S[0], WASHES["strong"])
        return appearance(paint.K[0], paint.S[0], surface=self.surface)

    def lab_with(self, paint: Paint, company: Company, factor: Floats | float = 1.0) -> Floats:
        """The mixture with `company`, the paint's own parts times `factor`; (DRAWS + 1, 3)."""
        return lab_with_as(self.reads, paint, company, factor)

    def lab_alone(self, paint: Paint, factor: Floats | float = 1.0) -> Floats:
        """Paint by itself, (DRAWS + 1, 3): its masstone, or a strong wash of it.

        A wash of weaker paint gets less water: `factor` parts of it for one.
        """
        if self.judging(paint).in_washes:
            return lab_wash(paint, WASHES["strong"] / np.asarray(factor))
        return lab_from_reflectance(appearance(paint.K, paint.S, surface=self.surface))

    def ladder(self, reference: Paint) -> tuple[Company, ...]:
        """The mixtures that show a paint's strength: 1 part in 3 and in 10 of white.

        In watercolour it is a middle and a pale wash. A white has no tint in white; it shows its
        strength by lightening a blue, 3 and 10 parts to 1.
        """
        if is_white(reference):
            name = self.tester.name
            return tuple(Company(f"{n:g}:1 with {name}", (self.tester,), (1.0,), n) for n in TINTS)
        if self.in_washes:
            names = ("in a middle wash", "in a pale wash")
            return tuple(map(self._in_water, names, WATERS))
        return tuple(Company(f"tint 1:{n:g}", (self.lightener,), (n,), 1.0) for n in TINTS)

    def in_use(self, company: Company, water: float = 0.0) -> Company:
        """A mixture of paints as it is laid: in watercolour, thinned to a middle wash.

        A mixture that names its `water`, or holds it, keeps it.
        """
        if any(map(is_water, company.paints)):
            return company
        thin, parts = self.thinner(company.own + sum(company.parts), water)
        return replace(company, paints=(*company.paints, *thin), parts=(*company.parts, *parts))

    def thinner(self, parts: float, water: float = 0.0) -> Thinner:
        """What so many parts of paint are thinned with to be laid, and how much: often nothing.

        A wash takes the parts of `water` that are asked for, else a middle wash's.
        """
        if not self.in_washes:
            return (), ()
        return (self.lightener,), (water or WASHES["middle"] * parts,)

    def _in_water(self, name: str, parts: float) -> Company:
        return Company(name, (self.lightener,), (parts,), 1.0)


def setting_of(
    medium: str, pigment: Callable[[str], Paint], whites: Collection[str] = ()
) -> Setting:
    """The setting of a medium by any of its names; a film and titanium white where none is said.

    `pigment` makes the paint of a code, `whites` are those at hand: in oil the usual one of them is
    taken.
    """
    laid = laid_as(medium)
    code = WHITE
    if is_oil(medium):
        code = next((white for white in OIL_WHITES if white in whites), WHITE)
    lightener = water() if laid == WASH else pigment(code)
    surface = skin_of(medium)
    return Setting(laid=laid, lightener=lightener, tester=pigment(TESTER), surface=surface)


def skin_of(medium: str) -> Surface:
    """The skin of a dry film of a medium: matt where it has no gloss; a wash has none."""
    return MATT if is_matt(medium) and laid_as(medium) != WASH else GLOSS
