"""Recipes: which tubes of a box, in what parts, make a wanted colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.advice.behaviour import Company, compare_behaviour
from tubewise.advice.judgement import TOO_CLOSE
from tubewise.advice.mixing import PARTS_ERROR, Uncertainty, appearance, mixed, spread_95
from tubewise.advice.paint import Paint, least_sure
from tubewise.advice.permanence import cautions, lightfastness
from tubewise.advice.search import Found, SearchProblem, SearchResult, search
from tubewise.advice.shelf import Shelf
from tubewise.advice.swatch import Colour, swatches
from tubewise.advice.target import Target
from tubewise.advice.thresholds import CLOSE
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lab_from_xyz
from tubewise.colour.lights import LIGHTS, weights, white_xyz
from tubewise.colour.words import describe, seen_words
from tubewise.colour.xyz import xyz_from_reflectance
from tubewise.errors import UserError
from tubewise.pigments.register import Caution

Floats = NDArray[np.float64]

MAX_PAINTS = 4
MAX_PARTS = 16


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

    `delta_e00` from the target under D65; `metamerism` the special index of CIE 015 for a change
    of light, in CIEDE2000; `lightfastness` the least lasting of its pigments.
    """

    parts: tuple[RecipePart, ...]
    colour: Colour
    delta_e00: float
    uncertainty: Uncertainty
    metamerism: dict[str, float]
    lightfastness: str
    cautions: tuple[Caution, ...]
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


def solve(
    lab: ArrayLike,
    paints: Sequence[Paint],
    max_paints: int,
    max_parts: int | None,
    prove: bool = True,
) -> SearchResult:
    """Search `paints` for the mixtures nearest to CIELAB `lab` (D65/2 degrees).

    Without `prove` the first good answers are taken as they are: an offer that is judged by its
    behaviour afterwards need not be the best there is.
    """
    return search(
        SearchProblem(
            K=np.stack([p.K[0] for p in paints]),
            S=np.stack([p.S[0] for p in paints]),
            weights=weights(),
            whites=white_xyz(),
            target_lab=np.asarray(lab, dtype=np.float64),
            max_paints=max_paints,
            max_parts=max_parts,
            tolerance=0.01 if prove else 1e9,
        )
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


def mixing_steps(paints: Sequence[Paint], parts: Floats, lab_target: Floats) -> tuple[str, ...]:
    """How to mix it: the order, light and weak colours first, and what to look out for."""
    if len(paints) < 2:
        return ("straight from the tube",)
    light = [float(lab_from_reflectance(appearance(p.K[0], p.S[0]))[0]) for p in paints]
    strong = [float(p.K[0].max()) for p in paints]
    order = sorted(range(len(paints)), key=lambda i: (strong[i] > 3.0, -light[i]))
    named = [f"{parts[i]:g} of {paints[i].name}" for i in order]
    steps = [f"start with {named[0]}"]
    steps += [
        f"add {name}" + (", a little at a time: it is strong" if strong[i] > 3.0 else "")
        for name, i in zip(named[1:], order[1:], strict=True)
    ]
    steps += corrections(paints, parts, lab_target)
    return tuple(steps)


def corrections(paints: Sequence[Paint], parts: Floats, lab_target: Floats) -> list[str]:
    """What a little more of each paint does to the mixture: the moves that mend it by eye.

    From the derivative of the mixture's colour with respect to each part.
    """

    def lab(c: Floats) -> Floats:
        c = c / c.sum()
        K = c @ np.stack([p.K[0] for p in paints])
        S = c @ np.stack([p.S[0] for p in paints])
        return lab_from_reflectance(appearance(K, S))

    here = lab(parts)
    moves = []
    for i, paint in enumerate(paints):
        more = parts.copy()
        more[i] += 0.1 * parts.sum()
        moves.append(f"more {paint.name} makes it {describe(here, lab(more))}")
    return moves


def _recipe(found: Found, paints: Sequence[Paint], target: Target, medium: str) -> Recipe:
    chosen, amounts = _chosen(found, paints)
    R = appearance(*mixed(chosen, amounts, parts_error=PARTS_ERROR if len(chosen) > 1 else 0.0))
    lab = lab_from_reflectance(R)
    miss = float(delta_e_2000(target.lab, lab[0]))
    refs = tuple(dict.fromkeys(ref for p in chosen for ref in p.refs))
    if found.parts is None:
        amounts = np.round(amounts / amounts.sum() * 100.0, 1)
    parts = tuple(_part(p, n) for p, n in zip(chosen, amounts, strict=True))
    how = describe(target.lab, lab[0])
    return Recipe(
        parts,
        Colour.of(lab[0]),
        round(miss, 2),
        Uncertainty(round(spread_95(lab), 2)),
        special_metamerism(target.reflectance, R[0]),
        lightfastness(refs, medium),
        cautions(refs),
        "measured" if all(p.basis == "measured" for p in chosen) else "modelled",
        least_sure(*(p.confidence for p in chosen)),
        f"{parts_text(parts)}: {how} (CIEDE2000 {miss:.1f})",
        mixing_steps(chosen, amounts, target.lab),
    )


def recipe(
    target: Target,
    paints: Sequence[Paint],
    max_paints: int = MAX_PAINTS,
    max_parts: int | None = MAX_PARTS,
    medium: str = "",
) -> Recipes:
    """The best recipes for `target` from `paints`, at most `max_paints` in `max_parts` in all.

    Raises UserError when there is nothing to mix from or a limit makes no sense.
    """
    if not paints:
        raise UserError("no tube here declares its pigments, so nothing can be mixed from them")
    if max_paints < 1 or (max_parts is not None and max_parts < max_paints):
        raise UserError("allow at least one paint, and at least as many parts as paints")
    result = solve(target.lab, paints, min(max_paints, len(paints)), max_parts)
    medium = medium or next((p.tube.medium for p in paints if p.tube), "")
    recipes = tuple(
        _recipe(found, paints, target, medium) for found in (result.best, *result.alternatives)
    )
    best = recipes[0]
    if best.delta_e00 < CLOSE:
        words = f"within reach: {seen_words(best.delta_e00)}"
    else:
        words = (
            "out of reach of this box: the nearest is "
            f"{describe(target.lab, np.array(best.colour.lab))}"
        )
    return Recipes(
        target.colour,
        target.name,
        recipes,
        SearchReport(result.subsets, result.proved_best, round(float(result.gap), 3)),
        words,
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
    lab = lab_from_reflectance(appearance(wanted.K[0], wanted.S[0]))
    result = solve(lab, paints, min(max_paints, len(paints)), max_parts, prove=False)
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
            text,
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
            reasons.append(TOO_CLOSE)
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
