"""What is said of one slot at one seat: the verdict, the reasons, and what to do."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.advice.behaviour import WHITE, compare_behaviour, lab_alone
from tubewise.advice.candidate import Candidate
from tubewise.advice.identity import FORM, contents_of_tube
from tubewise.advice.judgement import TOO_CLOSE, parts_words
from tubewise.advice.paint import Paint
from tubewise.advice.recipe import Offer
from tubewise.advice.shelf import Shelf
from tubewise.advice.shopping import Buy
from tubewise.advice.standard import Standard
from tubewise.advice.strip import Strip, strip
from tubewise.advice.swatch import Colour
from tubewise.advice.thresholds import CLOSE
from tubewise.advice.verdicts import CHECK_FORM, MISSING, MIX, RIGHT, STAND_IN, WRONG
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube


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


def with_tube(
    best: Candidate, standard: Standard, shelf: Shelf, notes: tuple[str, ...], buy: Buy | None
) -> SlotVerdict:
    """A tube that will do, or would once its form is known."""
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


def _forms_apart(best: Candidate, standard: Standard, shelf: Shelf) -> list[str]:
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


def misread(
    best: Candidate, standard: Standard, shelf: Shelf, notes: tuple[str, ...], buy: Buy | None
) -> SlotVerdict:
    """A label that cannot be read as it stands, but may well mean what the slot asks."""
    said = tuple(w.message for w in best.tube.reading.warnings if w.suggestions)
    do = f"look at the tube again: {' '.join(said)} Otherwise {_buying(buy, standard)}"
    reasons = (f"its label reads “{best.tube.label.strip()[:80]}”, which may be a slip", *notes)
    return _said(standard, shelf, CHECK_FORM, best.tube, do, reasons, None, None, buy, "low", True)


def misnamed(
    best: Candidate,
    standard: Standard,
    shelf: Shelf,
    notes: tuple[str, ...],
    made: tuple[Offer, Paint] | None,
    buy: Buy | None,
) -> SlotVerdict:
    """A tube whose name promises what it does not hold; with a mixture instead, where one does."""
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


def mixed_up(
    made: tuple[Offer, Paint],
    standard: Standard,
    shelf: Shelf,
    notes: tuple[str, ...],
    buy: Buy | None,
) -> SlotVerdict:
    """No tube will do, but a mixture of the box's tubes does."""
    offered, blend = made
    reasons = (
        f"no tube in the box holds {_asks(standard)}, but its tubes mix to it",
        *offered.reasons,
        *notes,
    )
    do = f"mix it: {offered.words}"
    sure, close_call = offered.confidence, offered.close_call
    return _said(standard, shelf, MIX, None, do, reasons, blend, offered, buy, sure, close_call)


def missing(
    standard: Standard, shelf: Shelf, notes: tuple[str, ...], buy: Buy | None
) -> SlotVerdict:
    """Nothing in the box will do, alone or mixed."""
    reasons = (
        f"nothing in the box holds {_asks(standard)}, behaves like it or mixes to it",
        *notes,
    )
    do = _buying(buy, standard)
    return _said(standard, shelf, MISSING, None, do, reasons, None, None, buy, "high", False)
