"""The verdict on one paint for another: yes, yes but you will see it, or no; and why."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from tubewise.advice.alike.behaviour import Comparison, called
from tubewise.advice.alike.difference import Difference
from tubewise.advice.alike.identity import DIFFERENT, FORM, SAME, SHARED
from tubewise.advice.alike.strength import amount_words, parts_words
from tubewise.advice.words.thresholds import CLOSE, MOST_PARTS, SWATCH_WORTH, UNNOTICED
from tubewise.advice.words.thresholds import SAME as SAME_TO_THE_EYE
from tubewise.colour.words import seen_words
from tubewise.labels.phrasing import listing
from tubewise.paints.paint import GUESS, Paint
from tubewise.pigments.permanence import NOT_RATED, lasting, lightfastness
from tubewise.pigments.trust import Confidence, least_sure

# Where the chance of another colour is larger than this, and not nearly certain, confidence is low.
UNSURE = 0.3

# The three steps of a verdict; the middle one is also said of what may be seen.
YES = "yes"
SEEN = "yes, but you will see it"
MAY_BE_SEEN = "yes, but you may see it"
NO = "no"
DecidedBy = Literal["behaviour", "both", "binder"]
CODE_ALONE = "what decides is how it behaves: the code alone does not settle it"
TOO_CLOSE = "too close to call: make a swatch"

# Over black, a paint that hides more looks lighter by so much L*; by so much it hides far more.
# common practice, no source.
HIDES_FROM = 3.0
HIDES_FAR_FROM = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """How alike two paints are: `step` is one of the verdict's, `verdict` says it with reasons.

    `does` says whether one may take the place of the other; `decided_by` is "behaviour" or, where
    pigments and behaviour say the same, "both"; `close_call` when only a swatch can tell.
    """

    step: str
    verdict: str
    does: bool
    decided_by: DecidedBy
    close_call: bool
    confidence: Confidence
    reasons: tuple[str, ...]


def judge(same: str, a: Paint, b: Paint, seen: Comparison) -> Judgement:
    """Whether `b` may take the place of `a`: in no situation another colour, and not far weaker.

    A white must also hide as well; of the same pigment, less hiding is only less pigment.
    """
    does = takes_its_place(
        same,
        another=any(d.another for d in seen.deciding),
        another_colour=any(d.another for d in _colours(seen)),
        factor=seen.factor,
    )
    spans = seen.worst_low < CLOSE <= seen.worst_high
    judged = _judged(same, a, b, seen, does, seen.worst_risk_of_no, spans)
    return judged if does else replace(judged, reasons=(*judged.reasons, *_fails(same, seen)))


def takes_its_place(same: str, *, another: bool, another_colour: bool, factor: float) -> bool:
    """Whether a paint may take the place of another: the rule of `judge`.

    `another` says that it is another colour in a situation that decides, `another_colour` the same
    but for hiding; `factor` parts of it do the work of one.
    """
    return not (another_colour if same == SAME else another) and factor <= MOST_PARTS


def judge_in_use(same: str, a: Paint, b: Paint, seen: Comparison) -> Judgement:
    """Whether `b` does the work of `a` on the whole: alone, thin, in tints and in mixtures."""
    does = seen.in_use < CLOSE
    spans = seen.in_use_low < CLOSE <= seen.in_use_high
    return _judged(same, a, b, seen, does, seen.risk_of_no, spans)


def _judged(
    same: str,
    a: Paint,
    b: Paint,
    seen: Comparison,
    does: bool,
    risk_of_no: float,
    spans: bool,
) -> Judgement:
    guess = any(GUESS in note for note in (*a.notes, *b.notes))
    risk = seen.risk_of_yes if does else risk_of_no
    # One pigment on both labels, and nothing seen against it: only where nobody knows the parts
    # of a mixture is the label not enough. There a swatch is worth it as soon as the interval
    # spans the line.
    settled = same == SAME and does and not guess
    close_call = not settled and (risk > SWATCH_WORTH or (guess and spans))
    step = step_of(same, seen)
    decided, why = _decided(same, does, step)
    reasons = [*_identity(same, a, b), *_strength(a, b, seen), _behaviour(seen), *hiding(seen)]
    reasons += [why] if why else []
    chance = seen.in_use_another
    torn = not settled and does == (step != NO) and UNSURE < chance < 1.0 - UNSURE
    if close_call:
        reasons.append(too_close(seen.deciding_swatch))
    elif torn:
        reasons.append(_odds(chance, seen.deciding_swatch))
    unsure = close_call or torn
    return Judgement(
        step=step,
        verdict=verdict_words(step, a, b, seen),
        does=does,
        decided_by=decided,
        close_call=close_call,
        confidence="low" if unsure else least_sure(a.confidence, b.confidence),
        reasons=tuple(reasons),
    )


def step_of(same: str, seen: Comparison) -> str:
    """Yes where nobody would see it in use, no where it is another colour in use, else between.

    A yes also takes that what is uncertain is not expected to show, or one pigment on both labels.
    """
    if seen.in_use >= CLOSE:
        return NO
    if max(d.delta_e00 for d in _colours(seen)) >= UNNOTICED:
        return SEEN
    return YES if same == SAME or seen.in_use_expected < UNNOTICED else MAY_BE_SEEN


def verdict_words(step: str, a: Paint, b: Paint, seen: Comparison) -> str:
    """The step with what goes with it: where, how much to take, hiding, permanence."""
    name = called(a, b)[1]
    worst = max(_colours(seen), key=lambda d: d.delta_e00)
    if step == YES:
        same = worst.delta_e00 < SAME_TO_THE_EYE
        words = [f"{YES}: " + (seen_words(0.0) if same else "a difference shows only side by side")]
    elif step == MAY_BE_SEEN:
        words = [f"{MAY_BE_SEEN}: as far as is known, {seen_words(worst.delta_e00)}"]
    else:
        words = [f"{step}: {_place(worst)} {_change(worst)}", *_elsewhere(step, worst, seen)]
        name = "it"
    hides = _hides(seen)
    if hides:
        words.append(f"{name} {hides}")
        name = "it"
    amount = amount_words(seen.factor, name)
    return "; ".join((*words, *([amount] if amount else []), *_fades(a, b)))


def _colours(seen: Comparison) -> list[Difference]:
    """The situations in which colour decides: hiding is said apart."""
    return [d for d in seen.deciding if d is not seen.over_black]


# What is said as it is; a lesson's mixtures have names.
_PLAIN = ("alone", "thin ", "with ", "in a ")


def _place(d: Difference) -> str:
    if d.situation.startswith("tint"):
        return f"in a {d.situation}"
    # A lesson's mixtures have names: in Rowan berries.
    plain = d.situation.startswith(_PLAIN) or " with " in d.situation
    return d.situation if plain else f"in {d.situation}"


def _places(found: list[Difference], seen: Comparison) -> list[str]:
    """Where these differences lie, the tints in one where all of them are there."""
    tints = [d for d in found if d in seen.tints]
    if len(tints) < len(seen.tints):
        return [_place(d) for d in found]
    return [_tints(seen), *(_place(d) for d in found if d not in seen.tints)]


def _tints(seen: Comparison) -> str:
    """Where all the tints are: in watercolour there is one, a pale wash."""
    return "in tints" if len(seen.tints) > 1 else _place(seen.tints[0])


def _change(d: Difference) -> str:
    return f"{d.subject} is " + ("another colour, " if d.another else "") + d.directions


def _elsewhere(step: str, worst: Difference, seen: Comparison) -> list[str]:
    """Where else it is another colour, or where it is none."""
    if step == SEEN:
        more = _places([d for d in _colours(seen) if d.another and d is not worst], seen)
        return ["another colour also " + listing(more)] if more else []
    alone = () if seen.deep else (seen.masstone,)
    thin = () if seen.undertone is None else (seen.undertone,)
    uses = {
        **{_place(d): (d,) for d in alone},
        **{d.situation.removesuffix(" over white"): (d,) for d in thin},
        _tints(seen): seen.tints,
        "in mixtures": seen.mixes,
    }
    near = {
        use: max(d.delta_e00 for d in ds)
        for use, ds in uses.items()
        if ds and not any(d.another for d in ds)
    }
    return [f"{listing(list(near))} {seen_words(max(near.values()))}"] if near else []


def _hides(seen: Comparison) -> str:
    """Whether the second hides more or less: `hides far less`; "" where as well."""
    d = seen.over_black
    least = UNNOTICED if seen.white else CLOSE
    if d is None or d.delta_e00 < least or abs(d.lightness_shift) < HIDES_FROM:
        return ""
    far = "far " if abs(d.lightness_shift) >= HIDES_FAR_FROM else ""
    return f"hides {far}{'less' if d.lightness_shift < 0.0 else 'more'}"


def _fades(a: Paint, b: Paint) -> list[str]:
    """The one of the two that does not last, where the other does."""
    rated = [lightfastness(p.refs, p.tube.medium if p.tube is not None else "") for p in (a, b)]
    lasts = [lasting(category) for category in rated]
    if lasts[0] == lasts[1]:
        return []
    at = lasts.index(False)
    if rated[at] == NOT_RATED:
        return []
    how = rated[at] if rated[at] == "fugitive" else f"lightfastness {rated[at]}"
    return [f"{called(a, b)[at]} does not last ({how})"]


def _identity(same: str, a: Paint, b: Paint) -> list[str]:
    has_a, has_b = ", ".join(a.pigments), ", ".join(b.pigments)
    return {
        SAME: [f"the same pigments: {has_b}"],
        FORM: [
            f"the same code, but it covers forms of different colour: {has_a} against {has_b}",
        ],
        SHARED: [f"only some pigments are shared: {has_a} against {has_b}"],
        DIFFERENT: [f"other pigments: {has_b} for {has_a}"],
    }.get(same, [])


def _strength(a: Paint, b: Paint, seen: Comparison) -> list[str]:
    strength = parts_words(seen.factor)
    if not strength:
        return []
    grades = {p.tube.grade for p in (a, b) if p.tube is not None}
    why = " (student grade: less pigment, more extender)" if "student" in grades else ""
    return [f"{b.name} is {strength}{why}"]


def _behaviour(seen: Comparison) -> str:
    worst = max(_colours(seen), key=lambda d: d.delta_e00)
    if worst.delta_e00 < SAME_TO_THE_EYE:
        return (
            f"{listing([use.use for use in seen.uses])} they look the same (CIEDE2000 "
            f"{worst.delta_e00:.1f} at most)"
        )
    where = f"{_place(worst)} ({worst.parts})" if worst.parts else _place(worst)
    return f"they differ most {where}: {worst.words} (CIEDE2000 {worst.delta_e00:.1f})"


def _fails(same: str, seen: Comparison) -> list[str]:
    """Why what does the work on the whole may not take the place: where it is another colour."""
    if step_of(same, seen) == NO:
        return []
    where = _places([d for d in _colours(seen) if d.another], seen)
    words = [f"it would do elsewhere, but not {listing(where)}"] if where else []
    if seen.factor > MOST_PARTS:
        words.append("it is too weak to take its place")
    return words


def _decided(same: str, does: bool, step: str) -> tuple[DecidedBy, str]:
    """What decided, and how to say so; "" where it is said another way."""
    if same == SAME and does:
        return "both", "its pigments and its behaviour agree"
    if same in (SAME, FORM):
        return "behaviour", CODE_ALONE
    if does:
        return "behaviour", "what decides is how it behaves, not the code"
    neither = "neither its pigments nor its behaviour are what is asked"
    return "both", neither if step == NO else ""


def hiding(seen: Comparison) -> list[str]:
    """What to say where two paints differ over a dark ground."""
    words, d = _hides(seen), seen.over_black
    if d is None or not words:
        return []
    return [f"{d.subject} {words}: over black it is {d.directions}"]


def _odds(chance: float, swatch: str) -> str:
    """The chance of another colour where it is not clear, and the daub that would tell."""
    tells = f"; the daub that would tell most: {swatch}" if swatch else ""
    return (
        f"a close thing: {10.0 * chance:.0f} in 10, as far as is known, that it is another colour "
        f"in use{tells}"
    )


def too_close(swatch: str) -> str:
    """What to say when only a swatch can tell: that, and which daub would settle it."""
    return f"{TOO_CLOSE}; the daub that would tell most: {swatch}" if swatch else TOO_CLOSE
