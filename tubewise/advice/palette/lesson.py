"""A palette for a lesson: the fewest or cheapest tubes for its colours, as a supply list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.identity import contents_of_refs, identity
from tubewise.advice.alike.judgement import judge
from tubewise.advice.alike.names import plain_name
from tubewise.advice.palette.aims import Aim, lesson_aims
from tubewise.advice.palette.chosen import Chosen, chosen, total_price
from tubewise.advice.palette.film import LEAST_SHARE, Film, film_for
from tubewise.advice.palette.offer import Kind, Offer, offer_of, offer_of_register
from tubewise.advice.palette.targets import WITHIN, Nearest, nearest
from tubewise.advice.recipes.wishes import Wishes
from tubewise.advice.words.lists import counted
from tubewise.advice.words.pigments import NOTHING_DECLARED, pigments_text
from tubewise.advice.words.price import price_text
from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.labels.phrasing import either, listing
from tubewise.paints.shelf import Shelf
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.search.cover import Cover, Covering
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Tube

# Whole parts of a recipe: where so few miss, the next number is tried.
PARTS = (16, 48, 240)
STANDINS = 4
SECONDS = 60.0
# A list names pigments and writes its mixes in them, so that single pigments are what it asks for.
SINGLE = Wishes(single=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class LessonTube:
    """One tube of the answer.

    `needed_for`: the lesson's colours that are mixed from it; `standins`: pigments that may take
    its place, each alone, with every colour still within reach; `beware`: names under which other
    pigments are sold.
    """

    tube: Chosen
    needed_for: tuple[str, ...]
    standins: tuple[str, ...]
    beware: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lesson:
    """The fewest or cheapest tubes with which a lesson's colours can be had.

    `recipes`: every colour that is within `within` CIEDE2000, from at most three tubes in whole
    parts; `tints`: every slot's colour in white, or water, from at most three and that; `beyond`:
    those which nothing on offer reaches. `at_least`: no choice is smaller (or
    cheaper, by `least`); `proved` where that is what was chosen. `supply` is the new list.
    """

    medium: str
    within: float
    least: str
    tubes: tuple[LessonTube, ...]
    price: float | None
    currency: str
    recipes: tuple[Nearest, ...]
    tints: tuple[Nearest, ...]
    beyond: tuple[Nearest, ...]
    at_least: float
    proved: bool
    supply: SupplyList
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LessonWishes:
    """What is asked of the choice.

    `cheapest`: least money, and then few tubes; else few tubes, and then least money. `must`:
    tubes or pigments that shall be in it. `budget` for all together.
    """

    within: float = WITHIN
    cheapest: bool = False
    must: tuple[str, ...] = ()
    budget: float | None = None
    seconds: float = SECONDS


def lesson_offer(
    supply: SupplyList,
    tubes: Sequence[Tube],
    shelf: Shelf,
    *,
    medium: str = "",
    wishes: Wishes = SINGLE,
) -> Offer:
    """The kinds a lesson may ask for, by their pigments: among `tubes`, or without any all known.

    The medium is the one asked for, or that of the list's slots. Raises UserError as `offer_of`.
    """
    wanted = {slot.medium for slot in supply.slots if slot.medium}
    medium = medium or (wanted.pop() if len(wanted) == 1 else "")
    if not tubes:
        return offer_of_register(shelf, medium, wishes)
    return offer_of(tubes, shelf, medium=medium, wishes=wishes, by_pigment=True)


def lesson(
    supply: SupplyList,
    offer: Offer,
    shelf: Shelf,
    catalogue: Sequence[Tube] = (),
    wishes: LessonWishes | None = None,
) -> Lesson:
    """Choose the tubes of an `offer` for a lesson's slots and key mixes, and write its list anew.

    `lesson_offer` makes the offer. `catalogue` settles what convenience colours look like and
    which names mislead.
    Raises UserError where the budget is too small, and where nothing is within reach.
    """
    wishes = wishes or LessonWishes()
    film = film_for(offer.medium, shelf)
    aims = lesson_aims(supply, shelf, catalogue, film)
    covering, cover = _solved(aims, offer, film, wishes)
    kinds = [offer.kinds[i] for i in cover.chosen]
    if not kinds:
        raise UserError(f"nothing here comes within {wishes.within:g} of any colour of the lesson")
    had = [aim for i, aim in enumerate(aims) if i not in cover.beyond]
    lost = [aim.target for i, aim in enumerate(aims) if i in cover.beyond]
    full, pale = [a for a in had if not a.tint], [a.target for a in had if a.tint]
    recipes = _recipes(kinds, film, full, wishes.within)
    standins = {row: _standins(covering, cover, row, offer, shelf) for row in cover.chosen}
    beyond = nearest(offer.kinds, film, lost, within=wishes.within)
    tubes = tuple(
        LessonTube(
            tube=chosen(kind, shelf),
            needed_for=tuple(r.name for r in recipes if _uses(r, kind)),
            standins=tuple(pigments_text(offer.kinds[j].pigments) for j in standins[i]),
            beware=_beware(kind, catalogue),
        )
        for i, kind in zip(cover.chosen, kinds, strict=True)
    )
    price = total_price(kinds)
    return Lesson(
        medium=offer.medium,
        within=wishes.within,
        least="price" if wishes.cheapest else "tubes",
        tubes=tubes,
        price=price,
        currency=offer.currency if price is not None else "",
        recipes=recipes,
        tints=nearest(kinds, film, pale, within=wishes.within, tinted=True, prove=False),
        beyond=beyond,
        at_least=round(cover.lower_bound, 2),
        proved=cover.proved,
        supply=_list(supply, offer, standins, tubes, full, recipes),
        words=_words(
            tubes, price, offer.currency, cover, wishes, (len(recipes), len(pale)), beyond
        ),
    )


def _solved(
    aims: Sequence[Aim], offer: Offer, film: Film, wishes: LessonWishes
) -> tuple[Covering, Cover]:
    """The covering problem of a lesson, and its answer."""
    paints = [kind.paint for kind in offer.kinds]
    ask, free = film.problem(paints, least=LEAST_SHARE), film.free(paints)
    labs = np.stack([aim.target.lab for aim in aims])
    # A tint is made with the white that the list has anyway.
    white = free if film.at_hand else _white_row(aims, offer)
    beside = [white if aim.tint else free for aim in aims]
    covering = Covering(ask, labs, wishes.within, free=free, beside=beside, thins=offer.whites())
    prices = offer.prices()
    if (wishes.cheapest or wishes.budget is not None) and not prices.any():
        raise UserError("no price is known, so neither the cheapest nor a budget can be found")
    price = np.append(prices, np.zeros(len(ask.K) - len(paints)))
    costs: list[Floats] = [np.ones(len(ask.K))]
    if prices.any():
        costs = [price, *costs] if wishes.cheapest else [*costs, price]
    must = offer.rows(wishes.must)
    if white >= 0 and not film.at_hand:
        must = tuple(sorted({*must, white}))
    cover = covering.least(costs, must=must, seconds=wishes.seconds)
    if wishes.budget is not None and price[list(cover.chosen)].sum() > wishes.budget + 1e-9:
        cover = covering.least([price, np.ones(len(ask.K))], must=must, seconds=wishes.seconds)
        spent = float(price[list(cover.chosen)].sum())
        if spent > wishes.budget + 1e-9:
            raise UserError(
                f"{price_text(wishes.budget, offer.currency)} is too little: the cheapest tubes "
                f"for this lesson cost {price_text(spent, offer.currency)}"
            )
    return covering, cover


def _white_row(aims: Sequence[Aim], offer: Offer) -> int:
    """The kind that a list's tints are made with: its own white, else the cheapest; -1 for none."""
    whites = offer.whites()
    if not whites or not any(aim.tint for aim in aims):
        return -1
    accepted = [refs for aim in aims if aim.slot for refs in aim.slot.accept]
    own = [i for i in whites if any(_named_by(refs, offer.kinds[i]) for refs in accepted)]
    return min(own or whites, key=lambda i: (offer.kinds[i].price or 0.0, i))


