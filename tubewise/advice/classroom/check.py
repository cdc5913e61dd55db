"""The class check: every seat's box against the supply list, slot by slot."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from tubewise.advice.amounts import enough, together
from tubewise.advice.classroom.judged_slots import (
    Mixed,
    filled,
    honest_reasons,
    misnamed,
    misread,
    missing,
)
from tubewise.advice.classroom.judged_slots import mixed_up as only_mixed
from tubewise.advice.classroom.mix_report import Hand
from tubewise.advice.classroom.open_forms import open_forms
from tubewise.advice.classroom.passed_over import passed_over
from tubewise.advice.classroom.promised_names import names_by_slot, promises
from tubewise.advice.classroom.seat import SeatCheck, remarks
from tubewise.advice.classroom.shopping import Buy, buy_for, for_what_is_short
from tubewise.advice.classroom.slot_verdict import Case, SlotVerdict
from tubewise.advice.classroom.standard import Standard, usable_medium
from tubewise.advice.classroom.summary import Summary, summarise
from tubewise.advice.classroom.trial import Trial, hue_words, try_in_slot
from tubewise.advice.classroom.verdicts import FILLED, Verdict
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.handling import fails
from tubewise.advice.layers import of_media
from tubewise.advice.recipes.offer import offer
from tubewise.advice.recipes.reluctance import is_toxic
from tubewise.advice.words.thresholds import STANDS_IN
from tubewise.labels.phrasing import listing
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.pigments.opacity import CLEAR, opacity_of
from tubewise.pigments.permanence import lasting
from tubewise.tubes.occasion import NO_OCCASION, Occasion
from tubewise.tubes.tube import Box, Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassCheck:
    """The whole class, the teacher's summary, and when and where it meets."""

    workshop: str
    seats: tuple[SeatCheck, ...]
    summary: Summary
    occasion: Occasion = NO_OCCASION

    def _repr_html_(self) -> str:
        return "".join(f"<h4>Seat {s.seat}</h4>{s._repr_html_()}" for s in self.seats)


