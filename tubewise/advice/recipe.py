"""Recipes: which tubes of a box, in what parts, make a wanted colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.advice.behaviour import Company, compare_behaviour
from tubewise.advice.judgement import too_close
from tubewise.advice.mixing import (
    PARTS_ERROR,
    Uncertainty,
    appearance,
    ground_reflectance,
    mixed,
    spread_95,
)
from tubewise.advice.paint import BATCH_LOAD, Paint, least_sure, seeded
from tubewise.advice.permanence import cautions, lightfastness
from tubewise.advice.search import Found, SearchProblem, search
from tubewise.advice.shelf import Shelf
from tubewise.advice.swatch import Colour, swatches
from tubewise.advice.target import Target
from tubewise.advice.thresholds import CLOSE
from tubewise.advice.wishes import (
    ALL_LIGHTS,
    SPECTRUM,
    WORTH_A_PAINT,
    Wishes,
    penalties,
    permitted,
    price_per_ml,
    prices,
    required_rows,
)
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lab_from_xyz, lch_from_lab
from tubewise.colour.lights import LIGHTS, weights, white_xyz
from tubewise.colour.words import describe, difference_words, seen_words
from tubewise.colour.xyz import xyz_from_reflectance
from tubewise.errors import UserError
from tubewise.optics.film import THIN_FILM
from tubewise.optics.surface import measured_from_internal
from tubewise.pigments.register import Caution

Floats = NDArray[np.float64]

MAX_PAINTS = 4
MAX_PARTS = 16
PLAIN = Wishes()
# How long the search may go on proving before it states the gap that is left.
PROOF_SECONDS = 3.0
# A paint that absorbs this much is added a little at a time.
STRONG = 3.0
# CIELAB units below which a painter calls two colours as light, as clean, of the same hue.
SMALL_MISS = 2.0
# CIEDE2000 of the difference in which the moves that mend a mixture are worded.
SEEN_WELL = 4.0

if TYPE_CHECKING:
    from tubewise.advice.search.problem import Objective


@dataclass(frozen=True, slots=True)
class RecipePart:
    """One tube of a recipe and its parts by volume."""

    tube: str
    title: str
    pigments: tuple[str, ...]
    parts: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """One way to mix the target.

    `kind` says why it is listed: "best", "fewer paints", "other paints", "cheaper" or "premixed".
    `delta_e00` from the target under D65; `metamerism` the special index of CIE 015 for a change
    of light, in CIEDE2000; `lightfastness` the least lasting of its pigments.
    """

    parts: tuple[RecipePart, ...]
    kind: str
    colour: Colour
    delta_e00: float
    uncertainty: Uncertainty
    sureness: Sureness
    metamerism: dict[str, float]
    lightfastness: str
    cautions: tuple[Caution, ...]
    price_per_ml: float | None
    basis: str
    confidence: str
    words: str
    steps: tuple[str, ...]

    def _repr_html_(self) -> str:
        return swatches([(parts_text(self.parts), self.colour)])


@dataclass(frozen=True, slots=True)
class SearchReport:
    """How the search went: `subsets` of tubes considered; `proved_best` only where each was solved
    or shown unable to do better; else `gap`, how much better a recipe could at most be."""

    subsets: int
    proved_best: bool
    gap: float


@dataclass(frozen=True, slots=True)
class Recipes:
    """The answer of `recipe`: the target, the best recipe first, and how far it can be trusted."""

    target: Colour
    target_name: str
    recipes: tuple[Recipe, ...]
    search: SearchReport
    words: str
    helper: Helper | None = None

    def _repr_html_(self) -> str:
        rows = [(self.target_name, self.target)]
        return swatches(rows + [(parts_text(r.parts), r.colour) for r in self.recipes])


@dataclass(frozen=True, slots=True)
class Offer:
    """A mixture that does a slot's work: parts, colour, how far it strays at worst, and why."""

    parts: tuple[RecipePart, ...]
    colour: Colour
    worst_delta_e00: float
    words: str
    reasons: tuple[str, ...]
    confidence: str
    close_call: bool


def parts_text(parts: Sequence[RecipePart]) -> str:
    """`4 parts Titanium White + 1 part Phthalo Green`, largest first."""
    return " + ".join(
        f"{p.parts:g} {'part' if p.parts == 1 else 'parts'} {p.title}"
        for p in sorted(parts, key=lambda p: -p.parts)
    )