def _recipes(
    kinds: Sequence[Kind], film: Film, aims: Sequence[Aim], within: float
) -> tuple[Nearest, ...]:
    """Each colour in whole parts; in many parts only where few miss it."""
    found: dict[int, Nearest] = {}
    for parts in PARTS:
        missed = [i for i in range(len(aims)) if i not in found or not found[i].reached]
        targets = [aims[i].target for i in missed]
        # Near enough is enough: in many parts a proof that none comes nearer takes seconds each.
        few = parts == PARTS[0]
        again = nearest(kinds, film, targets, within=within, max_parts=parts, prove=few)
        found |= dict(zip(missed, again, strict=True))
    return tuple(found[i] for i in range(len(aims)))


def _id(kind: Kind) -> str:
    """How a recipe's part names a kind."""
    return kind.paint.tube.id if kind.paint.tube else kind.paint.name


def _uses(recipe: Nearest, kind: Kind) -> bool:
    return any(part.tube == _id(kind) for part in recipe.parts)


def _standins(covering: Covering, cover: Cover, row: int, offer: Offer, shelf: Shelf) -> list[int]:
    """Kinds that may take a chosen one's place with every colour still within reach.

    A list says what is right for a slot, so they must also do for the paint itself: what serves
    in this lesson's mixtures alone (a violet for a trace of black) would read as "the same".
    """
    rest = [i for i in cover.chosen if i != row]
    out = []
    for other in range(len(offer.kinds)):
        if (
            other not in cover.chosen
            and covering.serves([*rest, other], but=cover.beyond)
            and _does_for(offer.kinds[row], offer.kinds[other], shelf)
        ):
            out.append(other)
    own = offer.kinds[row].refs
    out.sort(key=lambda i: (not set(own) & set(offer.kinds[i].refs), offer.kinds[i].refs))
    return out[:STANDINS]


