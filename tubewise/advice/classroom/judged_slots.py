"""The verdicts in words: a tube fills a slot, only seems to, a mixture does, or nothing."""

from __future__ import annotations

from tubewise.advice.alike.character import other_character
from tubewise.advice.alike.identity import FORM, SAME
from tubewise.advice.alike.judgement import CODE_ALONE, TOO_CLOSE, Judgement
from tubewise.advice.alike.strength import parts_words
from tubewise.advice.binder import mixes
from tubewise.advice.classroom.open_forms import form_words
from tubewise.advice.classroom.slot_verdict import Case, SlotVerdict, Sure
from tubewise.advice.classroom.trial import Trial, contradiction, hue_words
from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.recipes.offer import Offer
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.size import size_text
from tubewise.labels.phrasing import either, listing
from tubewise.paints.paint import Paint
from tubewise.tubes.sets import is_set
from tubewise.tubes.supply import Slot

Mixed = tuple[Offer, Paint]


def filled(trial: Trial, case: Case) -> SlotVerdict:
    """A tube that will do, or would once its form is known."""
    judgement, slot = _judgement(trial), case.standard.slot
    say = {Verdict.RIGHT: _right, Verdict.CHECK_FORM: _to_check}.get(trial.verdict, _stand_in)
    do, reasons = say(trial, case)
    reasons = (*reasons, *_of_another_medium(trial, slot))
    if trial.small:
        size, least = size_text(trial.tube.size_ml), size_text(slot.min_ml)
        reasons = (*reasons, f"{size}, and the list asks for {least}: it may run out")
        if case.buy is not None:
            do = f"{do}; to have enough, {case.buying}"
    unsure = trial.verdict == Verdict.CHECK_FORM or (
        trial.verdict == Verdict.STAND_IN and judgement.close_call
    )
    return case.closed(
        trial.verdict,
        do=do,
        reasons=reasons,
        sure=_sure(judgement),
        tube=trial.tube,
        paint=trial.paint,
        buys=unsure or trial.small,
    )


def _of_another_medium(trial: Trial, slot: Slot) -> tuple[str, ...]:
    """What to know of a tube whose medium mixes with the one asked for and is another."""
    if not trial.tube.medium or not slot.medium:
        return ()
    rule = mixes(trial.tube.medium, slot.medium)
    if rule.a == rule.b:
        return ()
    return (f"it is {rule.a}, which mixes with {rule.b}: {rule.why}",)


def _right(trial: Trial, case: Case) -> tuple[str, tuple[str, ...]]:
    strength = _strength(trial)
    # The label is believed here, however the paint behaves.
    reasons = tuple(r for r in _judgement(trial).reasons if r != CODE_ALONE)
    if trial.identity == FORM:
        reasons = ("the label leaves the form open, but the swatch shows it", *reasons)
    return f"use it; it is {strength}" if strength else "use it", reasons


def _to_check(trial: Trial, case: Case) -> tuple[str, tuple[str, ...]]:
    slot, reasons = case.standard.slot, _judgement(trial).reasons
    if trial.identity == SAME:
        doubt = contradiction(trial)
        do = f"paint a swatch and look: if it is not {slot.slot}, {case.buying}"
        return do, (doubt, *reasons)
    forms = sorted({ref for refs in slot.accept for ref in refs})
    swatch = "pale wash" if case.standard.setting.in_washes else "swatch in white"
    do = (
        f"look for {either(forms)} on the tube or in the maker's chart, or paint a {swatch} beside "
        "another student's"
    )
    return do, (*form_words(trial, case.standard, case.shelf), CODE_ALONE)


def _stand_in(trial: Trial, case: Case) -> tuple[str, tuple[str, ...]]:
    judgement, strength = _judgement(trial), _strength(trial)
    do = f"use it for {case.standard.slot.slot}" + (f"; it is {strength}" if strength else "")
    if judgement.close_call:
        do = f"{TOO_CLOSE} before class; if it differs, {case.buying}"
    other = f"of another character: it {listing(trial.character)}" if trial.character else ""
    return do, (*judgement.reasons, *filter(None, (other,)))