def _part(paint: Paint, parts: float) -> RecipePart:
    tube = paint.tube
    return RecipePart(tube.id if tube else paint.name, paint.name, paint.pigments, float(parts))


def lab_under(target: Target, light: str) -> Floats:
    """The target's CIELAB (3,) under a light: what was asked for under D65, elsewhere what its
    reflectance shows."""
    return target.lab if light == "D65" else lab_from_reflectance(target.reflectance, light)


def problem_of(
    target: Target,
    paints: Sequence[Paint],
    max_paints: int,
    max_parts: int | None,
    wishes: Wishes = PLAIN,
    prove: bool = True,
) -> SearchProblem:
    """The search problem of a target, a box and the wishes.

    Without `prove` the first good answers are taken as they are: an offer that is judged by its
    behaviour afterwards need not be the best there is. Raises UserError for an unknown light.
    """
    lights: tuple[str, ...]
    if wishes.light in LIGHTS:
        lights = (wishes.light,)
    elif wishes.light in (ALL_LIGHTS, SPECTRUM):
        lights = LIGHTS
    else:
        raise UserError(
            f"the lights are {', '.join(LIGHTS)}, “all” for the worst of them, “spectrum” for the "
            "nearest reflectance",
            where=f"“{wishes.light}”",
        )
    labs = [lab_under(target, light) for light in lights]
    thin = wishes.film == "thin"
    objective: Objective = "one light"
    if wishes.light == ALL_LIGHTS:
        objective = "worst light"
    elif wishes.light == SPECTRUM:
        objective = "spectral"
    return SearchProblem(
        K=np.stack([p.K[0] for p in paints]),
        S=np.stack([p.S[0] for p in paints]),
        weights=np.stack([weights(light) for light in lights]),
        whites=np.stack([white_xyz(light) for light in lights]),
        target_lab=np.stack(labs),
        target_reflectance=target.reflectance,
        objective=objective,
        max_paints=max_paints,
        max_parts=max_parts,
        must=required_rows(paints, wishes),
        min_share=wishes.smallest_share,
        film_thickness=THIN_FILM if thin else None,
        ground=measured_from_internal(ground_reflectance(wishes.ground)) if thin else None,
        price=prices(paints),
        penalty=penalties(paints, wishes),
        per_paint=WORTH_A_PAINT if wishes.fewer else 0.0,
        tolerance=0.01 if prove else 1e9,
        seconds=PROOF_SECONDS,
    )


def _chosen(found: Found, paints: Sequence[Paint]) -> tuple[list[Paint], Floats]:
    amounts = found.parts if found.parts is not None else found.shares
    kept = [(paints[i], float(n)) for i, n in zip(found.indices, amounts, strict=True) if n > 0]
    return [p for p, _ in kept], np.array([n for _, n in kept])


def special_metamerism(R_target: Floats, R: Floats) -> dict[str, float]:
    """Special index of metamerism, change of illuminant, for each light but D65, in CIEDE2000.

    CIE 015:2018; what mismatch remains under D65 is first taken out by scaling XYZ.
    """
    scale = xyz_from_reflectance(R_target) / xyz_from_reflectance(R)
    out = {}
    for light in LIGHTS:
        if light != "D65":
            a = lab_from_xyz(xyz_from_reflectance(R_target, light), light)
            b = lab_from_xyz(xyz_from_reflectance(R, light) * scale, light)
            out[light] = round(float(delta_e_2000(a, b)), 2)
    return out


def mixing_steps(paints: Sequence[Paint], parts: Floats, wishes: Wishes = PLAIN) -> tuple[str, ...]:
    """How to mix it: the order, light and weak colours first, and the moves that mend it."""
    if len(paints) < 2:
        return ("straight from the tube",)
    light = [float(lab_from_reflectance(appearance(p.K[0], p.S[0]))[0]) for p in paints]
    strong = [float(p.K[0].max()) for p in paints]
    order = sorted(range(len(paints)), key=lambda i: (strong[i] > STRONG, -light[i]))
    named = [f"{parts[i]:g} of {paints[i].name}" for i in order]
    steps = [f"start with {named[0]}"]
    steps += [
        f"add {name}" + (", a little at a time: it is strong" if strong[i] > STRONG else "")
        for name, i in zip(named[1:], order[1:], strict=True)
    ]
    return (*steps, *corrections(paints, parts, wishes))


