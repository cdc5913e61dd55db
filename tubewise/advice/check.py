"""The class check: every seat's box against the supply list, slot by slot."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from tubewise.advice.behaviour import WHITE, compare_behaviour, lab_alone
from tubewise.advice.identity import FORM, SAME, UNKNOWN, accepted, contents_of_tube
from tubewise.advice.judgement import TOO_CLOSE, Judgement, judge, parts_words
from tubewise.advice.names import HUE_KINDS, plain_name
from tubewise.advice.paint import Paint
from tubewise.advice.recipe import Offer, offer
from tubewise.advice.shelf import Measured, Shelf
from tubewise.advice.shopping import Buy, buy_for, enough
from tubewise.advice.standard import Standard, standards, usable_medium
from tubewise.advice.strip import Strip, strip
from tubewise.advice.summary import Summary, summarise
from tubewise.advice.swatch import Colour, swatches
from tubewise.advice.thresholds import CLOSE, STANDS_IN
from tubewise.advice.verdicts import (
    CHECK_FORM,
    MISSING,
    MIX,
    RIGHT,
    STAND_IN,
    VERDICTS,
    WRONG,
)
from tubewise.colour.difference import delta_e_2000
from tubewise.pigments.register import load
from tubewise.tubes.catalogue import Products, complete
from tubewise.tubes.supply import SupplyList
from tubewise.tubes.tube import Box, Tube


@dataclass(frozen=True, slots=True)
class SlotVerdict:
    """One slot at one seat: the verdict, the tube it is about, why, and what to do."""

    slot: str
    verdict: str
    tube: str | None
    title: str
    do: str
    reasons: tuple[str, ...]
    recipe: Offer | None
    buy: Buy | None
    confidence: str
    close_call: bool
    asked: Colour
    has: Colour | None
    asked_strip: Strip
    has_strip: Strip | None


@dataclass(frozen=True, slots=True)
class SeatCheck:
    """One seat: its slots in the list's order, and what else about the box is worth saying."""

    seat: str
    slots: tuple[SlotVerdict, ...]
    remarks: tuple[str, ...]

    def _repr_html_(self) -> str:
        return swatches([(f"{s.slot}: {s.verdict}", s.has or s.asked) for s in self.slots])


@dataclass(frozen=True, slots=True)
class ClassCheck:
    """The whole class and the teacher's summary."""

    workshop: str
    seats: tuple[SeatCheck, ...]
    summary: Summary

    def _repr_html_(self) -> str:
        return "".join(f"<h4>Seat {s.seat}</h4>{s._repr_html_()}" for s in self.seats)


@dataclass(frozen=True, slots=True, eq=False)
class _Candidate:
    tube: Tube
    verdict: str
    judged: Judgement | None
    same: str
    paint: Paint | None
    reference: Paint
    factor: float
    worst: float
    small: bool

    @property
    def rank(self) -> tuple[int, bool, float]:
        # A stand-in that is not sure to do comes after a tube that only needs its form checked.
        place = VERDICTS.index(self.verdict)
        unsure = self.judged is not None and self.judged.close_call and self.verdict == STAND_IN
        return (VERDICTS.index(CHECK_FORM) if unsure else place), unsure or self.small, self.worst


