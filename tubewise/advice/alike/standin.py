"""Stand-ins for a tube: single tubes and mixtures, ranked by how they behave in use."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.compare import PARTNERS, companies, contents
from tubewise.advice.alike.difference import Difference
from tubewise.advice.alike.identity import FORM, SAME, contents_of_refs, identity
from tubewise.advice.alike.judgement import judge
from tubewise.advice.medium import in_one_medium, mixes_with
from tubewise.advice.recipes.offer import Offer, offer
from tubewise.advice.recipes.wishes import price_per_ml
from tubewise.advice.words.thresholds import FAR, MOST_PARTS, STANDS_IN
from tubewise.colour.patch import Colour, swatches
from tubewise.errors import UserError
from tubewise.paints.appearance import Company, lab_alone
from tubewise.paints.paint import GUESS, Paint
from tubewise.paints.shelf import Shelf
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.pigment import Caution
from tubewise.tubes.tube import Tube

# Candidates whose masstone and tints are already this far off are not compared further.
_SCREEN = 25.0
# How many mixtures of nearly the masstone are tried in use. With few, a tube more on the shelf
# could bring a nearer masstone that behaves worse, and hide the mixture that did better.
_MASSTONES = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIn:
    """One stand-in: a `tube` or a `recipe`, never both; `price` of a whole tube in `currency`."""

    tube: str | None
    title: str
    recipe: Offer | None
    identity: str
    worst_delta_e00: float
    low: float
    high: float
    parts_for_one: float
    words: str
    reasons: tuple[str, ...]
    colour: Colour
    differences: tuple[Difference, ...]
    lightfastness: str
    cautions: tuple[Caution, ...]
    price: float | None
    stock: int | None
    confidence: str
    currency: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIns:
    """The answer of `standin`, best first, and what the wanted tube is made of."""

    wanted: str
    colour: Colour
    pigments: tuple[str, ...]
    composition: tuple[tuple[str, float], ...]
    words: str
    standins: tuple[StandIn, ...] = field(default=())

    def _repr_html_(self) -> str:
        return swatches([(self.wanted, self.colour), *((s.title, s.colour) for s in self.standins)])


def standin(
    wanted: Tube | str,
    candidates: Sequence[Tube],
    shelf: Shelf,
    partners: Sequence[str] = (),
    most: int = 8,
    progress: Callable[[int, int], None] | None = None,
    medium: str = "",
) -> StandIns:
    """Rank what could take the place of `wanted` among `candidates` of the same medium.

    Judged alone, thin, in tints and mixed with `partners`. A convenience colour is also mixed
    again from tubes of its own pigments. What is in stock comes before what is sold out, and
    nothing is mixed from a sold-out tube. `medium` is that of a wanted pigment; a tube has its own.
    Raises UserError when nothing says what `wanted` holds, or in which of several media.
    """
    paint = shelf.tube(wanted) if isinstance(wanted, Tube) else shelf.term(wanted)
    if paint is None:
        raise UserError(
            "this tube declares no pigments; nothing can stand in for the unknown",
            where=str(getattr(wanted, "id", wanted)),
        )
    own = paint.tube
    medium = _medium(own, candidates, medium)
    mates = companies(shelf, tuple(partners) or tuple(p for p in PARTNERS if p not in paint.refs))
    usable = [
        t
        for t in in_one_medium(candidates, medium).tubes
        if own is None or (t.id != own.id and t.paint != own.paint)
    ]
    found: list[StandIn] = []
    pool: list[Paint] = []
    for done, tube in enumerate(usable, 1):
        other = shelf.tube(tube)
        if progress is not None:
            progress(done, len(usable))
        if other is None:
            continue
        if tube.stock != 0:
            pool.append(other)
        found += _single(paint, tube, other, shelf, mates, medium)
    found += _mixtures(paint, pool, shelf, mates, medium)
    best = sorted(found, key=_rank)[:most]
    composition = tuple(
        (ref, round(100.0 * share, 1)) for ref, share in zip(paint.refs, paint.shares, strict=True)
    )
    return StandIns(
        wanted=paint.name,
        colour=Colour.of(lab_alone(paint)[0]),
        pigments=paint.refs,
        composition=composition,
        words=_words(paint, best),
        standins=tuple(best),
    )


def _rank(one: StandIn) -> tuple[bool, bool, float, float]:
    """Sort key: what can be had, what is not far too weak, how near, how cheap."""
    price = one.price if one.price is not None else np.inf
    return one.stock == 0, one.parts_for_one > MOST_PARTS, one.worst_delta_e00, price


def _single(
    paint: Paint, tube: Tube, other: Paint, shelf: Shelf, mates: Sequence[Company], medium: str
) -> list[StandIn]:
    """One tube as a stand-in, or nothing where it comes nowhere near."""
    same = identity(contents(paint), contents(other))
    kin = same in (SAME, FORM)
    far = float(np.linalg.norm(lab_alone(other)[0] - lab_alone(paint)[0]))
    if far > _SCREEN and not kin:
        return []
    seen = compare_behaviour(paint, other, shelf, mates)
    if seen.worst.delta_e00 > FAR and not kin:
        return []
    judged = judge(same, paint, other, seen)
    one = StandIn(
        tube=tube.id,
        title=tube.title,
        recipe=None,
        identity=same,
        worst_delta_e00=seen.worst.delta_e00,
        low=seen.worst_low,
        high=seen.worst_high,
        parts_for_one=seen.factor,
        words=judged.verdict,
        reasons=judged.reasons,
        colour=seen.masstone.b,
        differences=seen.all,
        lightfastness=lightfastness(other.refs, tube.medium or medium),
        cautions=cautions(other.refs),
        price=tube.price,
        stock=tube.stock,
        confidence=judged.confidence,
        currency=tube.currency,
    )
    return [one]


def _medium(own: Tube | None, candidates: Sequence[Tube], asked: str) -> str:
    """The medium to stay within: the tube's own, else the one asked for, else the only one."""
    if own is None or not own.medium:
        return in_one_medium(candidates, asked).medium
    if not mixes_with(own.medium, asked):
        raise UserError(
            f"this tube is {own.medium}, and {asked} does not mix with it", where=own.id
        )
    return own.medium