def corrections(paints: Sequence[Paint], parts: Floats, wishes: Wishes = PLAIN) -> list[str]:
    """The moves that mend a mixture by eye: too green, add this.

    Each paint's move is the derivative of the mixture's CIELAB with respect to its part; what it
    takes away is the opposite of what it adds.
    """
    K, S = (np.stack([getattr(p, name)[0] for p in paints]) for name in ("K", "S"))
    c = parts / parts.sum()

    def lab(c: Floats) -> Floats:
        return lab_from_reflectance(_seen(c @ K, c @ S, wishes))

    here = lab(c)
    step = 1e-4
    out = []
    for i, paint in enumerate(paints):
        # A share more of paint i, the others giving way in proportion.
        toward = (np.eye(len(parts))[i] - c) * step
        move = (lab(c + toward) - here) / step
        # Scaled to a difference one sees well, so that words are about its direction.
        scale = SEEN_WELL / max(float(delta_e_2000(here + move * 0.01, here)) / 0.01, 1e-9)
        against = difference_words(here, here - move * scale)
        if against:
            out.append(f"if it is {against} than you want, add a little {paint.name}")
    return out


@dataclass(frozen=True, slots=True)
class Sureness:
    """What the usual slips do to a recipe, in CIEDE2000.

    `one_part`: the worst of one part more or less of any paint (whole parts only, else None).
    `ten_percent`: 95 % of mixtures with every part off by 10 % stay within this. `other_batch`:
    the same for tubes of another batch.
    """

    one_part: float | None
    ten_percent: float
    other_batch: float


def how_sure(paints: Sequence[Paint], parts: Floats, whole: bool, wishes: Wishes) -> Sureness:
    """How much a slip of the hand or another batch changes the mixture."""
    K, S = (np.stack([getattr(p, name)[0] for p in paints]) for name in ("K", "S"))

    def lab(amounts: Floats) -> Floats:
        c = amounts / amounts.sum(axis=-1, keepdims=True)
        return lab_from_reflectance(_seen(c @ K, c @ S, wishes))

    here = lab(parts)
    if len(paints) < 2:
        return Sureness(None, 0.0, 0.0)
    one = None
    if whole:
        # A part too many of any paint, or too few of one that has more than one to lose.
        steps = np.eye(len(parts))
        near = np.concatenate([parts + steps, (parts - steps)[parts > 1.0]])
        one = round(float(delta_e_2000(lab(near), here).max()), 2)
    rng = seeded("slips" + "".join(p.name for p in paints))
    slips = parts * np.exp(0.1 * rng.standard_normal((400, len(parts))))
    batches = parts * np.exp(BATCH_LOAD * rng.standard_normal((400, len(parts))))
    return Sureness(
        one,
        *(
            round(float(np.percentile(delta_e_2000(lab(v), here), 95.0)), 2)
            for v in (slips, batches)
        ),
    )


def _seen(K: Floats, S: Floats, wishes: Wishes) -> Floats:
    """Reflectance of the film that was wished for."""
    ground = ground_reflectance(wishes.ground) if wishes.film == "thin" else 1.0
    return appearance(K, S, wishes.film, ground)


def miss_words(lab_target: ArrayLike, lab: ArrayLike) -> str:
    """In which way a colour misses the target: `as light and of the same hue, but duller by 9`."""
    (L0, C0, h0), (L1, C1, h1) = lch_from_lab(lab_target), lch_from_lab(lab)
    kept, lost = [], []
    dL, dC = float(L1 - L0), float(C1 - C0)
    turn = float((h1 - h0 + 180.0) % 360.0 - 180.0)
    dH = 2.0 * float(np.sqrt(max(C0 * C1, 0.0))) * float(np.sin(np.radians(turn) / 2.0))
    if abs(dL) < SMALL_MISS:
        kept.append("as light")
    else:
        lost.append(f"{'lighter' if dL > 0 else 'darker'} by {abs(dL):.0f}")
    if abs(dH) < SMALL_MISS:
        kept.append("of the same hue")
    else:
        lost.append(f"turned in hue by {abs(turn):.0f} degrees")
    if abs(dC) < SMALL_MISS:
        kept.append("as clean")
    else:
        lost.append(f"{'cleaner' if dC > 0 else 'duller'} by {abs(dC):.0f}")
    if not lost:
        return "on the target"
    return ", but ".join(filter(None, (" and ".join(kept), " and ".join(lost))))