def check(workshop: Workshop, progress: Callable[[int, int], None] | None = None) -> ClassCheck:
    """Hold each box against the list and say what will do, what won't, and what to do about it.

    `progress(done, all)` is called after each seat.
    """
    questions = _questions(workshop)
    boxes = workshop.boxes_read
    seats: list[SeatCheck] = []
    hands: list[Hand] = []
    for done, read in enumerate(boxes, 1):
        box = read.box
        answers = [(question, *_answer(question, box)) for question in questions]
        slots = tuple(verdict for _, verdict, _ in answers)
        seats.append(SeatCheck(seat=box.seat, slots=slots, remarks=remarks(box, slots), read=read))
        hands.append({q.standard.slot: paints for q, _, paints in answers if paints})
        if progress is not None:
            progress(done, len(boxes))
    return ClassCheck(
        workshop=workshop.supply.name,
        seats=tuple(seats),
        summary=summarise(workshop, seats, hands),
        occasion=workshop.supply.occasion,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Question:
    """One slot, asked of every seat; `trials` keeps how each tube did, as seats own the same."""

    standard: Standard
    shelf: Shelf
    names: frozenset[str]
    buy: Buy | None
    trials: dict[Tube, Trial | None] = field(default_factory=dict)

    def trial(self, tube: Tube) -> Trial | None:
        """How a tube does in the slot."""
        if tube not in self.trials:
            self.trials[tube] = try_in_slot(tube, self.standard, self.shelf, self.names)
        return self.trials[tube]


def _questions(workshop: Workshop) -> list[_Question]:
    names = names_by_slot(workshop.standards, workshop.catalogue)
    return [
        _Question(
            standard=standard,
            shelf=workshop.shelf,
            names=names[standard.slot],
            buy=buy_for(standard.slot, workshop.catalogue, workshop.shelf, standard.purpose),
        )
        for standard in workshop.standards
    ]


def _answer(question: _Question, box: Box) -> tuple[SlotVerdict, tuple[Paint, ...]]:
    """The verdict on a slot at a seat, and the paints that may fill it.

    The likeliest paint comes first, then the other forms it may be.
    """
    standard, shelf = question.standard, question.shelf
    usable = [tube for tube in box.tubes if usable_medium(tube, standard.slot)]
    trials = [trial for trial in map(question.trial, usable) if trial is not None]
    best = min(trials, key=lambda trial: trial.rank, default=None)
    notes = _other_media(question, box)
    case = Case(standard=standard, shelf=shelf, buy=question.buy, notes=notes)
    if best is not None and best.verdict == Verdict.CHECK_FORM and best.paint is None:
        return misread(best, case), ()
    if best is not None and best.verdict in FILLED and best.paint is not None:
        forms = open_forms(best.tube) if best.verdict == Verdict.CHECK_FORM else ()
        paints = (best.paint, *map(shelf.pigment, forms))
        have = _together(best, trials)
        best = replace(best, small=not enough(have, standard.slot.min_ml))
        short = for_what_is_short(question.buy, standard.slot, have or 0.0)
        return filled(best, replace(case, buy=short, short=True) if best.small else case), paints
    case = replace(case, passed=passed_over(standard, usable, shelf))
    made = _mixture(standard, usable, shelf)
    mixture = (made[1],) if made is not None else ()
    if best is not None and best.verdict == Verdict.MISSING:
        # An honest hue paint is no wrong pigment, but it does not do the slot's work.
        notes = (*honest_reasons(best, case), *notes)
        case = replace(case, notes=notes, unfit=not hue_words(best.tube))
        mixture = mixture or ((best.paint,) if best.paint is not None else ())
    elif best is not None:
        # Who is not told in time will use it, and the teacher should know what comes of it.
        alone = (best.paint,) if best.paint is not None else ()
        return misnamed(best, case, made), mixture or alone
    if made is not None:
        return only_mixed(made, case), mixture
    return missing(case), mixture


def _other_media(question: _Question, box: Box) -> tuple[str, ...]:
    """Tubes of the box that would be asked for, were they of the list's medium."""
    slot = question.standard.slot
    return tuple(
        f"{tube.title} is {tube.medium}; the list asks for {slot.medium}, and they do not mix; in "
        f"layers {listing(of_media((slot.medium, tube.medium)))}"
        for tube in box.tubes
        if not usable_medium(tube, slot)
        and (promises(tube, question.standard, question.names) or question.standard.accepts(tube))
    )


def _together(best: Trial, trials: list[Trial]) -> float | None:
    """Millilitres of the best tube and of those like it; None where one does not say its size."""
    alike = [t for t in trials if (t.verdict, t.identity) == (best.verdict, best.identity)]
    return together(trial.tube for trial in alike)


def _mixture(standard: Standard, tubes: list[Tube], shelf: Shelf) -> Mixed | None:
    """A mixture from the box that does the slot's work, in every situation of the lesson."""
    known = [paint for paint in map(shelf.tube, tubes) if paint is not None]
    paints = [
        paint
        for paint in known
        if standard.fit(paint.refs).accepted and not fails(standard.handling, paint.refs)
    ]
    # What lasts comes before what fades or is toxic.
    lasts = [
        paint
        for paint in paints
        if lasting(standard.fit(paint.refs).category) and not is_toxic(paint.refs)
    ]
    # Transparent is mixed from transparent where that goes.
    clear = opacity_of(standard.paint.refs) in CLEAR
    alike = [paint for paint in lasts if opacity_of(paint.refs) in CLEAR] if clear else []
    pools = [pool for pool in (alike, lasts) if 1 < len(pool) < len(paints)]
    pools = [pool for n, pool in enumerate(pools) if n == 0 or len(pool) > len(pools[0])]
    pools.append(paints)
    tried = (
        offer(standard.paint, pool, standard.setting, standard.companies, limit=STANDS_IN)
        for pool in pools
    )
    return next((made for made in tried if made is not None), None)
