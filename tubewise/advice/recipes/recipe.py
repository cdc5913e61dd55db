"""Recipes: which tubes of a box, in what parts, make a wanted colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.advice.alike.behaviour import Comparison, compare_behaviour
from tubewise.advice.alike.judgement import hiding, too_close
from tubewise.advice.recipes.premix import STRONG, Premixed, premixed
from tubewise.advice.recipes.target import Target
from tubewise.advice.recipes.wishes import (
    ALL_LIGHTS,
    SPECTRUM,
    WORTH_A_PAINT,
    Wishes,
    currencies,
    mixture_price,
    penalties,
    permitted,
    price_per_ml,
    prices,
    required_rows,
)
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lab_from_xyz, lch_from_lab
from tubewise.colour.lights import LIGHTS, weights, white_xyz
from tubewise.colour.patch import Colour, swatches
from tubewise.colour.words import describe, difference_words, seen_words
from tubewise.colour.xyz import xyz_from_reflectance
from tubewise.errors import UserError
from tubewise.optics.film import THIN_FILM
from tubewise.optics.surface import measured_from_internal
from tubewise.paints.appearance import Company, appearance, ground_reflectance, mixed, spread_95
from tubewise.paints.mixing import PARTS_ERROR, Uncertainty
from tubewise.paints.paint import BATCH_LOAD, GUESS, Paint, least_sure, seeded
from tubewise.paints.shelf import Shelf
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.pigment import Caution
from tubewise.search.adjust import corrections as moves
from tubewise.search.problem import Proportions, SearchProblem
from tubewise.search.recipes import search

Floats = NDArray[np.float64]

MAX_PAINTS = 4
MAX_PARTS = 16
PLAIN = Wishes()
# How long the search may go on proving before it states the gap that is left.
PROOF_SECONDS = 3.0
# CIELAB units below which a painter calls two colours as light, as clean, of the same hue.
SMALL_MISS = 2.0
# CIEDE2000 of the difference in which the moves that mend a mixture are worded.
SEEN_WELL = 4.0
# CIEDE2000 a tube from the shop must gain to be worth naming.
WORTH_A_TUBE = 0.5

if TYPE_CHECKING:
    from tubewise.search.problem import Objective


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

    `kind` says why it is listed: "best", "fewer paints", "other paints", "cheaper" or "premixed"
    (two steps, the first a tint of a strong paint; `parts` are of the tubes in all).
    `delta_e00` from the target under `light`: the one asked for, the worst where all are, else
    D65; `by_light` under each; `metamerism` the special index of CIE 015 for a change of light, in
    CIEDE2000; `lightfastness` the least lasting of its pigments. `price_per_ml` in `currency`,
    None where a price is not known or prices stand in several currencies.
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
    light: str = "D65"
    by_light: dict[str, float] = field(default_factory=dict)
    currency: str = ""

    def _repr_html_(self) -> str:
        return swatches([(parts_text(self.parts), self.colour)])


@dataclass(frozen=True, slots=True)
class SearchReport:
    """How the search went: `subsets` of tubes considered; `proved_best` only where each was solved
    or shown unable to do better; else `gap`, how much better a recipe could at most be, in
    `measure`."""

    subsets: int
    proved_best: bool
    gap: float
    measure: str = "CIEDE2000"


@dataclass(frozen=True, slots=True)
class Recipes:
    """The answer of `recipe`: the target, the best recipe first, and how far it can be trusted.

    `spectral` is False where the target has no spectrum of its own, so that what it does under
    other lights is an assumption.
    """

    target: Colour
    target_name: str
    recipes: tuple[Recipe, ...]
    search: SearchReport
    words: str
    helper: Helper | None = None
    spectral: bool = True

    def _repr_html_(self) -> str:
        rows = [(self.target_name, self.target)]
        return swatches(rows + [(parts_text(r.parts), r.colour) for r in self.recipes])


@dataclass(frozen=True, slots=True)
class Offer:
    """A mixture that does a slot's work: parts, colour, how far it strays at worst, and why.

    `behaviour` is the comparison it was judged by.
    """

    parts: tuple[RecipePart, ...]
    colour: Colour
    worst_delta_e00: float
    words: str
    reasons: tuple[str, ...]
    confidence: str
    close_call: bool
    behaviour: Comparison | None = field(default=None, repr=False, metadata={"json": False})


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
        family=families(paints),
        price=prices(paints),
        penalty=penalties(paints, wishes),
        per_paint=WORTH_A_PAINT if wishes.fewer else 0.0,
        prove=prove,
        seconds=PROOF_SECONDS,
    )


def families(paints: Sequence[Paint]) -> list[int]:
    """Paints of the same pigments are one family: a second tube of them adds nothing to a mixture.

    A paint whose pigments aren't known is a family of its own.
    """
    met: dict[object, int] = {}
    return [met.setdefault(p.refs or (i, p.name), len(met)) for i, p in enumerate(paints)]


def _chosen(found: Proportions, paints: Sequence[Paint]) -> tuple[list[Paint], Floats]:
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


def mixing_steps(paints: Sequence[Paint], parts: Floats) -> tuple[str, ...]:
    """How to mix it: the order, light and weak colours first."""
    if len(paints) < 2:
        return ("straight from the tube",)
    light = [float(lab_from_reflectance(appearance(p.K[0], p.S[0]))[0]) for p in paints]
    strong = [float(p.K[0].max()) for p in paints]
    order = sorted(range(len(paints)), key=lambda i: (strong[i] > STRONG, -light[i]))
    named = [f"{parts[i]:g} of {paints[i].name}" for i in order]
    return (
        f"start with {named[0]}",
        *(
            f"add {name}" + (", a little at a time: it is strong" if strong[i] > STRONG else "")
            for name, i in zip(named[1:], order[1:], strict=True)
        ),
    )


def corrections(found: Proportions, asked: SearchProblem, paints: Sequence[Paint]) -> list[str]:
    """The moves that mend a mixture by eye: too green, add this.

    Each paint's move is the slope of the mixture's CIELAB with its share, under the light asked
    for; what it takes away is the opposite of what it adds.
    """
    if len(found.indices) < 2:
        return []
    here = found.lab[0]
    out = []
    for one in moves(asked, found):
        # Scaled to a difference one sees well, so that words are about its direction.
        scale = SEEN_WELL / max(float(delta_e_2000(here + one.move, here)), 1e-9)
        against = difference_words(here, here - one.move * scale)
        if against:
            name = paints[one.index].name
            out.append(f"if it is {against} than you want, add a little {name}")
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


def misses(target: Target, R: Floats) -> dict[str, float]:
    """CIEDE2000 of a reflectance (36,) from the target under each light."""
    return {
        light: round(
            float(delta_e_2000(lab_under(target, light), lab_from_reflectance(R, light))), 2
        )
        for light in LIGHTS
    }


def judged_under(by_light: dict[str, float], wishes: Wishes) -> str:
    """The light a recipe is judged under: the one asked for, or the worst where all are.

    Nearness in spectrum belongs to no light; daylight is told then.
    """
    if wishes.light == ALL_LIGHTS:
        return max(by_light, key=lambda light: by_light[light])
    return "D65" if wishes.light == SPECTRUM else wishes.light


def _under(light: str) -> str:
    """Words for a light that is not daylight, "" for daylight."""
    return "" if light == "D65" else f" under {light}"


def recipe_of(
    found: Proportions,
    asked: SearchProblem,
    paints: Sequence[Paint],
    target: Target,
    medium: str,
    wishes: Wishes,
    first: Premixed | None = None,
) -> Recipe:
    """A found mixture with everything a painter asks of it.

    `found` is in rows of `paints`, as `asked` was solved; `first` where a tint is mixed first.
    """
    chosen, amounts = _chosen(found, paints)
    R = _seen(*mixed(chosen, amounts, parts_error=PARTS_ERROR if len(chosen) > 1 else 0.0), wishes)
    lab = lab_from_reflectance(R)
    by_light = misses(target, R[0])
    light = judged_under(by_light, wishes)
    refs = tuple(dict.fromkeys(ref for p in chosen for ref in p.refs))
    sure = how_sure(chosen, amounts, found.parts is not None, wishes)
    if found.parts is None:
        amounts = np.round(amounts / amounts.sum() * 100.0, 1)
    steps = mixing_steps(chosen, amounts)
    text = parts_text([_part(p, n) for p, n in zip(chosen, amounts, strict=True)])
    if first is not None:
        tubes, amounts = first.from_tubes(chosen, amounts)
        # One step for each tube, as in every recipe.
        if len(tubes) > len(steps):
            steps = (first.first, *steps)
        else:
            steps = (f"{first.first}; then {steps[0]}", *steps[1:])
        text = f"{first.first}; then {text}"
    else:
        tubes = chosen
    how = describe(lab_under(target, light), lab_from_reflectance(R[0], light))
    cost = mixture_price(tubes, amounts)
    return Recipe(
        tuple(_part(p, n) for p, n in zip(tubes, amounts, strict=True)),
        found.kind,
        Colour.of(lab[0]),
        by_light[light],
        Uncertainty(round(spread_95(lab), 2)),
        sure,
        special_metamerism(target.reflectance, R[0]),
        lightfastness(refs, medium),
        cautions(refs),
        None if cost is None else round(cost, 3),
        "measured" if all(p.basis == "measured" for p in chosen) else "modelled",
        least_sure(*(p.confidence for p in chosen)),
        f"{text}: {how} (CIEDE2000 {by_light[light]:.1f}{_under(light)})",
        (*steps, *corrections(found, asked, paints)),
        light,
        by_light,
        "" if cost is None else currencies(tubes)[0],
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
    currency: str = ""


def most_helpful(
    target: Target,
    paints: Sequence[Paint],
    shop: Sequence[Paint],
    best: float,
    max_paints: int,
    wishes: Wishes = PLAIN,
    max_parts: int | None = None,
) -> Helper | None:
    """The tube of `shop` that helps the box most, or None when none gains half a unit.

    `best` is what the box comes to without it, CIEDE2000 under the light asked for; what is
    promised is what `recipe` then finds within the same limits. One paint of each pigment set is
    tried; a tube that is out of stock is not.
    """
    tried: dict[tuple[str, ...], Paint] = {}
    owned = {p.refs for p in paints}
    for paint in shop:
        tube = paint.tube
        if tube is not None and tube.stock != 0 and paint.refs not in owned:
            known = tried.get(paint.refs)
            if known is None or (price_per_ml(paint) or np.inf) < (price_per_ml(known) or np.inf):
                tried[paint.refs] = paint

    def solved(paint: Paint, whole: int | None, prove: bool = False) -> Proportions:
        pool = [*paints, paint]
        must = (*wishes.must, paint.tube.id if paint.tube else paint.name)
        wished = wishes if prove else replace(wishes, must=must)
        most = min(max_paints, len(pool))
        return search(problem_of(target, pool, most, whole, wished, prove)).best

    if len(wishes.must) >= max_paints:
        return None
    # Whole parts come no nearer than free ones: once the freely mixed are worse than the nearest
    # in whole parts, the rest need not be solved.
    loose = sorted(((solved(p, None).cost, n, p) for n, p in enumerate(tried.values())))
    nearest: tuple[float, int, Paint] | None = None
    for cost, n, paint in loose:
        if nearest is not None and cost >= nearest[0]:
            break
        at = solved(paint, max_parts).cost
        if nearest is None or at < nearest[0]:
            nearest = at, n, paint
    if nearest is None:
        return None
    paint = nearest[2]
    final = solved(paint, max_parts, prove=True)
    by_light = misses(target, final.reflectance)
    light = judged_under(by_light, wishes)
    gain = by_light[light]
    if paint.tube is None or len(paints) not in final.indices or gain > best - WORTH_A_TUBE:
        return None
    words = (
        f"with {paint.name} ({', '.join(paint.pigments)}) the miss falls to "
        f"{gain:.1f}{_under(light)}"
    )
    return Helper(
        paint.tube.id,
        paint.name,
        paint.pigments,
        round(gain, 2),
        paint.tube.price,
        words,
        paint.tube.currency,
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
    recipes = [
        recipe_of(found, asked, paints, target, medium, wishes)
        for found in (result.best, *result.alternatives)
    ]
    nearest, reflectance, steps = recipes[0], result.best.reflectance, ""
    tinted = premixed(asked, result.best, paints)
    if tinted is not None:
        told = recipe_of(tinted.found, tinted.asked, tinted.paints, target, medium, wishes, tinted)
        recipes.insert(1, told)
        if nearest.delta_e00 >= CLOSE:
            nearest, reflectance, steps = told, tinted.found.reflectance, " in two steps"
    helper = None
    if wishes.light == SPECTRUM:
        words = f"nearest in spectrum; by daylight it misses by CIEDE2000 {nearest.delta_e00:.1f}"
    elif nearest.delta_e00 < CLOSE:
        words = f"within reach{steps}{_under(nearest.light)}: {seen_words(nearest.delta_e00)}"
    else:
        seen = lab_from_reflectance(reflectance, nearest.light)
        way = miss_words(lab_under(target, nearest.light), seen)
        words = (
            f"out of reach of these tubes{_under(nearest.light)}; the nearest{steps} is {way} "
            f"(CIEDE2000 {nearest.delta_e00:.1f})"
        )
        helper = most_helpful(
            target,
            paints,
            permitted(shop, wishes, medium) if shop else (),
            nearest.delta_e00,
            max_paints,
            wishes,
            max_parts,
        )
        if helper is not None:
            words += f"; {helper.words}"
    return Recipes(
        target.colour,
        target.name,
        tuple(recipes),
        SearchReport(
            result.subsets,
            result.proved_best,
            round(float(result.gap), 3),
            "percent of reflectance" if wishes.light == SPECTRUM else "CIEDE2000",
        ),
        words,
        helper,
        target.spectral,
    )


def _codes(paint: Paint) -> tuple[str, ...]:
    return tuple(ref.code for ref in paint.refs)


def offer(
    wanted: Paint,
    paints: Sequence[Paint],
    shelf: Shelf,
    companies: Sequence[Company],
    limit: float,
    max_paints: int = MAX_PAINTS,
    max_parts: int = MAX_PARTS,
    alternatives: int = 4,
) -> tuple[Offer, Paint] | None:
    """A mixture of `paints` that stands in for `wanted` alone, in tints and in its mixtures.

    Returns the offer and the mixture as a paint, or None when none stays within `limit`
    CIEDE2000 in every situation. It is no surer than what is known of `wanted` itself. The best
    masstone and so many `alternatives` to it are tried in the other situations.
    """
    if len(paints) < 2:
        return None
    R = appearance(wanted.K[0], wanted.S[0])
    aim = Target(wanted.name, lab_from_reflectance(R), R, True)
    asked = problem_of(aim, paints, min(max_paints, len(paints)), max_parts, prove=False)
    result = search(replace(asked, alternatives=alternatives))
    guesses = tuple(f"{wanted.name}: {note}" for note in wanted.notes if GUESS in note)
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
        # Of its own pigments, mixed by eye to its own colour, nothing is left to call; unless
        # that colour is only a guess.
        own = set(_codes(blend)) <= set(_codes(wanted))
        close_call = behaviour.worst_high > limit and not (own and not guesses)
        reasons = [
            f"modelled: alone, thin and in mixtures it stays within CIEDE2000 "
            f"{worst.delta_e00:.1f}; at worst {worst.situation}: {worst.words}",
            *hiding(behaviour),
            *guesses,
        ]
        if close_call:
            reasons.append(too_close(behaviour.deciding_swatch))
        made = Offer(
            parts,
            behaviour.masstone.b,
            worst.delta_e00,
            text,
            tuple(reasons),
            "low" if close_call else least_sure(wanted.confidence, blend.confidence),
            close_call,
            behaviour,
        )
        best = (worst.delta_e00, made, blend)
    return None if best is None else (best[1], best[2])
