"""What a code without its form may turn out to be, and what would come of each."""

from __future__ import annotations

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.identity import contents_of_tube, vague
from tubewise.advice.classroom.standard import Standard
from tubewise.advice.classroom.trial import Trial
from tubewise.advice.words.thresholds import CLOSE
from tubewise.labels.phrasing import either
from tubewise.paints.shelf import Shelf
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube


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


def form_words(trial: Trial, standard: Standard, shelf: Shelf) -> tuple[str, ...]:
    """What the label leaves open, and form by form whether it would do in the slot."""
    options = open_forms(trial.tube)
    codes = ", ".join(c.code for c in contents_of_tube(trial.tube) if vague(c))
    words = [f"the label says {codes} and not which: {either(options)}"]
    for ref in options:
        seen = compare_behaviour(
            trial.reference, shelf.pigment(ref), standard.setting, standard.companies
        ).worst
        does = seen.delta_e00 <= CLOSE
        then = "it will do" if does else f"{seen.situation}: {seen.words}"
        words.append(f"if it is {ref}, {then}")
    return tuple(words)
