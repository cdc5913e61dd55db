"""A mixture that takes a tube's place: alone, in tints and in the mixtures that matter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from tubewise.advice.alike.behaviour import Comparison, compare_behaviour
from tubewise.advice.alike.glance import glances
from tubewise.advice.alike.judgement import hiding, too_close
from tubewise.advice.recipes.described import recipe_parts
from tubewise.advice.recipes.problem import MAX_PAINTS, MAX_PARTS, chosen_paints, problem_of
from tubewise.advice.recipes.results import RecipePart, parts_text
from tubewise.advice.recipes.target import of_paint, of_wash
from tubewise.advice.recipes.wishes import WASH, Wishes
from tubewise.advice.words.thresholds import SWATCH_WORTH
from tubewise.colour.patch import Colour
from tubewise.labels.phrasing import listing
from tubewise.paints.appearance import Company, is_white, mixed
from tubewise.paints.paint import GUESS, Paint
from tubewise.paints.setting import Setting
from tubewise.paints.wash import STRAIGHT_FILM, WASHES
from tubewise.pigments.trust import Confidence, basis_of, least_sure
from tubewise.search.problem import Proportions
from tubewise.search.recipes import search

# At most so many paints in so many parts, as a painter tries them: 1 : 8 is the most that is mixed
# by counting daubs, beyond it is a touch of a strong paint. common practice, no source.
SIMPLEST_FIRST = ((2, 9), (3, 9), (2, MAX_PARTS), (3, MAX_PARTS))
# How strong a mixture may be against the wanted paint, when washes are matched.
_STRENGTHS = (0.5, 1.0, 2.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A mixture that does a slot's work: parts, colour, how far it strays at worst, and why.

    `behaviour` is the comparison it was judged by.
    """

    parts: tuple[RecipePart, ...]
    colour: Colour
    worst_delta_e00: float
    words: str
    reasons: tuple[str, ...]
    confidence: Confidence
    close_call: bool
    behaviour: Comparison | None = field(default=None, repr=False, metadata={"json": False})


def offer(
    wanted: Paint,
    paints: Sequence[Paint],
    setting: Setting,
    companies: Sequence[Company],
    limit: float,
    alternatives: int = 4,
    most_paints: int = 0,
) -> tuple[Offer, Paint] | None:
    """The simplest mixture of `paints` that stands in for `wanted` alone, in tints and mixtures.

    It is of two, then three paints in up to 1 : 8, then with a touch of a strong paint.
    Returns the offer and the mixture as a paint, or None when none stays within `limit`
    CIEDE2000 in every situation. It is no surer than what is known of `wanted` itself. The best
    masstone and so many `alternatives` to it are tried in the other situations; in watercolour the
    best middle wash, and no white is mixed in. `most_paints` bounds their number, 0 leaves it free.
    """
    setting = setting.judging(wanted)
    if setting.in_washes:
        paints = [p for p in paints if not is_white(p)]
    # A paint of many pigments takes as many paints to be mixed again.
    last = ((MAX_PAINTS, MAX_PARTS),) if len(wanted.refs) > MAX_PAINTS - 2 else ()
    for most, parts in (*SIMPLEST_FIRST, *last):
        if most <= len(paints) and (most <= most_paints or not most_paints):
            made = _offer_of(wanted, paints, setting, companies, limit, alternatives, (most, parts))
            if made is not None:
                return made
    return None


def _offer_of(
    wanted: Paint,
    paints: Sequence[Paint],
    setting: Setting,
    companies: Sequence[Company],
    limit: float,
    alternatives: int,
    within: tuple[int, int],
) -> tuple[Offer, Paint] | None:
    """The best offer of at most so many paints and parts."""
    near = [
        found
        for found in _found(wanted, paints, setting, alternatives, within)
        if len(found.indices) >= 2 and found.delta_e00[0] <= limit
    ]
    if not near:
        return None
    blends = [_blend(found, paints) for found in near]
    worst = [glance.worst for glance in glances(wanted, blends, setting, companies)]
    best = worst.index(min(worst))
    if worst[best] > limit:
        return None
    behaviour = compare_behaviour(wanted, blends[best], setting, companies)
    parts = recipe_parts(*chosen_paints(near[best], paints))
    return _judged(wanted, blends[best], parts, behaviour, limit), blends[best]


def _found(
    wanted: Paint,
    paints: Sequence[Paint],
    setting: Setting,
    alternatives: int,
    within: tuple[int, int],
) -> Iterator[Proportions]:
    """Mixtures that look like `wanted`: as a masstone, or as a wash on paper.

    How much water a wash of the mixture takes is free, so it is sought as weaker, as strong and
    stronger than the wanted paint.
    """
    if not setting.in_washes:
        dry = Wishes(surface=setting.surface)
        problem = problem_of(of_paint(wanted, setting), paints, *within, dry, prove=False)
        result = search(replace(problem, alternatives=alternatives))
        yield from (result.best, *result.alternatives)
        return
    middle = 1.0 + WASHES["middle"]
    for strength in _STRENGTHS:
        aim = of_wash(wanted, middle / strength - 1.0)
        problem = problem_of(aim, paints, *within, Wishes(film=WASH), prove=False)
        film = STRAIGHT_FILM / middle
        result = search(replace(problem, film_thickness=film, alternatives=alternatives))
        yield from (result.best, *result.alternatives)


def _blend(found: Proportions, paints: Sequence[Paint]) -> Paint:
    """A found mixture as a paint of its own."""
    chosen, amounts = chosen_paints(found, paints)
    # Who mixes a colour by eye makes up for a weak batch.
    K, S = mixed([p.evened() for p in chosen], amounts)
    return Paint(
        name="this mixture",
        tube=None,
        refs=tuple(dict.fromkeys(r for p in chosen for r in p.refs)),
        shares=(),
        K=K,
        S=S,
        basis=basis_of(*(p.basis for p in chosen)),
        confidence=least_sure(*(p.confidence for p in chosen)),
    )


def _judged(
    wanted: Paint,
    blend: Paint,
    parts: tuple[RecipePart, ...],
    behaviour: Comparison,
    limit: float,
) -> Offer:
    """What to say of a mixture that stays within the limit."""
    worst = behaviour.worst
    guesses = tuple(f"{wanted.name}: {note}" for note in wanted.notes if GUESS in note)
    # Of its own pigments, mixed by eye to its own colour, nothing is left to call; unless that
    # colour is only a guess.
    own = _codes(blend) <= _codes(wanted)
    spans = behaviour.worst_low < limit <= behaviour.worst_high
    doubtful = behaviour.risk_of_yes > SWATCH_WORTH or (bool(guesses) and spans)
    close_call = doubtful and not (own and not guesses)
    reasons = [
        f"{blend.basis}: {listing([use.use for use in behaviour.uses])} it stays within CIEDE2000 "
        f"{worst.delta_e00:.1f}; at worst {worst.situation}: {worst.words}",
        *hiding(behaviour),
        *guesses,
    ]
    if close_call:
        reasons.append(too_close(behaviour.deciding_swatch))
    return Offer(
        parts=parts,
        colour=behaviour.masstone.b,
        worst_delta_e00=worst.delta_e00,
        words=parts_text(parts),
        reasons=tuple(reasons),
        confidence="low" if close_call else least_sure(wanted.confidence, blend.confidence),
        close_call=close_call,
        behaviour=behaviour,
    )


def _codes(paint: Paint) -> set[str]:
    return {ref.code for ref in paint.refs}
