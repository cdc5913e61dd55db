"""Stand-ins for a tube: single tubes and mixtures, ranked by how they behave in use."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from tubewise.advice.behaviour import Company, Difference, compare_behaviour, lab_alone
from tubewise.advice.compare import PARTNERS, companies, contents
from tubewise.advice.identity import contents_of_refs, identity
from tubewise.advice.judgement import judge
from tubewise.advice.paint import Paint
from tubewise.advice.permanence import cautions, lightfastness
from tubewise.advice.recipe import Offer, offer
from tubewise.advice.shelf import Shelf
from tubewise.advice.swatch import Colour, swatches
from tubewise.advice.thresholds import FAR, STANDS_IN
from tubewise.errors import UserError
from tubewise.pigments.register import Caution
from tubewise.tubes.tube import Tube

# Candidates whose masstone and tints are already this far off are not compared further.
_SCREEN = 25.0


@dataclass(frozen=True, slots=True)
class StandIn:
    """One stand-in: a `tube` or a `recipe`, never both."""

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


@dataclass(frozen=True, slots=True)
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
) -> StandIns:
    """Rank what could take the place of `wanted` among `candidates` of the same medium.

    Judged alone, thin, in tints and mixed with `partners`. A convenience colour is also mixed
    again from tubes of its own pigments. Raises UserError when nothing says what `wanted` holds.
    """
    paint = shelf.tube(wanted) if isinstance(wanted, Tube) else shelf.term(wanted)
    if paint is None:
        raise UserError(
            "this tube declares no pigments; nothing can stand in for the unknown",
            where=str(getattr(wanted, "id", wanted)),
        )
    own = paint.tube
    mates = companies(shelf, tuple(partners) or tuple(p for p in PARTNERS if p not in paint.refs))
    usable = [
        t
        for t in candidates
        if own is None
        or (
            t.id != own.id
            and t.paint != own.paint
            and (not t.medium or not own.medium or t.medium == own.medium)
        )
    ]
    found: list[StandIn] = []
    pool: list[Paint] = []
    alone = lab_alone(paint)[0]
    for done, tube in enumerate(usable, 1):
        other = shelf.tube(tube)
        if progress is not None:
            progress(done, len(usable))
        if other is None:
            continue
        pool.append(other)
        same = identity(contents(paint), contents(other))
        far = float(np.linalg.norm(lab_alone(other)[0] - alone))
        if far > _SCREEN and same not in ("same pigments", "same code, form may differ"):
            continue
        seen = compare_behaviour(paint, other, shelf, mates)
        said = judge(same, paint, other, seen)
        if seen.worst.delta_e00 > FAR and same not in (
            "same pigments",
            "same code, form may differ",
        ):
            continue
        found.append(
            StandIn(
                tube.id,
                tube.title,
                None,
                same,
                seen.worst.delta_e00,
                seen.worst_low,
                seen.worst_high,
                seen.factor,
                said.verdict,
                said.reasons,
                seen.masstone.b,
                seen.all,
                lightfastness(other.refs, tube.medium),
                cautions(other.refs),
                tube.price,
                tube.stock,
                said.confidence,
            )
        )
    found += _mixtures(paint, pool, shelf, mates)
    found.sort(key=lambda s: (s.worst_delta_e00, s.price if s.price is not None else np.inf))
    best = found[:most]
    composition = tuple(
        (ref, round(100.0 * share, 1)) for ref, share in zip(paint.refs, paint.shares, strict=True)
    )
    return StandIns(
        paint.name, Colour.of(alone), paint.refs, composition, _words(paint, best), tuple(best)
    )


def _mixtures(
    paint: Paint, pool: Sequence[Paint], shelf: Shelf, mates: Sequence[Company]
) -> list[StandIn]:
    """Mixtures from the pool: of the wanted tube's own pigments first, then of anything."""
    own = {c.code for c in contents_of_refs(paint.refs)}
    kin = [p for p in pool if len(p.refs) == 1 and p.refs[0].partition("/")[0] in own]
    # One tube for each pigment keeps the search to what the recipe is about.
    kin = list({p.refs[0]: p for p in sorted(kin, key=_handier, reverse=True)}.values())
    # A mixture of all the world's tubes is no recipe a person can follow; the nearest few are.
    near = sorted(pool, key=_handier)[:40]
    out = []
    for paints, same in ((kin if len(paint.refs) > 1 else [], "same pigments"), (near, None)):
        made = offer(paint, paints, shelf, mates, limit=STANDS_IN)
        if made is None:
            continue
        offered, blend = made
        what = same or identity(contents_of_refs(paint.refs), contents_of_refs(blend.refs))
        seen = compare_behaviour(paint, blend, shelf, mates)
        medium = paint.tube.medium if paint.tube else ""
        out.append(
            StandIn(
                None,
                offered.words,
                offered,
                what,
                offered.worst_delta_e00,
                seen.worst_low,
                seen.worst_high,
                seen.factor,
                f"mix {offered.words}",
                offered.reasons,
                offered.colour,
                seen.all,
                lightfastness(blend.refs, medium),
                cautions(blend.refs),
                None,
                None,
                offered.confidence,
            )
        )
    return out


def _handier(paint: Paint) -> tuple[bool, bool, float]:
    """Sort key: in stock, artist grade, cheap."""
    tube = paint.tube
    assert tube is not None
    return tube.stock == 0, tube.grade == "student", tube.price if tube.price is not None else 0.0


def _words(paint: Paint, best: Sequence[StandIn]) -> str:
    held = ", ".join(paint.pigments)
    if len(paint.refs) > 1:
        guess = any("starting guess" in note for note in paint.notes)
        held += (
            " (its parts are a starting guess: no swatch colour)"
            if guess
            else " (parts solved from its swatch, modelled)"
        )
    if not best or best[0].worst_delta_e00 > STANDS_IN:
        return f"{paint.name} holds {held}; nothing here stands in for it in every use"
    return f"{paint.name} holds {held}; first choice: {best[0].title}"