def recipe_of(
    found: Found, paints: Sequence[Paint], target: Target, medium: str, wishes: Wishes
) -> Recipe:
    """A found mixture with everything a painter asks of it."""
    chosen, amounts = _chosen(found, paints)
    R = _seen(*mixed(chosen, amounts, parts_error=PARTS_ERROR if len(chosen) > 1 else 0.0), wishes)
    lab = lab_from_reflectance(R)
    miss = float(delta_e_2000(target.lab, lab[0]))
    refs = tuple(dict.fromkeys(ref for p in chosen for ref in p.refs))
    sure = how_sure(chosen, amounts, found.parts is not None, wishes)
    if found.parts is None:
        amounts = np.round(amounts / amounts.sum() * 100.0, 1)
    parts = tuple(_part(p, n) for p, n in zip(chosen, amounts, strict=True))
    how = describe(target.lab, lab[0])
    per_ml = [price_per_ml(p) for p in chosen]
    known = [v for v in per_ml if v is not None]
    cost = float(np.dot(amounts / amounts.sum(), known)) if len(known) == len(per_ml) else None
    return Recipe(
        parts,
        found.kind,
        Colour.of(lab[0]),
        round(miss, 2),
        Uncertainty(round(spread_95(lab), 2)),
        sure,
        special_metamerism(target.reflectance, R[0]),
        lightfastness(refs, medium),
        cautions(refs),
        None if cost is None else round(cost, 3),
        "measured" if all(p.basis == "measured" for p in chosen) else "modelled",
        least_sure(*(p.confidence for p in chosen)),
        f"{parts_text(parts)}: {how} (CIEDE2000 {miss:.1f})",
        mixing_steps(chosen, amounts, wishes),
    )


@dataclass(frozen=True, slots=True)
class Helper:
    """A tube from the shop that would bring the target nearer, and how near."""

    tube: str
    title: str
    pigments: tuple[str, ...]
    delta_e00: float
    price: float | None
    words: str


def most_helpful(
    target: Target,
    paints: Sequence[Paint],
    shop: Sequence[Paint],
    best: float,
    max_paints: int,
    wishes: Wishes = PLAIN,
) -> Helper | None:
    """The tube of `shop` that helps the box most, or None when none gains half a unit.

    One paint of each pigment set is tried; a tube that is out of stock is not.
    """
    tried: dict[tuple[str, ...], Paint] = {}
    owned = {p.refs for p in paints}
    for paint in shop:
        tube = paint.tube
        if tube is not None and tube.stock != 0 and paint.refs not in owned:
            known = tried.get(paint.refs)
            if known is None or (price_per_ml(paint) or np.inf) < (price_per_ml(known) or np.inf):
                tried[paint.refs] = paint
    found: list[tuple[float, Paint]] = []
    for paint in tried.values():
        pool = [*paints, paint]
        must = (*wishes.must, paint.tube.id if paint.tube else paint.name)
        asked = problem_of(
            target, pool, min(max_paints, len(pool)), None, replace(wishes, must=must), prove=False
        )
        result = search(asked)
        found.append((float(result.best.value), paint))
    if not found:
        return None
    gain, paint = min(found, key=lambda f: f[0])
    if paint.tube is None or gain > best - 0.5:
        return None
    words = f"with {paint.name} ({', '.join(paint.pigments)}) the miss falls to {gain:.1f}"
    return Helper(
        paint.tube.id, paint.name, paint.pigments, round(gain, 2), paint.tube.price, words
    )


