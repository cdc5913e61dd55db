"""The answers about recipes, as plain values: a recipe, its steps, its slips, and the search."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from tubewise.advice.recipes.quantity_results import Quantity
from tubewise.advice.words.lists import counted
from tubewise.advice.words.pigments import pigments_text
from tubewise.colour.patch import Colour, swatches
from tubewise.labels.phrasing import listing
from tubewise.paints.mixing import Uncertainty
from tubewise.paints.wash import WATER_NAME, parts_in_words
from tubewise.pigments.pigment import Caution
from tubewise.pigments.trust import Basis, Confidence
from tubewise.search.problem import Kind

# Why a recipe is listed: as the search lists it, or as the first answer.
RecipeKind = Kind | Literal["simplest", "hue held"]
# What a wash of water alone is.
BARE_PAPER = "leave the paper bare"
# In more parts than 1 : 8 a single one is a touch. common practice, no source.
COUNTED = 9
# So many tubes that are left out are named, more are counted.
MOST_NAMED = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class RecipePart:
    """One tube of a recipe and its parts by volume; `paint` is its grade and medium in words."""

    tube: str
    title: str
    pigments: tuple[str, ...]
    parts: float
    paint: str = ""

    @property
    def words(self) -> str:
        """The tube with its kind and pigments: `Fen Ultramarine (artist oil, PB29)`."""
        facts = ", ".join(filter(None, (self.paint, pigments_text(self.pigments))))
        return f"{self.title} ({facts})" if facts and facts != self.title else self.title


def parts_text(parts: Sequence[RecipePart]) -> str:
    """`4 parts Titanium White + 1 part Phthalo Green`, largest first.

    One part in more than 1 : 8 is `a touch of` a paint; whole parts of water to one or two of paint
    thin the whole: `3 parts Cobalt Blue + 1 part Burnt Sienna, 1 paint : 6 water`.
    """
    order = sorted(parts, key=lambda p: -p.parts)
    paint = [p for p in order if p.tube != WATER_NAME]
    total = sum(p.parts for p in paint)
    water = sum(p.parts for p in order) - total
    if not paint:
        return BARE_PAPER
    halves = 2 if water % total else 1
    whole = bool(water) and halves * water % total == 0
    mixture = " + ".join(_part_text(p, total) for p in (paint if whole else order))
    if not whole:
        return mixture
    if len(paint) == 1:
        mixture = paint[0].title
    return f"{mixture}, {parts_in_words(halves, halves * water / total)}"


def _part_text(part: RecipePart, total: float) -> str:
    if part.parts == 1 and total > COUNTED and part.tube != WATER_NAME:
        return f"a touch of {part.title} (1 part)"
    return f"{part.parts:g} {'part' if part.parts == 1 else 'parts'} {part.title}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """A move that mends a mixture by eye: where it looks `too` green, a little of this tube."""

    tube: str
    title: str
    too: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sureness:
    """What the usual slips do to a recipe, in CIEDE2000.

    `one_part`: the worst of one part more or less of any paint (whole parts only, else None).
    `ten_percent`: 95 % of mixtures with every part off by 10 % stay within this. `other_batch`:
    the same for tubes of another batch.
    """

    one_part: float | None
    ten_percent: float
    other_batch: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """One way to mix the target.

    `kind` says why it is listed; "simplest" has the fewest paints that do, "hue held" is the
    strongest of a hue that is out of reach; "premixed" has two steps, the first of them in
    `tint_first`, and `parts` are of the tubes in all. `mixture` says the parts, `how_near` how far
    from the target it stays, `steps` in what order to mix, `corrections` how to mend it by eye.
    `delta_e00` from the target under `light`: the one asked for, the worst where all are, else
    D65; `by_light` under each; `metamerism` the special index of CIE 015 for a change of light, in
    CIEDE2000; `lightfastness` the least lasting of its pigments. `price_per_ml` in `currency`,
    None where a price is not known or prices stand in several currencies. `warning` is what belongs
    in the first line: that a pigment fades, darkens, turns brown, flakes or is no longer made, by
    name; `beside` what else the register notes of them.
    """

    parts: tuple[RecipePart, ...]
    kind: RecipeKind
    colour: Colour
    delta_e00: float
    mixture: str
    how_near: str
    tint_first: str
    steps: tuple[str, ...]
    corrections: tuple[Correction, ...]
    uncertainty: Uncertainty
    sureness: Sureness
    light: str
    by_light: dict[str, float]
    metamerism: dict[str, float]
    lightfastness: str
    warning: str
    beside: tuple[str, ...]
    cautions: tuple[Caution, ...]
    price_per_ml: float | None
    currency: str
    basis: Basis
    confidence: Confidence
    words: str

    def _repr_html_(self) -> str:
        return swatches([(parts_text(self.parts), self.colour)])


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchReport:
    """How the search went: `subsets` of tubes considered.

    It is `proved_best` only where each was solved or shown unable to do better; else `gap` is how
    much better a recipe could at most be, in `measure`.
    """

    subsets: int
    proved_best: bool
    gap: float
    measure: str = "CIEDE2000"


@dataclass(frozen=True, slots=True, kw_only=True)
class Helper:
    """A tube from the shop that would bring the target nearer, and how near."""

    tube: str
    title: str
    pigments: tuple[str, ...]
    delta_e00: float
    price: float | None
    currency: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A tube that nothing is mixed from, and why."""

    tube: str
    title: str
    why: str


def left_out_words(tubes: Sequence[LeftOut]) -> tuple[str, ...]:
    """`left out, oil does not mix with acrylic: Ultramarine and Flake White`, reason by reason."""
    by_reason: dict[str, list[str]] = {}
    for tube in tubes:
        by_reason.setdefault(tube.why, []).append(tube.title)
    words = []
    for why, titles in by_reason.items():
        few = len(titles) <= MOST_NAMED
        words.append(f"left out, {why}: {listing(titles) if few else counted(len(titles), 'tube')}")
    return tuple(words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipes:
    """The answer of `recipe`: the target, the recipes, and how far they can be trusted.

    The simplest recipe that does comes first, out of reach the strongest of the hue, then the
    nearest.

    `spectral` is False where the target has no spectrum of its own, so that what it does under
    other lights is an assumption. `medium` is what is mixed in; `left_out` the tubes at hand that
    were not mixed from; `quantities` each recipe in millilitres and tubes, where that is asked.
    """

    target: Colour
    target_name: str
    recipes: tuple[Recipe, ...]
    search: SearchReport
    words: str
    helper: Helper | None = None
    spectral: bool = True
    medium: str = ""
    left_out: tuple[LeftOut, ...] = field(default=())
    quantities: tuple[Quantity, ...] = ()

    @property
    def nearest(self) -> Recipe:
        """The recipe that comes nearest in whole parts, mixed in one step."""
        return next(recipe for recipe in self.recipes if recipe.kind == "best")

    def _repr_html_(self) -> str:
        rows = [(self.target_name, self.target)]
        return swatches(rows + [(parts_text(r.parts), r.colour) for r in self.recipes])
