"""The verdict on one paint for another: what decided it, and how sure it is."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.advice.alike.behaviour import Comparison
from tubewise.advice.alike.identity import DIFFERENT, FORM, SAME, SHARED
from tubewise.advice.words.thresholds import CLOSE, STANDS_IN, UNSEEN
from tubewise.paints.paint import GUESS, Paint, least_sure

# Beyond this a factor is at the edge of what is looked for (behaviour.FACTORS).
MOST_PARTS = 5.5
TOO_CLOSE = "too close to call: make a swatch"


@dataclass(frozen=True, slots=True)
class Judgement:
    """`verdict` in words; `does` whether one may take the place of the other; `decided_by` is
    "behaviour" or, where pigments and behaviour say the same, "both"; `close_call` when the
    uncertainty spans the line."""

    verdict: str
    does: bool
    decided_by: str
    close_call: bool
    confidence: str
    reasons: tuple[str, ...]


def hiding(seen: Comparison) -> list[str]:
    """What to say where two paints differ over a dark ground; a white's hiding is judged itself."""
    if seen.over_black.delta_e00 <= CLOSE or seen.white:
        return []
    how = "less" if seen.over_black.lightness_shift < 0.0 else "more"
    return [f"over a dark ground it hides {how}: {seen.over_black.words}"]


def too_close(swatch: str) -> str:
    """What to say when the uncertainty spans the line: that, and which swatch would decide it."""
    return f"{TOO_CLOSE}; the one that would tell most: {swatch}" if swatch else TOO_CLOSE


def parts_words(factor: float) -> str:
    """A strength factor as a painter says it, or "" when the two pull alike."""
    if factor > MOST_PARTS:
        return f"far weaker: even {MOST_PARTS:g} parts do not do the work of 1"
    if factor < 1.0 / MOST_PARTS:
        return f"far stronger: 1 part does the work of more than {MOST_PARTS:g}"
    if factor > 1.2:
        return f"weaker: about {_handy(factor)} parts do the work of 1"
    if factor < 1.0 / 1.2:
        return f"stronger: 1 part does the work of about {_handy(1.0 / factor)}"
    return ""


def _handy(factor: float) -> str:
    half = round(2.0 * factor) / 2.0
    return f"{half:g}" if half > 1.0 else f"{factor:.1f}"


def judge(same: str, a: Paint, b: Paint, seen: Comparison, limit: float = STANDS_IN) -> Judgement:
    """Weigh identity and behaviour of `b` against `a`; up to `limit` CIEDE2000 it will do."""
    worst = seen.worst
    where = f"{worst.situation} ({worst.parts})" if worst.parts else worst.situation
    reasons: list[str] = []
    does = worst.delta_e00 <= limit
    if same == SAME:
        reasons.append("the same pigments: " + ", ".join(b.pigments))
    elif same == FORM:
        reasons.append(
            "the same code, but it covers forms of different colour: "
            + ", ".join(a.pigments)
            + " against "
            + ", ".join(b.pigments)
        )
    elif same == SHARED:
        reasons.append(
            "only some pigments are shared: "
            + ", ".join(a.pigments)
            + " against "
            + ", ".join(b.pigments)
        )
    elif same == DIFFERENT:
        reasons.append("other pigments: " + ", ".join(b.pigments) + " for " + ", ".join(a.pigments))
    strength = parts_words(seen.factor)
    if strength:
        grades = {p.tube.grade for p in (a, b) if p.tube is not None}
        why = " (student grade: less pigment, more extender)" if "student" in grades else ""
        reasons.append(f"{b.name} is {strength}{why}")
    if worst.delta_e00 < 1.0:
        reasons.append(
            f"alone, thin, tinted and mixed they look the same (CIEDE2000 {worst.delta_e00:.1f} "
            "at most)"
        )
    else:
        reasons.append(f"they differ most {where}: {worst.words} (CIEDE2000 {worst.delta_e00:.1f})")
    close_call = seen.worst_low <= limit < seen.worst_high
    if worst.delta_e00 < UNSEEN:
        verdict = "one for the other, anywhere"
    elif worst.delta_e00 < CLOSE:
        verdict = "will do: the difference shows only side by side"
    elif does:
        verdict = "stands in with care"
    else:
        verdict = "not the same in use"
    reasons += hiding(seen)
    if same == SAME and does:
        decided = "both"
        # One pigment on both labels, and nothing seen against it: only where nobody knows the
        # parts of a mixture is the label not enough.
        close_call = close_call and any(GUESS in note for note in (*a.notes, *b.notes))
        reasons.append("its pigments and its behaviour agree")
    elif same in (SAME, FORM):
        decided = "behaviour"
        reasons.append("what decides is how it behaves: the code alone does not settle it")
    elif does:
        decided = "behaviour"
        reasons.append("what decides is how it behaves, not the code")
    else:
        decided = "both"
        reasons.append("neither its pigments nor its behaviour are what is asked")
    confidence = least_sure(a.confidence, b.confidence)
    if close_call:
        confidence = "low"
        reasons.append(too_close(seen.deciding_swatch))
    return Judgement(verdict, does, decided, close_call, confidence, tuple(reasons))