def misread(trial: Trial, case: Case) -> SlotVerdict:
    """A label that cannot be read as it stands, but may well mean what the slot asks."""
    tube = trial.tube
    slips = " ".join(w.message for w in tube.reading.warnings if w.suggestions)
    if is_set(tube):
        reason = f"{tube.title} is a set, and what lies in it is not known"
        do = f"look whether the set holds {case.asks}; without it, {case.buying}"
    elif slips:
        reason = f"its label reads “{tube.label.strip()[:80]}”, which may be a slip"
        do = f"look at the tube again: {slips} Otherwise {case.buying}"
    else:
        reason = f"{tube.title} declares no pigments, so its name is all there is to go by"
        reason += f" ({tube.doubt})" if tube.doubt else ""
        do = (
            "look for a pigment code on the back of the tube or in the maker's chart; without "
            f"one, {case.buying}"
        )
    return case.closed(
        Verdict.CHECK_FORM,
        do=do,
        reasons=(reason,),
        sure=Sure(confidence="low", close_call=True, decided_by="label"),
        tube=tube,
    )


def misnamed(trial: Trial, case: Case, made: Mixed | None) -> SlotVerdict:
    """A tube whose name promises what it does not hold; with a mixture instead, where one does."""
    judgement = _judgement(trial)
    contents = pigments_text(trial.tube.pigments)
    do = f"don't count on it: {case.buying}"
    reasons = (f"the name promises {case.asks}; the tube holds {contents}", *judgement.reasons)
    fit = case.standard.fit(trial.paint.refs if trial.paint else ())
    if not fit.accepted:
        reasons = (fit.refused, *reasons[1:])
    if made is not None:
        offer = made[0]
        heed = case.standard.fit(made[1].refs).line
        reasons = (*reasons, *([heed] if heed else []))
        do = f"don't use it as {case.standard.slot.slot}; mix it instead: {offer.words}"
        reasons = (*reasons, *offer.reasons)
    return case.closed(
        Verdict.WRONG,
        do=do,
        reasons=reasons,
        sure=_sure(judgement),
        tube=trial.tube,
        paint=trial.paint,
        recipe=made[0] if made else None,
    )


def honest_reasons(trial: Trial, case: Case) -> tuple[str, ...]:
    """Why a tube that lies about nothing does not serve: it does not last, or is a hue paint."""
    fit = case.standard.fit(trial.paint.refs if trial.paint else ())
    if not hue_words(trial.tube):
        return (f"{trial.tube.title}: {fit.refused}",) if fit.refused else ()
    says = f"{trial.tube.title}: {hue_words(trial.tube)}"
    if trial.behaviour is None:
        return (says,)
    worst = trial.behaviour.worst
    return says, f"for {trial.reference.name} it differs most {worst.situation}: {worst.words}"


def mixed_up(made: Mixed, case: Case) -> SlotVerdict:
    """No tube will do, but a mixture of the box's tubes does."""
    offer, blend = made
    reason = f"no tube in the box holds {case.asks}, but its tubes mix to it"
    if case.unfit:
        reason = "the right tube does not serve, but the box's tubes mix to it"
    return case.closed(
        Verdict.MIX,
        do=f"mix it: {offer.words}",
        reasons=(reason, *offer.reasons, *_mixed_character(blend, case)),
        sure=Sure(confidence=offer.confidence, close_call=offer.close_call),
        paint=blend,
        recipe=offer,
    )


def _mixed_character(blend: Paint, case: Case) -> tuple[str, ...]:
    """What a mixture does otherwise than the paint that is asked for."""
    slot = case.standard.slot
    other = other_character(case.standard.paint.refs, blend.refs, slot.medium)
    return (f"of another character: it {listing(other)}",) if other else ()


def missing(case: Case) -> SlotVerdict:
    """Nothing in the box will do, alone or mixed."""
    medium = case.standard.slot.medium
    # Where a tube of another medium holds it, "nothing" would sound as if the box were empty.
    what = f"no {medium} paint" if medium and case.notes else "nothing"
    what += " else" if case.passed else ""
    reason = f"{what} in the box holds {case.asks}, behaves like it or mixes to it"
    return case.closed(
        Verdict.MISSING,
        do=case.buying,
        reasons=() if case.unfit else (reason,),
        sure=Sure(confidence="high", close_call=False),
    )


def _judgement(trial: Trial) -> Judgement:
    assert trial.judgement is not None
    return trial.judgement


def _strength(trial: Trial) -> str:
    return parts_words(trial.behaviour.factor) if trial.behaviour else ""


def _sure(judgement: Judgement) -> Sure:
    return Sure(
        confidence=judgement.confidence,
        close_call=judgement.close_call,
        decided_by=judgement.decided_by,
    )
