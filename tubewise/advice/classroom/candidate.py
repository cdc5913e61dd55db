"""How one tube of a box does in one slot of a supply list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.identity import FORM, SAME, UNKNOWN, accepted, contents_of_tube, vague
from tubewise.advice.alike.judgement import Judgement, judge
from tubewise.advice.alike.names import HUE_KINDS, plain_name
from tubewise.advice.classroom.shopping import enough
from tubewise.advice.classroom.standard import Standard
from tubewise.advice.classroom.verdicts import CHECK_FORM, RIGHT, STAND_IN, VERDICTS, WRONG
from tubewise.advice.words.thresholds import CLOSE, STANDS_IN
from tubewise.colour.difference import delta_e_2000
from tubewise.paints.appearance import lab_alone
from tubewise.paints.paint import MEASURED, Paint
from tubewise.paints.shelf import Shelf, settled_form
from tubewise.pigments.register import load
from tubewise.tubes.supply import Slot
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, eq=False)
class Candidate:
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


def names_asked(asked: Sequence[Standard], catalogue: Sequence[Tube]) -> dict[Slot, set[str]]:
    """For each slot, the names under which what it asks for is sold."""
    names: dict[Slot, set[str]] = {}
    for standard in asked:
        own = {plain_name(standard.slot.slot)}
        for tube in catalogue:
            has = contents_of_tube(tube)
            # A label that contradicts its own name teaches no names.
            if any(w.kind in ("hue-disagrees", *HUE_KINDS) for w in tube.reading.warnings):
                continue
            if has and any(accepted(sorted(r), has) == SAME for r in standard.slot.accept):
                own.add(plain_name(tube.name))
        names[standard.slot] = own
    return names


def promises(tube: Tube, standard: Standard, names: set[str]) -> bool:
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
    return {next(iter(r)).code for r in standard.slot.accept if len(r) == 1}


def candidate(tube: Tube, standard: Standard, shelf: Shelf, names: set[str]) -> Candidate | None:
    """How one tube does in one slot, or None when it has no business there."""
    slot = standard.slot
    has = contents_of_tube(tube)
    paint = shelf.tube(tube)
    named = promises(tube, standard, names)
    small = not enough(tube, slot)
    if paint is None:
        likely = {s for w in tube.reading.warnings for s in w.suggestions}
        if likely & _single_codes(standard):
            return Candidate(
                tube, CHECK_FORM, None, UNKNOWN, None, standard.paint, 1.0, float("inf"), small
            )
        if not named:
            return None
        # Nothing is known to be wrong with it, only that its name is all there is.
        return Candidate(
            tube, CHECK_FORM, None, UNKNOWN, None, standard.paint, 1.0, float("inf"), small
        )
    best: Candidate | None = None
    for refs, reference in zip(slot.accept, standard.accepted_paints, strict=True):
        same = accepted(sorted(refs), has)
        if same not in (SAME, FORM) and not named and _elsewhere(reference, paint):
            continue
        behaviour = compare_behaviour(reference, paint, shelf, standard.companies)
        judged = judge(same, reference, paint, behaviour)
        settled = settled_form(tube) is not None or paint.basis == MEASURED
        seen = tube.swatch_lab is not None or paint.basis == MEASURED
        if same == SAME:
            # A label is believed until what was seen of the paint speaks against it.
            spoken = paint.contradicted or (seen and not judged.does)
            verdict = CHECK_FORM if spoken else RIGHT
        elif same == FORM and any(c.assumed for c in has):
            near = behaviour.worst.delta_e00 <= CLOSE
            # A measured swatch can settle which form it is; a label without one cannot.
            verdict = RIGHT if settled and near else CHECK_FORM
        elif same == FORM and any(vague(c) for c in has):
            verdict = CHECK_FORM
        elif judged.does:
            verdict = STAND_IN
        elif named:
            verdict = WRONG
        else:
            continue
        one = Candidate(
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
