"""Stand-ins for a tube: single tubes first, then mixtures, as somebody would make them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import inf

import numpy as np

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.character import flakes_instead, other_character
from tubewise.advice.alike.compare import PARTNERS, companies, contents
from tubewise.advice.alike.glance import glances
from tubewise.advice.alike.handy import handiness
from tubewise.advice.alike.identity import FORM, SAME, contents_of_refs, identity
from tubewise.advice.alike.judgement import judge, takes_its_place
from tubewise.advice.alike.standin_results import PLAIN, StandIn, StandIns, StandInWishes
from tubewise.advice.currency import compared, usual_currency
from tubewise.advice.exclusion import excluded
from tubewise.advice.medium import in_one_medium, left_out_why, mixes_with
from tubewise.advice.purpose import Standing, standing
from tubewise.advice.recipes.offer import Offer, offer
from tubewise.advice.recipes.recipe import GLOWS
from tubewise.advice.recipes.reluctance import is_toxic
from tubewise.advice.recipes.results import LeftOut
from tubewise.advice.recipes.wishes import mixture_price, price_per_ml
from tubewise.advice.words.kind import kind_text
from tubewise.advice.words.lists import counted
from tubewise.advice.words.thresholds import FAR, STANDS_IN
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import Company
from tubewise.paints.paint import GUESS, Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import strip
from tubewise.pigments.models import fluoresces
from tubewise.pigments.opacity import CLEAR, opacity_of
from tubewise.pigments.permanence import cautions
from tubewise.tubes.tube import Tube

# Candidates whose masstone and tints are already this far off are not compared further.
_SCREEN = 25.0
# How many mixtures of nearly the masstone are tried in use. With few, a tube more on the shelf
# could bring a nearer masstone that behaves worse, and hide the mixture that did better.
_MASSTONES = 24


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Search:
    """What is looked for: a `paint` in a `medium`, judged with its `mates`, by the `wishes`.

    `setting` is how paint of the medium is used.
    """

    paint: Paint
    medium: str
    shelf: Shelf
    setting: Setting
    mates: tuple[Company, ...]
    wishes: StandInWishes

    def stands(self, paint: Paint) -> Standing:
        medium = (paint.tube.medium if paint.tube else "") or self.medium
        return standing(paint.refs, medium, self.wishes.purpose)


def standin(
    wanted: Tube | str,
    candidates: Sequence[Tube],
    shelf: Shelf,
    partners: Sequence[str] = (),
    most: int = 8,
    progress: Callable[[int, int], None] | None = None,
    medium: str = "",
    wishes: StandInWishes = PLAIN,
) -> StandIns:
    """Rank what could take the place of `wanted` among `candidates` that mix with it.

    Judged alone, thin, in tints and mixed with `partners`. What does comes first, the simplest
    before others: single tubes, then two paints, then three. A convenience colour is also mixed
    again from tubes of its own pigments. What is sold out, what is not fit for the purpose and what
    the wishes leave out is passed over and said; `medium` is that of a wanted pigment.
    Raises UserError when nothing says what `wanted` holds, or in which of several media.
    """
    paint = shelf.tube(wanted) if isinstance(wanted, Tube) else shelf.term(wanted)
    if paint is None:
        raise UserError(
            "this tube declares no pigments; nothing can stand in for the unknown",
            where=str(getattr(wanted, "id", wanted)),
        )
    medium = _medium(paint.tube, candidates, medium)
    named = tuple(partners) or tuple(p for p in PARTNERS if p not in paint.refs)
    setting = shelf.setting(medium).judging(paint)
    looked_for = _Search(
        paint=paint,
        medium=medium,
        shelf=shelf,
        setting=setting,
        mates=companies(shelf, named, setting),
        wishes=wishes,
    )
    usable, left_out = _usable(looked_for, candidates)
    usual = usual_currency(candidates)
    found: list[StandIn] = []
    nearest = _nearest(looked_for, usable, usual)[:most]
    for done, other in enumerate(nearest, 1):
        found.append(_single(looked_for, other))
        if progress is not None:
            progress(done, len(nearest))
    if wishes.most_paints != 1:
        in_stock = [p for p in usable if p.tube is not None and p.tube.stock != 0]
        found += _mixtures(looked_for, in_stock)
    best = sorted(found, key=lambda standin: _order(standin, usual))[:most]
    shares = zip(paint.refs, paint.shares, strict=True)
    return StandIns(
        wanted=paint.name,
        colour=Colour.of(setting.lab_alone(paint)[0]),
        pigments=paint.refs,
        composition=tuple((ref, round(100.0 * share, 1)) for ref, share in shares),
        words=_words(paint, best, left_out),
        medium=medium,
        standins=tuple(best),
        left_out=tuple(left_out),
        strip=strip(paint, setting) if wishes.drawn else None,
    )


def _order(standin: StandIn, usual: str) -> tuple[object, ...]:
    """What does first; in stock; nothing said against it; the fewest paints; the nearest; cheap."""
    return _place(
        does=standin.does,
        stock=standin.stock,
        warning=standin.warning,
        paints=len(standin.recipe.parts) if standin.recipe else 1,
        worst=standin.worst_delta_e00,
        price=compared(standin.price, standin.currency, usual),
        name=standin.tube or standin.title,
    )


def _place(
    *,
    does: bool,
    stock: int | None,
    warning: str,
    paints: int,
    worst: float,
    price: float,
    name: str,
) -> tuple[object, ...]:
    doubtful = does and bool(warning)
    return (not does, stock == 0, doubtful, does and paints, worst, price, name)


def _nearest(looked_for: _Search, usable: Sequence[Paint], usual: str) -> list[Paint]:
    """Single tubes in the order in which they are offered, but for other colours altogether."""
    paint, setting = looked_for.paint, looked_for.setting
    own = contents(paint)
    alike = {p: identity(own, contents(p)) for p in usable}
    reads = np.stack([setting.reads_alone(p) for p in (paint, *usable)])
    here, *there = lab_from_reflectance(reads)
    seen = [
        p
        for p, lab in zip(usable, there, strict=True)
        if alike[p] in (SAME, FORM) or np.linalg.norm(lab - here) <= _SCREEN
    ]
    placed = []
    beside = zip(seen, glances(paint, seen, setting, looked_for.mates), strict=True)
    for other, glance in beside:
        tube, same = other.tube, alike[other]
        if tube is None or (glance.worst > FAR and same not in (SAME, FORM)):
            continue
        does = takes_its_place(
            same,
            another=glance.another,
            another_colour=glance.another_colour,
            factor=glance.factor,
        )
        place = _place(
            does=does,
            stock=tube.stock,
            warning=looked_for.stands(other).line,
            paints=1,
            worst=glance.worst,
            price=compared(tube.price, tube.currency, usual),
            name=tube.id,
        )
        placed.append((place, other))
    return [other for _, other in sorted(placed, key=lambda entry: entry[0])]


def _usable(looked_for: _Search, candidates: Sequence[Tube]) -> tuple[list[Paint], list[LeftOut]]:
    """The paints that may stand in, and the tubes passed over, each with its reason."""
    own, wishes = looked_for.paint.tube, looked_for.wishes
    without = excluded(wishes.without, candidates)
    group = in_one_medium(candidates, looked_for.medium)
    left_out = [_left_out(t, left_out_why(t, group.medium)) for t in group.others]
    usable: list[Paint] = []
    for tube in group.tubes:
        if own is not None and (tube.id == own.id or tube.paint == own.paint):
            continue
        paint = looked_for.shelf.tube(tube)
        if tube.id in without:
            left_out.append(_left_out(tube, "as was wished"))
        elif paint is None:
            continue
        elif tube.stock == 0 and not wishes.sold_out:
            left_out.append(_left_out(tube, "sold out"))
        elif not looked_for.stands(paint).accepted:
            left_out.append(_left_out(tube, f"not fit for {wishes.purpose.name}"))
        elif flakes_instead(looked_for.paint.refs, paint.refs, looked_for.medium):
            left_out.append(_left_out(tube, "its oil film turns brittle and may flake"))
        else:
            usable.append(paint)
    return usable, left_out


def _left_out(tube: Tube, why: str) -> LeftOut:
    return LeftOut(tube=tube.id, title=tube.title, why=why)


def _single(looked_for: _Search, other: Paint) -> StandIn:
    """One tube for the wanted paint, in full."""
    paint, tube = looked_for.paint, other.tube
    assert tube is not None
    same = identity(contents(paint), contents(other))
    seen = compare_behaviour(paint, other, looked_for.setting, looked_for.mates)
    judged = judge(same, paint, other, seen)
    stands = looked_for.stands(other)
    return StandIn(
        tube=tube.id,
        title=tube.title,
        paint=kind_text(tube),
        recipe=None,
        does=judged.does,
        identity=same,
        worst_delta_e00=seen.worst.delta_e00,
        low=seen.worst_low,
        high=seen.worst_high,
        parts_for_one=seen.factor,
        words=judged.verdict,
        warning=stands.line,
        character=other_character(paint.refs, other.refs, looked_for.medium),
        reasons=(*judged.reasons, *stands.beside),
        colour=seen.masstone.b,
        differences=seen.all,
        lightfastness=stands.category,
        cautions=cautions(other.refs),
        price=tube.price,
        stock=tube.stock,
        confidence=judged.confidence,
        currency=tube.currency,
        price_per_ml=price_per_ml(other),
        strip=strip(other, looked_for.setting) if looked_for.wishes.drawn else None,
    )


def _medium(own: Tube | None, candidates: Sequence[Tube], medium: str) -> str:
    """The medium to stay within: the tube's own, else the one asked for, else the only one."""
    if own is None or not own.medium:
        return in_one_medium(candidates, medium).medium
    if not mixes_with(own.medium, medium):
        raise UserError(
            f"this tube is {own.medium}, and {medium} does not mix with it", where=own.id
        )
    return own.medium