def recipe(
    target: Target,
    paints: Sequence[Paint],
    max_paints: int = MAX_PAINTS,
    max_parts: int | None = MAX_PARTS,
    medium: str = "",
    wishes: Wishes = PLAIN,
    shop: Sequence[Paint] = (),
) -> Recipes:
    """The best recipes for `target` from `paints`, at most `max_paints` in `max_parts` in all.

    `shop` is where a missing tube might be bought: asked only when the target is out of reach.
    Raises UserError when there is nothing to mix from or a limit or wish makes no sense.
    """
    if not paints:
        raise UserError("no tube here declares its pigments, so nothing can be mixed from them")
    if max_paints < 1 or (max_parts is not None and max_parts < max_paints):
        raise UserError("allow at least one paint, and at least as many parts as paints")
    medium = medium or next((p.tube.medium for p in paints if p.tube), "")
    paints = permitted(paints, wishes, medium)
    if len(wishes.must) > max_paints:
        raise UserError("more tubes are required than the recipe may hold")
    asked = problem_of(target, paints, min(max_paints, len(paints)), max_parts, wishes)
    result = search(asked)
    recipes = tuple(
        recipe_of(found, paints, target, medium, wishes)
        for found in (result.best, *result.alternatives)
    )
    best = recipes[0]
    helper = None
    if best.delta_e00 < CLOSE:
        words = f"within reach: {seen_words(best.delta_e00)}"
    else:
        words = (
            "out of reach of these tubes; the nearest is "
            f"{miss_words(target.lab, best.colour.lab)} (CIEDE2000 {best.delta_e00:.1f})"
        )
        helper = most_helpful(
            target,
            paints,
            permitted(shop, wishes, medium) if shop else (),
            best.delta_e00,
            max_paints,
            wishes,
        )
        if helper is not None:
            words += f"; {helper.words}"
    return Recipes(
        target.colour,
        target.name,
        recipes,
        SearchReport(result.subsets, result.proved_best, round(float(result.gap), 3)),
        words,
        helper,
    )


def _codes(paint: Paint) -> tuple[str, ...]:
    return tuple(ref.partition("/")[0] for ref in paint.refs)


def offer(
    wanted: Paint,
    paints: Sequence[Paint],
    shelf: Shelf,
    companies: Sequence[Company],
    limit: float,
    max_paints: int = MAX_PAINTS,
    max_parts: int = MAX_PARTS,
) -> tuple[Offer, Paint] | None:
    """A mixture of `paints` that stands in for `wanted` alone, in tints and in its mixtures.

    Returns the offer and the mixture as a paint, or None when none stays within `limit`
    CIEDE2000 in every situation.
    """
    if len(paints) < 2:
        return None
    R = appearance(wanted.K[0], wanted.S[0])
    aim = Target(wanted.name, lab_from_reflectance(R), R, True)
    result = search(problem_of(aim, paints, min(max_paints, len(paints)), max_parts, prove=False))
    best: tuple[float, Offer, Paint] | None = None
    for found in (result.best, *result.alternatives):
        chosen, amounts = _chosen(found, paints)
        if len(chosen) < 2 or found.delta_e00[0] > limit:
            continue
        # Who mixes a colour by eye makes up for a weak batch.
        K, S = mixed([p.evened() for p in chosen], amounts)
        parts = tuple(_part(p, n) for p, n in zip(chosen, amounts, strict=True))
        text = parts_text(parts)
        blend = Paint(
            "this mixture",
            None,
            tuple(dict.fromkeys(r for p in chosen for r in p.refs)),
            (),
            K,
            S,
            "modelled",
            least_sure(*(p.confidence for p in chosen)),
        )
        behaviour = compare_behaviour(wanted, blend, shelf, companies)
        worst = behaviour.worst
        if worst.delta_e00 > limit or (best is not None and worst.delta_e00 >= best[0]):
            continue
        # Of its own pigments, mixed by eye to its own colour, nothing is left to call.
        own = set(_codes(blend)) <= set(_codes(wanted))
        close_call = behaviour.worst_high > limit and not own
        reasons = [
            f"modelled: alone, thin and in mixtures it stays within CIEDE2000 "
            f"{worst.delta_e00:.1f}; at worst {worst.situation}: {worst.words}"
        ]
        if close_call:
            reasons.append(too_close(behaviour.deciding_swatch))
        made = Offer(
            parts,
            behaviour.masstone.b,
            worst.delta_e00,
            text,
            tuple(reasons),
            "low" if close_call else blend.confidence,
            close_call,
        )
        best = (worst.delta_e00, made, blend)
    return None if best is None else (best[1], best[2])