def _does_for(kind: Kind, other: Kind, shelf: Shelf) -> bool:
    """Whether the comparison of two paints says that the other does for the first."""
    same = identity(contents_of_refs(kind.refs), contents_of_refs(other.refs))
    medium = kind.tube.medium if kind.tube else ""
    seen = compare_behaviour(kind.paint, other.paint, shelf.setting(medium))
    return judge(same, kind.paint, other.paint, seen).does


def _beware(kind: Kind, catalogue: Sequence[Tube]) -> tuple[str, ...]:
    """Names of the kind's tubes under which other pigments are sold, with those pigments."""
    names = {plain_name(tube.name): tube.name for tube in kind.tubes}
    media = {tube.medium for tube in kind.tubes}
    others: dict[str, set[str]] = {}
    for tube in catalogue:
        key = plain_name(tube.name)
        if key in names and tube.medium in media and set(tube.refs) != set(kind.refs):
            others.setdefault(key, set()).add(" + ".join(tube.pigments) or NOTHING_DECLARED)
    return tuple(
        f"“{names[key]}” may be {either(sorted(names_of_it))}"
        for key, names_of_it in sorted(others.items())
    )


def _list(
    old: SupplyList,
    offer: Offer,
    standins: Mapping[int, Sequence[int]],
    tubes: Sequence[LessonTube],
    aims: Sequence[Aim],
    recipes: Sequence[Nearest],
) -> SupplyList:
    """The new supply list: a slot for each tube, a key mix for each colour that is mixed."""
    slots = []
    for (row, others), tube in zip(standins.items(), tubes, strict=True):
        kind = offer.kinds[row]
        before = _asked_before(kind, old)
        note = [f"For {listing(tube.needed_for)}." if tube.needed_for else ""]
        note += [f"Look at the code: {words}." for words in tube.beware]
        slots.append(
            Slot(
                slot=before.slot if before else _slot_name(kind),
                accept=(_accepted(kind), *(_accepted(offer.kinds[j]) for j in others)),
                medium=offer.medium,
                min_ml=before.min_ml if before else 0.0,
                note=" ".join(filter(None, note)),
            )
        )
    refs = {_id(offer.kinds[i]): sorted(_accepted(offer.kinds[i])) for i in standins}
    mixes = [
        _mix(aim, recipe, refs) for aim, recipe in zip(aims, recipes, strict=True) if recipe.reached
    ]
    return replace(
        old,
        name=f"{old.name}, by palette",
        slots=_unique(slots),
        mixes=tuple(m for m in mixes if m),
    )


