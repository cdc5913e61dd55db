"""The answer about stand-ins, as plain values."""

from __future__ import annotations

from dataclasses import dataclass, field

from tubewise.advice.alike.difference import Difference
from tubewise.advice.alike.identity import Identity
from tubewise.advice.recipes.offer import Offer
from tubewise.advice.recipes.results import LeftOut
from tubewise.colour.patch import Colour, swatches
from tubewise.paints.strip import Strip
from tubewise.pigments.pigment import Caution
from tubewise.pigments.purpose import PRACTICE, Purpose
from tubewise.pigments.trust import Confidence


@dataclass(frozen=True, slots=True, kw_only=True)
class StandInWishes:
    """What else is asked of a stand-in.

    It is fit for a `purpose` and `without` some tubes, pigments, names or classes of caution;
    `sold_out` lists what is not in stock too; `most_paints` bounds its mixtures: with 1 there are
    none, with 0 nothing does. Who shows no drawdowns needs none `drawn`.
    """

    purpose: Purpose = PRACTICE
    without: tuple[str, ...] = ()
    sold_out: bool = False
    most_paints: int = 0
    drawn: bool = True


PLAIN = StandInWishes()


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIn:
    """One stand-in: a `tube` or a `recipe`, never both; `price` of a whole tube in `currency`.

    `does` says whether it takes the place of what is wanted; `warning` belongs in the first line:
    that it fades, darkens, flakes or is no longer made; `character` what else differs beside
    colour; `paint` is its grade and medium. `price_per_ml` is that of the tube or of the mixture,
    None unless every price is known in one currency; `strip` is its drawdown.
    """

    tube: str | None
    title: str
    paint: str
    recipe: Offer | None
    does: bool
    identity: Identity
    worst_delta_e00: float
    low: float
    high: float
    parts_for_one: float
    words: str
    warning: str
    character: tuple[str, ...]
    reasons: tuple[str, ...]
    colour: Colour
    differences: tuple[Difference, ...]
    lightfastness: str
    cautions: tuple[Caution, ...]
    price: float | None
    stock: int | None
    confidence: Confidence
    currency: str = ""
    price_per_ml: float | None = None
    strip: Strip | None = field(default=None, repr=False, metadata={"json": False})


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIns:
    """The answer of `standin`, best first, and what the wanted tube is made of.

    `left_out` are the tubes that were passed over, each with its reason.
    """

    wanted: str
    colour: Colour
    pigments: tuple[str, ...]
    composition: tuple[tuple[str, float], ...]
    words: str
    medium: str = ""
    standins: tuple[StandIn, ...] = field(default=())
    left_out: tuple[LeftOut, ...] = field(default=())
    strip: Strip | None = field(default=None, repr=False, metadata={"json": False})

    def _repr_html_(self) -> str:
        return swatches([(self.wanted, self.colour), *((s.title, s.colour) for s in self.standins)])
