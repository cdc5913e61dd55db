"""What is said of one slot at one seat: the verdict, the reasons, and what to do."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.identity import FORM, SAME, contents_of_tube, vague
from tubewise.advice.alike.judgement import TOO_CLOSE
from tubewise.advice.alike.strength import parts_words
from tubewise.advice.classroom.candidate import Candidate
from tubewise.advice.classroom.shopping import Buy
from tubewise.advice.classroom.standard import Standard
from tubewise.advice.classroom.verdicts import CHECK_FORM, MISSING, MIX, RIGHT, STAND_IN, WRONG
from tubewise.advice.recipes.offer import Offer
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.patch import Colour
from tubewise.paints.appearance import WHITE, lab_alone
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import Strip, strip
from tubewise.pigments.permanence import cautions
from tubewise.pigments.pigment import Caution
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True)
class SlotVerdict:
    """One slot at one seat: the verdict, the tube it is about, why, and what to do.

    `decided_by`: "behaviour", or "both" where pigments and behaviour say the same; "label" where
    the label alone was to go by. `cautions` are those of the tube's own pigments, dust apart.
    """

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
    decided_by: str
    cautions: tuple[Caution, ...]
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
    decided_by: str = "behaviour",
) -> SlotVerdict:
    """The verdict with the colours, strips and cautions that go with it."""
    white = shelf.pigment(WHITE)
    refs = paint.refs if paint else ()
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
        decided_by,
        tuple(c for c in cautions(refs) if c.kind not in ("dust", "general")),
        Colour.of(lab_alone(standard.paint)[0]),
        Colour.of(lab_alone(paint)[0]) if paint else None,
        standard.strip,
        strip(paint, white) if paint else None,
    )


def _asks(standard: Standard) -> str:
    return " or ".join(" + ".join(sorted(refs)) for refs in standard.slot.accept)


def _buying(buy: Buy | None, standard: Standard) -> str:
    if buy is None:
        return f"ask any shop for {_asks(standard)}; the catalogue has none in stock"
    count = f"{buy.count} of " if buy.count > 1 else ""
    shop = f" at {buy.shop}" if buy.shop else ""
    facts = pigments_text(buy.pigments), size_text(buy.size_ml), price_text(buy.price, buy.currency)
    return f"buy {count}{buy.title} ({', '.join(filter(None, facts))}){shop}"


def with_tube(
    best: Candidate, standard: Standard, shelf: Shelf, notes: tuple[str, ...], buy: Buy | None
) -> SlotVerdict:
    """A tube that will do, or would once its form is known."""
    tube, slot, judged = best.tube, standard.slot, best.judged
    assert judged is not None
    reasons = list(judged.reasons)
    if best.small:
        reasons.append(
            f"{size_text(tube.size_ml)}, and the list asks for {size_text(slot.min_ml)}: "
            "it may run out"
        )
    strength = parts_words(best.factor)
    if best.verdict == RIGHT:
        do = f"use it; it is {strength}" if strength else "use it"
        if best.same == FORM:
            reasons.insert(0, "the label leaves the form open, but the swatch shows it")
    elif best.verdict == CHECK_FORM and best.same == SAME:
        reasons.insert(0, "its label and its swatch contradict each other: one of them is wrong")
        do = f"paint a swatch and look: if it is not {slot.slot}, {_buying(buy, standard)}"
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
        judged.decided_by,
    )


def open_forms(tube: Tube) -> tuple[Ref, ...]:
    """The refs that a tube's only vague code may turn out to be; none where its label is clear."""
    register = load()
    for content in contents_of_tube(tube):
        pigment = register.get(content.code)
        if pigment is None or not vague(content):
            continue
        if pigment.needs == "suffix":
            return tuple(Ref(p.code) for p in register.suffixed(pigment.code))
        return pigment.refs
    return ()


def _forms_apart(best: Candidate, standard: Standard, shelf: Shelf) -> list[str]:
    """What a code without its form may turn out to be, form by form."""
    options = open_forms(best.tube)
    codes = ", ".join(c.code for c in contents_of_tube(best.tube) if vague(c))
    said = [f"the label says {codes} and not which: {', '.join(options)}"]
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
    said = " ".join(w.message for w in best.tube.reading.warnings if w.suggestions)
    if said:
        do = f"look at the tube again: {said} Otherwise {_buying(buy, standard)}"
        reason = f"its label reads “{best.tube.label.strip()[:80]}”, which may be a slip"
    else:
        do = (
            "look for a pigment code on the back of the tube or in the maker's chart; without "
            f"one, {_buying(buy, standard)}"
        )
        reason = f"{best.tube.title} declares no pigments, so its name is all there is to go by"
    return _said(
        standard,
        shelf,
        CHECK_FORM,
        best.tube,
        do,
        (reason, *notes),
        None,
        None,
        buy,
        "low",
        True,
        "label",
    )


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
    assert judged is not None
    reasons = [
        f"the name promises {_asks(standard)}; the tube holds {pigments_text(tube.pigments)}",
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
        judged.confidence,
        judged.close_call,
        judged.decided_by,
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