def _mixtures(
    paint: Paint, pool: Sequence[Paint], shelf: Shelf, mates: Sequence[Company], medium: str
) -> list[StandIn]:
    """Mixtures from the pool: of the wanted tube's own pigments, and of anything."""
    own = {c.code for c in contents_of_refs(paint.refs)}
    each = _one_of_each(pool)
    kin = [p for p in each if len(p.refs) == 1 and p.refs[0].code in own]
    out: list[StandIn] = []
    for paints in (kin if len(paint.refs) > 1 else [], each):
        made = offer(paint, paints, shelf, mates, limit=STANDS_IN, alternatives=_MASSTONES)
        if made is None or any(s.recipe is not None and s.title == made[0].words for s in out):
            continue
        offered, blend = made
        seen = offered.behaviour
        assert seen is not None
        out.append(
            StandIn(
                tube=None,
                title=offered.words,
                recipe=offered,
                identity=identity(contents(paint), contents_of_refs(blend.refs)),
                worst_delta_e00=offered.worst_delta_e00,
                low=seen.worst_low,
                high=seen.worst_high,
                parts_for_one=seen.factor,
                words=f"mix {offered.words}",
                reasons=offered.reasons,
                colour=offered.colour,
                differences=seen.all,
                lightfastness=lightfastness(blend.refs, medium),
                cautions=cautions(blend.refs),
                price=None,
                stock=None,
                confidence=offered.confidence,
            )
        )
    return out


def _one_of_each(pool: Sequence[Paint]) -> list[Paint]:
    """The handiest tube of each pigment set: which of two alike is squeezed is no other recipe.

    Tubes of several pigments differ in their parts, so each of those stays.
    """
    kept: dict[object, Paint] = {}
    for paint in sorted(pool, key=_handier):
        kept.setdefault(paint.refs if len(paint.refs) == 1 else id(paint), paint)
    return list(kept.values())


def _handier(paint: Paint) -> tuple[bool, bool, float]:
    """Sort key: artist grade, cheap; a tube whose price is not known comes last."""
    price = price_per_ml(paint)
    student = paint.tube is not None and paint.tube.grade == "student"
    return student, price is None, price or 0.0


def _words(paint: Paint, best: Sequence[StandIn]) -> str:
    held = ", ".join(paint.pigments)
    if len(paint.refs) > 1:
        guess = any(GUESS in note for note in paint.notes)
        held += (
            " (its parts are a starting guess: no swatch colour)"
            if guess
            else " (parts solved from its swatch, modelled)"
        )
    if not best or best[0].worst_delta_e00 >= STANDS_IN:
        return f"{paint.name} holds {held}; nothing here stands in for it in every use"
    gone = ", which is sold out" if best[0].stock == 0 else ""
    return f"{paint.name} holds {held}; first choice: {best[0].title}{gone}"