def _mixtures(looked_for: _Search, pool: Sequence[Paint]) -> list[StandIn]:
    """Mixtures from the pool: of the wanted tube's own pigments, and of anything but itself."""
    paint = looked_for.paint
    own = {c.code for c in contents_of_refs(paint.refs)}
    each = _one_of_each(pool)
    kin = [p for p in each if len(p.refs) == 1 and p.refs[0].code in own]
    # Fifteen parts of viridian and one of cobalt blue are no stand-in for viridian.
    others = [p for p in each if {ref.code for ref in p.refs} != own]
    out: list[StandIn] = []
    for pools in ([kin] if len(paint.refs) > 1 else [], _pools(looked_for, others)):
        made = _first_offer(looked_for, pools)
        if made is not None and all(s.title != made[0].words for s in out):
            out.append(_mixture(looked_for, *made, pool))
    return out


def _pools(looked_for: _Search, paints: list[Paint]) -> list[list[Paint]]:
    """What to mix from, best first: what lasts and is of the same character, what lasts, all.

    What is toxic comes with what fades, last.
    """
    lasting = [p for p in paints if not looked_for.stands(p).line and not is_toxic(p.refs)]
    clear = opacity_of(looked_for.paint.refs) in CLEAR
    alike = [p for p in lasting if opacity_of(p.refs) in CLEAR] if clear else []
    pools = [pool for pool in (alike, lasting, paints) if len(pool) > 1]
    return [pool for n, pool in enumerate(pools) if n == 0 or len(pool) > len(pools[n - 1])]