def _accepted(kind: Kind) -> frozenset[Ref]:
    """The pigments a list asks for: with their forms only where the form makes another colour."""
    known = load()
    wanted = []
    for ref in kind.refs:
        pigment = known.get(ref.code)
        wanted.append(ref if pigment is None or pigment.needs else Ref(ref.code))
    return frozenset(wanted)


def _asked_before(kind: Kind, old: SupplyList) -> Slot | None:
    """The old list's slot for a kind: one that accepts it, its form said or not."""
    for slot in old.slots:
        if any(_named_by(refs, kind) for refs in slot.accept):
            return slot
    return None


def _named_by(refs: frozenset[Ref], kind: Kind) -> bool:
    """Whether a slot's pigments are those of a kind, its form said or not."""
    pairs = list(zip(sorted(refs), sorted(kind.refs), strict=False))
    return len(refs) == len(kind.refs) and all(
        a.code == b.code and a.form in ("", b.form) for a, b in pairs
    )


def _slot_name(kind: Kind) -> str:
    return kind.tube.name if kind.tube else kind.name


def _unique(slots: Sequence[Slot]) -> tuple[Slot, ...]:
    """Slots with names of their own: two of one name are told apart by their pigments."""
    names = [plain_name(slot.slot) for slot in slots]
    return tuple(
        replace(slot, slot=f"{slot.slot} ({', '.join(sorted(slot.accept[0]))})")
        if names.count(plain_name(slot.slot)) > 1
        else slot
        for slot in slots
    )


def _mix(aim: Aim, recipe: Nearest, refs: Mapping[str, Sequence[Ref]]) -> KeyMix | None:
    """A recipe as a key mix; None straight from a tube, or where a tube holds several pigments.

    A list writes mixes in pigments, so what is mixed from a convenience colour cannot stand in it.
    """
    parts = [(refs[part.tube], part.parts) for part in recipe.parts if part.tube in refs]
    if len(parts) < 2 or any(len(paints) > 1 for paints, _ in parts):
        return None
    return KeyMix(
        mix=recipe.name,
        parts=tuple((paints[0], round(count)) for paints, count in parts),
        aim=aim.mix.aim if aim.mix else f"in place of a tube of {recipe.name}",
    )


def _words(
    tubes: Sequence[LessonTube],
    price: float | None,
    currency: str,
    cover: Cover,
    wishes: LessonWishes,
    had: tuple[int, int],
    beyond: Sequence[Nearest],
) -> str:
    cost = f" for {price_text(price, currency)}" if price is not None else ""
    sentence = (
        f"{counted(len(tubes), 'tube')}{cost} "
        f"{'have' if len(tubes) != 1 else 'has'} {counted(had[0], 'colour')} of the lesson "
        + (f"and {counted(had[1], 'tint')} of them " if had[1] else "")
        + f"within CIEDE2000 {wishes.within:g}"
    )
    if cover.proved:
        sentence += f"; proved that {'less money' if wishes.cheapest else 'fewer'} will not do"
    else:
        bound = counted(int(np.ceil(cover.lower_bound - 1e-6)), "tube")
        if wishes.cheapest:
            bound = price_text(cover.lower_bound, currency)
        sentence += f"; not proved the least, which is at least {bound}"
    if beyond:
        sentence += (
            f"; out of reach of all tubes here: {listing([colour.name for colour in beyond])}"
        )
    return sentence
