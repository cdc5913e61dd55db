"""What a person wishes of a recipe besides its colour, and what each wish does to the search."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Final, Literal

import numpy as np

from tubewise.advice.exclusion import also_excluded, excluded, required
from tubewise.advice.handling import fits, in_place
from tubewise.advice.purpose import standing
from tubewise.advice.words.price import tube_price_per_ml
from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.optics.surface import GLOSS, Surface
from tubewise.paints.appearance import Film, appearance, ground_reflectance
from tubewise.paints.paint import Paint
from tubewise.paints.wash import is_water, wash
from tubewise.pigments.handling import Wish as HandlingWish
from tubewise.pigments.opacity import CLEAR, COVERING, opacities
from tubewise.pigments.permanence import cautions, lasting, lightfastness, own_cautions
from tubewise.pigments.purpose import PRACTICE, Purpose

ALL_LIGHTS = "all"
SPECTRUM = "spectrum"
WASH: Final = "wash"
# In CIEDE2000: how much colour each further paint must bring to be worth squeezing, and how much
# the dearest tube must bring against one that costs nothing. common practice, no source.
WORTH_A_PAINT = 0.7
WORTH_THE_DEAREST = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """Wishes for a recipe; the defaults wish for nothing but the colour.

    `light`: the light whose CIEDE2000 counts (D65, D50, A, FL2, FL11, LED-B3), "all" for the worst
    of them, "spectrum" for the nearest reflectance. `fewer`: a further paint must earn its place.
    `cheaper`: a dear tube must earn its price. `lasting`: only lightfast I or II. `uncautioned`:
    no pigment with a caution of its own. `single`: only tubes of one pigment. `must`, `must_not`:
    tubes by id, pigment, name or class of caution (`advice.exclusion`). `result`: "transparent" or
    "opaque" pigments only, "" for either. `film`: "opaque", or "thin" over `ground` (white, black
    or a screen colour); in watercolour it is always a "wash" on paper. `smallest_share`: the least
    share of a paint that a brush can pick up, 0 to 0.5. `purpose`: what the paint is for; for sale
    nothing is mixed that does not last. `handling`: granulating, staining, non-staining,
    transparent, opaque or fast-drying paints only. `surface`:
    the skin of the film, which follows from the medium.
    """

    light: str = "D65"
    fewer: bool = False
    cheaper: bool = False
    lasting: bool = False
    uncautioned: bool = False
    single: bool = False
    must: tuple[str, ...] = ()
    must_not: tuple[str, ...] = ()
    result: str = ""
    film: Film | Literal["wash"] = "opaque"
    ground: str = "white"
    smallest_share: float = 0.0
    purpose: Purpose = PRACTICE
    handling: tuple[HandlingWish, ...] = ()
    surface: Surface = GLOSS

    def seen(self, K: Floats, S: Floats) -> Floats:
        """Reflectance of the film that was wished for; `K`, `S` (..., 36)."""
        if self.film == WASH:
            return wash(K, S)
        ground = ground_reflectance(self.ground) if self.film == "thin" else 1.0
        return appearance(K, S, self.film, ground, self.surface)


PLAIN = Wishes()


def _medium(paint: Paint) -> str:
    return paint.tube.medium if paint.tube else ""


def _own_cautions(paint: Paint) -> bool:
    """Whether a pigment has a caution beyond that of any fine powder."""
    return bool(own_cautions(cautions(paint.refs)))


def permitted(paints: Sequence[Paint], wishes: Wishes, medium: str = "") -> list[Paint]:
    """The paints the wishes leave, in their order.

    Raises UserError naming the wish that leaves none, or a required tube that is not there.
    """
    rules: list[tuple[str, bool, Callable[[Paint], bool]]] = [
        ("only single-pigment tubes", wishes.single, lambda p: len(p.refs) == 1),
        (
            "only lightfast I or II",
            wishes.lasting,
            lambda p: lasting(lightfastness(p.refs, medium or _medium(p))),
        ),
        (
            f"what lasts for {wishes.purpose.name}",
            bool(wishes.purpose.at_least),
            lambda p: standing(p.refs, medium or _medium(p), wishes.purpose).accepted,
        ),
        ("no cautioned pigments", wishes.uncautioned, lambda p: not _own_cautions(p)),
        (
            "a transparent result",
            wishes.result == "transparent",
            lambda p: set(opacities(p.refs)) <= set(CLEAR),
        ),
        (
            "an opaque result",
            wishes.result == "opaque",
            lambda p: set(opacities(p.refs)) <= set(COVERING),
        ),
    ]
    if wishes.result not in ("", "transparent", "opaque"):
        raise UserError("a result is transparent or opaque", where=f"“{wishes.result}”")
    for wish in wishes.handling:
        in_place(wish, medium)
        rules.append((f"{wish} paints", True, partial(_handles, wish)))
    left = list(paints)
    for name, wished, holds in rules:
        if wished:
            against = [p for p in left if _is_one_of(p, wishes.must) and not holds(p)]
            if against:
                raise UserError(f"{against[0].name} is required, but the wish is for {name}")
            left = [p for p in left if holds(p)]
            if not left:
                raise UserError(f"the wish for {name} leaves no tube to mix from")
    return left


def _handles(wish: HandlingWish, paint: Paint) -> bool:
    return fits(wish, paint.refs)


def understood(wishes: Wishes, paints: Sequence[Paint]) -> tuple[list[Paint], Wishes]:
    """The paints that are not left out, and the wishes with the required tubes by their ids.

    Raises UserError for an exclusion or a requirement that means no tube here.
    """
    tubes = [p.tube for p in paints if p.tube is not None]
    without = excluded(wishes.must_not, tubes)
    left = [p for p in paints if p.tube is None or p.tube.id not in without]
    bare = {p.name for p in paints if p.tube is None}
    must = [w for w in wishes.must if w in bare]
    must += required([w for w in wishes.must if w not in bare], tubes, without)
    return left, replace(wishes, must=tuple(must), must_not=())


def not_left_out(shop: Sequence[Paint], wishes: Wishes) -> list[Paint]:
    """What a shop sells without what the wishes leave out, of which it need have none."""
    without = also_excluded(wishes.must_not, [p.tube for p in shop if p.tube is not None])
    return [p for p in shop if p.tube is None or p.tube.id not in without]


def _is_one_of(paint: Paint, ids: tuple[str, ...]) -> bool:
    return (paint.tube.id if paint.tube else paint.name) in ids


def required_rows(paints: Sequence[Paint], wishes: Wishes) -> tuple[int, ...]:
    """Positions of the required tubes. Raises UserError for one that is not among `paints`."""
    ids = [p.tube.id if p.tube else p.name for p in paints]
    for wanted in wishes.must:
        if wanted not in ids:
            raise UserError(
                "this tube is required but is not among the tubes to mix from", where=f"“{wanted}”"
            )
    return tuple(ids.index(wanted) for wanted in wishes.must)


def price_per_ml(paint: Paint) -> float | None:
    """Price of a millilitre, or None where price or size is not known; water costs nothing."""
    tube = paint.tube
    if is_water(paint):
        return 0.0
    return tube_price_per_ml(tube) if tube is not None else None


def currencies(paints: Sequence[Paint]) -> tuple[str, ...]:
    """The currencies of all known prices, in order; "" for a price that names none."""
    priced = [p.tube for p in paints if p.tube is not None and p.tube.price is not None]
    return tuple(sorted({tube.currency for tube in priced}))


def prices(paints: Sequence[Paint]) -> Floats | None:
    """Prices per millilitre (n,), unknown ones taken as the middle.

    None when all are unknown, or when they stand in several currencies and cannot be compared.
    """
    known = [price_per_ml(p) for p in paints]
    priced = [v for v in known if v is not None]
    if not priced or len(currencies(paints)) > 1:
        return None
    middle = float(np.median(priced))
    return np.array([middle if v is None else v for v in known])


def penalties(paints: Sequence[Paint], wishes: Wishes) -> Floats | None:
    """What each paint must bring, in CIEDE2000, to be used (n,); None when nothing is asked.

    Raises UserError where cheaper tubes are wished for and prices cannot be compared.
    """
    if not wishes.cheaper:
        return None
    money = currencies(paints)
    if len(money) > 1:
        names = " and ".join(name or "no currency" for name in money)
        raise UserError(f"prices in {names} cannot be compared; leave the wish for cheaper out")
    cost = prices(paints)
    if cost is None:
        return None
    return np.asarray(WORTH_THE_DEAREST * cost / cost.max())


def mixture_price(paints: Sequence[Paint], parts: Sequence[float] | Floats) -> float | None:
    """Price of a millilitre of a mixture; None unless every price is known, in one currency."""
    known = [price_per_ml(p) for p in paints]
    priced = [v for v in known if v is not None]
    if len(priced) < len(known) or len(currencies(paints)) != 1 or not currencies(paints)[0]:
        return None
    shares = np.asarray(parts, dtype=np.float64)
    return float(np.dot(shares / shares.sum(), priced))