def _first_offer(
    looked_for: _Search, pools: Sequence[Sequence[Paint]]
) -> tuple[Offer, Paint] | None:
    for pool in pools:
        made = offer(
            looked_for.paint,
            pool,
            looked_for.setting,
            looked_for.mates,
            limit=STANDS_IN,
            alternatives=_MASSTONES,
            most_paints=looked_for.wishes.most_paints,
        )
        if made is not None:
            return made
    return None


def _mixture(looked_for: _Search, offered: Offer, blend: Paint, pool: Sequence[Paint]) -> StandIn:
    seen = offered.behaviour
    assert seen is not None
    stands = looked_for.stands(blend)
    by_tube = {p.tube.id: p for p in pool if p.tube is not None}
    squeezed = [by_tube[part.tube] for part in offered.parts]
    return StandIn(
        tube=None,
        title=offered.words,
        paint=looked_for.medium,
        recipe=offered,
        does=True,
        identity=identity(contents(looked_for.paint), contents_of_refs(blend.refs)),
        worst_delta_e00=offered.worst_delta_e00,
        low=seen.worst_low,
        high=seen.worst_high,
        parts_for_one=seen.factor,
        words=f"mix {offered.words}",
        warning=stands.line,
        character=other_character(looked_for.paint.refs, blend.refs, looked_for.medium),
        reasons=(*offered.reasons, *stands.beside),
        colour=offered.colour,
        differences=seen.all,
        lightfastness=stands.category,
        cautions=cautions(blend.refs),
        price=None,
        stock=None,
        confidence=offered.confidence,
        currency=next((p.tube.currency for p in squeezed if p.tube is not None), ""),
        price_per_ml=mixture_price(squeezed, [part.parts for part in offered.parts]),
        strip=strip(blend, looked_for.setting) if looked_for.wishes.drawn else None,
    )


def _one_of_each(pool: Sequence[Paint]) -> list[Paint]:
    """The handiest tube of each pigment set: which of two alike is squeezed is no other recipe.

    Tubes of several pigments differ in their parts, so each of those stays.
    """
    kept: dict[object, Paint] = {}
    usual = usual_currency(paint.tube for paint in pool if paint.tube is not None)
    for paint in sorted(pool, key=lambda paint: _handier(paint, usual)):
        kept.setdefault(paint.refs if len(paint.refs) == 1 else id(paint), paint)
    return list(kept.values())


def _handier(paint: Paint, usual: str) -> tuple[bool, float, str]:
    tube = paint.tube
    return handiness(tube, usual) if tube is not None else (False, inf, paint.name)


def _words(paint: Paint, best: Sequence[StandIn], left_out: Sequence[LeftOut]) -> str:
    contents = ", ".join(paint.pigments)
    if len(paint.refs) > 1:
        guess = any(GUESS in note for note in paint.notes)
        contents += (
            " (its parts are a starting guess: no swatch colour)"
            if guess
            else " (parts solved from its swatch, modelled)"
        )
    gone = sum(tube.why == "sold out" for tube in left_out)
    also = f"; {counted(gone, 'sold-out tube')} passed over" if gone else ""
    if not best or not best[0].does:
        glow = f"; {GLOWS}" if fluoresces(paint.refs) else ""
        nothing = "nothing here stands in for it in every use"
        return f"{paint.name} holds {contents}; {nothing}{glow}{also}"
    first = best[0]
    kind = f" ({first.paint})" if first.paint else ""
    sold = ", which is sold out" if first.stock == 0 else ""
    heed = f". {first.warning}" if first.warning else ""
    return f"{paint.name} holds {contents}; first choice: {first.title}{kind}{sold}{also}{heed}"