def check(
    supply: SupplyList,
    boxes: Sequence[Box],
    catalogue: Sequence[Tube] = (),
    measured: Mapping[str, Measured] | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> ClassCheck:
    """Hold each box against the list and say what will do, what won't, and what to do about it.

    `catalogue` completes sparse box rows and says what can be bought; `measured` maps tube ids to
    measured optics; `progress(done, all)` is called after each seat.
    """
    products = Products(catalogue)
    boxes = [Box(b.seat, tuple(complete(t, products) for t in b.tubes)) for b in boxes]
    shelf = Shelf((*catalogue, *(t for b in boxes for t in b.tubes)), measured)
    asked = standards(supply, shelf)
    known = _names_asked(asked, catalogue)
    buys = {s.slot.slot: buy_for(s.slot, catalogue) for s in asked}
    memory: dict[tuple[Tube, str], _Candidate] = {}
    seats: list[SeatCheck] = []
    hands: list[dict[str, Paint]] = []
    for done, box in enumerate(boxes, 1):
        hand: dict[str, Paint] = {}
        slots = tuple(
            _slot(
                standard,
                box,
                shelf,
                known[standard.slot.slot],
                buys[standard.slot.slot],
                memory,
                hand,
            )
            for standard in asked
        )
        seats.append(SeatCheck(box.seat, slots, _remarks(box, slots)))
        hands.append(hand)
        if progress is not None:
            progress(done, len(boxes))
    return ClassCheck(supply.name, tuple(seats), summarise(supply, asked, seats, hands, shelf))


def _names_asked(asked: Sequence[Standard], catalogue: Sequence[Tube]) -> dict[str, set[str]]:
    """For each slot, the names under which what it asks for is sold."""
    names: dict[str, set[str]] = {}
    for standard in asked:
        own = {plain_name(standard.slot.slot)}
        for tube in catalogue:
            has = contents_of_tube(tube)
            # A label that contradicts its own name teaches no names.
            if any(w.kind in ("hue-disagrees", *HUE_KINDS) for w in tube.reading.warnings):
                continue
            if has and any(accepted(sorted(r), has) == SAME for r in standard.slot.accept):
                own.add(plain_name(tube.name))
        names[standard.slot.slot] = own
    return names


def _promises(tube: Tube, standard: Standard, names: set[str]) -> bool:
    """Whether the tube's name lets a person take it for what the slot asks."""
    if plain_name(tube.name) in names:
        return True
    held = {c.code for c in contents_of_tube(tube)}
    # Another shade or form of the promised pigment keeps its promise.
    return any(
        _single_codes(standard) & set(promise.codes) and not held & set(promise.codes)
        for promise in load().promises(tube.name)
    )


def _single_codes(standard: Standard) -> set[str]:
    """The codes of which the slot accepts a tube alone."""
    return {next(iter(r)).partition("/")[0] for r in standard.slot.accept if len(r) == 1}


def _candidate(tube: Tube, standard: Standard, shelf: Shelf, names: set[str]) -> _Candidate | None:
    """How one tube does in one slot, or None when it has no business there."""
    slot = standard.slot
    has = contents_of_tube(tube)
    paint = shelf.tube(tube)
    named = _promises(tube, standard, names)
    small = not enough(tube, slot)
    if paint is None:
        likely = {s for w in tube.reading.warnings for s in w.suggestions}
        if likely & _single_codes(standard):
            return _Candidate(
                tube, CHECK_FORM, None, UNKNOWN, None, standard.paint, 1.0, float("inf"), small
            )
        if not named:
            return None
        return _Candidate(
            tube, WRONG, None, UNKNOWN, None, standard.paint, 1.0, float("inf"), small
        )
    best: _Candidate | None = None
    for refs, reference in zip(slot.accept, standard.accepted_paints, strict=True):
        same = accepted(sorted(refs), has)
        if same not in (SAME, FORM) and not named and _elsewhere(reference, paint):
            continue
        behaviour = compare_behaviour(reference, paint, shelf, standard.companies)
        judged = judge(same, reference, paint, behaviour)
        settled = tube.swatch_lab is not None or paint.basis == "measured"
        if same == SAME:
            verdict = RIGHT
        elif same == FORM and any(c.assumed for c in has):
            near = behaviour.worst.delta_e00 <= CLOSE
            # A measured swatch can settle which form it is; a label without one cannot.
            verdict = RIGHT if settled and near else CHECK_FORM
        elif same == FORM and any(c.code == "PB15" for c in has):
            verdict = CHECK_FORM
        elif judged.does:
            verdict = STAND_IN
        elif named:
            verdict = WRONG
        else:
            continue
        one = _Candidate(
            tube,
            verdict,
            judged,
            same,
            paint,
            reference,
            behaviour.factor,
            behaviour.worst.delta_e00,
            small,
        )
        if best is None or one.rank < best.rank:
            best = one
    return best


def _elsewhere(reference: Paint, paint: Paint) -> bool:
    """Whether its masstone already tells that it cannot stand in, so the rest need not be mixed."""
    return float(delta_e_2000(lab_alone(reference)[0], lab_alone(paint)[0])) > STANDS_IN


def _slot(
    standard: Standard,
    box: Box,
    shelf: Shelf,
    names: set[str],
    buy: Buy | None,
    memory: dict[tuple[Tube, str], _Candidate],
    hand: dict[str, Paint],
) -> SlotVerdict:
    slot = standard.slot
    found: list[_Candidate] = []
    other_medium: list[Tube] = []
    for tube in box.tubes:
        if not usable_medium(tube, slot):
            if _promises(tube, standard, names):
                other_medium.append(tube)
            continue
        key = (tube, slot.slot)
        if key not in memory:
            one = _candidate(tube, standard, shelf, names)
            if one is None:
                continue
            memory[key] = one
        found.append(memory[key])
    best = min(found, key=lambda c: c.rank, default=None)
    notes = tuple(
        f"{t.title} is {t.medium}; the list asks for {slot.medium}, and they do not mix"
        for t in other_medium
    )
    if best is not None and best.verdict == CHECK_FORM and best.paint is None:
        return _misread(best, standard, shelf, notes, buy)
    if best is not None and best.verdict in (RIGHT, STAND_IN, CHECK_FORM) and best.paint:
        hand[slot.slot] = best.paint
        together = sum(
            c.tube.size_ml or 0.0
            for c in found
            if c.verdict == best.verdict and c.same == best.same
        )
        if best.small and slot.min_ml and together >= slot.min_ml:
            best = replace(best, small=False)
        return _with_tube(best, standard, shelf, notes, buy)
    made = _mix(standard, box, shelf)
    if made is not None:
        hand[slot.slot] = made[1]
    if best is not None:
        return _misnamed(best, standard, shelf, notes, made, buy)
    if made is not None:
        offered, blend = made
        reasons = (
            f"no tube in the box holds {_asks(standard)}, but its tubes mix to it",
            *offered.reasons,
            *notes,
        )
        return _said(
            standard,
            shelf,
            MIX,
            None,
            f"mix it: {offered.words}",
            reasons,
            blend,
            offered,
            buy,
            offered.confidence,
            offered.close_call,
        )
    reasons = (
        f"nothing in the box holds {_asks(standard)}, behaves like it or mixes to it",
        *notes,
    )
    return _said(
        standard,
        shelf,
        MISSING,
        None,
        _buying(buy, standard),
        reasons,
        None,
        None,
        buy,
        "high",
        False,
    )


def _said(
    standard: Standard,
    shelf: Shelf,
    verdict: str,
    tube: Tube | None,
    do: str,
    reasons: tuple[str, ...],
    paint: Paint | None,
    made: Offer | None,
    buy: Buy | None,
    confidence: str,
    close_call: bool,
) -> SlotVerdict:
    """The verdict with the colours and strips that go with it."""
    white = shelf.pigment(WHITE)
    return SlotVerdict(
        standard.slot.slot,
        verdict,
        tube.id if tube else None,
        tube.title if tube else "",
        do,
        reasons,
        made,
        buy,
        confidence,
        close_call,
        Colour.of(lab_alone(standard.paint)[0]),
        Colour.of(lab_alone(paint)[0]) if paint else None,
        strip(standard.paint, white),
        strip(paint, white) if paint else None,
    )


def _asks(standard: Standard) -> str:
    return " or ".join(" + ".join(sorted(refs)) for refs in standard.slot.accept)


def _buying(buy: Buy | None, standard: Standard) -> str:
    if buy is None:
        return f"ask any shop for {_asks(standard)}; the catalogue has none in stock"
    price = "" if buy.price is None else f", {buy.price:.2f} {buy.currency}"
    shop = f" at {buy.shop}" if buy.shop else ""
    size = "" if buy.size_ml is None else f", {buy.size_ml:g} ml"
    return f"buy {buy.title} ({', '.join(buy.pigments)}{size}{price}){shop}"


def _with_tube(
    best: _Candidate, standard: Standard, shelf: Shelf, notes: tuple[str, ...], buy: Buy | None
) -> SlotVerdict:
    tube, slot, judged = best.tube, standard.slot, best.judged
    assert judged is not None
    reasons = list(judged.reasons)
    if best.small:
        reasons.append(
            f"{tube.size_ml:g} ml, and the list asks for {slot.min_ml:g} ml: it may run out"
        )
    strength = parts_words(best.factor)
    if best.verdict == RIGHT:
        do = f"use it; it is {strength}" if strength else "use it"
        if best.same == FORM:
            reasons.insert(0, "the label leaves the form open, but the swatch shows it")
    elif best.verdict == CHECK_FORM:
        forms = sorted({c for refs in slot.accept for c in refs})
        reasons = [*_forms_apart(best, standard, shelf), *reasons[-1:]]
        do = (
            f"look for {' or '.join(forms)} on the tube or in the maker's chart, or paint a "
            "swatch in white beside another student's"
        )
    else:
        do = f"use it for {slot.slot}"
        if strength:
            do += f"; it is {strength}"
        if judged.close_call:
            do = f"{TOO_CLOSE} before class; if it differs, {_buying(buy, standard)}"
    unsure = best.verdict == CHECK_FORM or (best.verdict == STAND_IN and judged.close_call)
    return _said(
        standard,
        shelf,
        best.verdict,
        tube,
        do,
        (*reasons, *notes),
        best.paint,
        None,
        buy if unsure else None,
        judged.confidence,
        judged.close_call,
    )


def _forms_apart(best: _Candidate, standard: Standard, shelf: Shelf) -> list[str]:
    """What a code without its form may turn out to be, form by form."""
    vague = next(c for c in contents_of_tube(best.tube) if c.assumed or not c.form)
    register = load()
    pigment = register.get(vague.code)
    if pigment is None:
        return []
    if pigment.needs == "suffix":
        options = [p.code for p in register if p.parent == pigment.code]
    else:
        options = [f"{pigment.code}/{form.name}" for form in pigment.forms]
    said = [f"the label says {vague.code} and not which: {', '.join(options)}"]
    for ref in options:
        one = compare_behaviour(best.reference, shelf.pigment(ref), shelf, standard.companies)
        worst = one.worst
        if worst.delta_e00 > CLOSE:
            said.append(f"if it is {ref}, {worst.situation}: {worst.words}")
        else:
            said.append(f"if it is {ref}, it will do")
    return said


def _misread(
    best: _Candidate, standard: Standard, shelf: Shelf, notes: tuple[str, ...], buy: Buy | None
) -> SlotVerdict:
    """A label that cannot be read as it stands, but may well mean what the slot asks."""
    said = tuple(w.message for w in best.tube.reading.warnings if w.suggestions)
    do = f"look at the tube again: {' '.join(said)} Otherwise {_buying(buy, standard)}"
    reasons = (f"its label reads “{best.tube.label.strip()[:80]}”, which may be a slip", *notes)
    return _said(standard, shelf, CHECK_FORM, best.tube, do, reasons, None, None, buy, "low", True)


def _misnamed(
    best: _Candidate,
    standard: Standard,
    shelf: Shelf,
    notes: tuple[str, ...],
    made: tuple[Offer, Paint] | None,
    buy: Buy | None,
) -> SlotVerdict:
    tube, judged = best.tube, best.judged
    if judged is None:
        reasons = [f"{tube.title} declares no pigments, so its name is all there is to go by"]
    else:
        reasons = [
            f"the name promises {_asks(standard)}; the tube holds {', '.join(tube.pigments)}",
            *judged.reasons,
        ]
    do = f"don't count on it: {_buying(buy, standard)}"
    if made is not None:
        do = f"don't use it as {standard.slot.slot}; mix it instead: {made[0].words}"
        reasons += made[0].reasons
    return _said(
        standard,
        shelf,
        WRONG,
        tube,
        do,
        (*reasons, *notes),
        best.paint,
        made[0] if made else None,
        buy,
        judged.confidence if judged else "low",
        judged.close_call if judged else False,
    )


def _mix(standard: Standard, box: Box, shelf: Shelf) -> tuple[Offer, Paint] | None:
    """A mixture from the box that does the slot's work, in every situation of the lesson."""
    tubes = [t for t in box.tubes if usable_medium(t, standard.slot)]
    paints = [p for p in map(shelf.tube, tubes) if p is not None]
    return offer(standard.paint, paints, shelf, standard.companies, limit=STANDS_IN)


def _remarks(box: Box, slots: Sequence[SlotVerdict]) -> tuple[str, ...]:
    """What else to say about a box: tubes that serve twice, labels that say nothing."""
    remarks = []
    uses: dict[str, list[str]] = {}
    for slot in slots:
        if slot.tube and slot.verdict in (RIGHT, STAND_IN, CHECK_FORM):
            uses.setdefault(slot.tube, []).append(slot.slot)
    titles = {t.id: t for t in box.tubes}
    for tube, served in uses.items():
        if len(served) > 1:
            remarks.append(f"{titles[tube].title} has to serve for {' and '.join(served)}")
    for held in box.tubes:
        for warning in held.reading.warnings:
            if warning.kind in (
                "nothing-declared",
                "likely-misread",
                "code-number-disagree",
                "unknown-code",
            ):
                remarks.append(f"{held.title}: {warning.message}")
    return tuple(dict.fromkeys(remarks))
