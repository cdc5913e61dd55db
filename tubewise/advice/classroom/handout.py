"""What a supply-list hand-out says of each slot, worked out from the list and a catalogue."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.identity import FORM, SAME, accepted, contents_of_tube
from tubewise.advice.alike.judgement import judge
from tubewise.advice.alike.names import plain_name
from tubewise.advice.alike.strength import parts_words
from tubewise.advice.classroom.shopping import Buy, buy_for, enough
from tubewise.advice.classroom.standard import Standard, usable_medium
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.words.thresholds import STANDS_IN
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.patch import Colour
from tubewise.labels.phrasing import either
from tubewise.paints.appearance import WHITE, lab_alone
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import Strip, strip
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.pigment import Caution
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.supply import Slot
from tubewise.tubes.tube import Tube

MOST = 5


@dataclass(frozen=True, slots=True)
class Code:
    """One pigment as it is printed: its code, its number, and the words that go with it.

    With a `form` the words are those that reveal it; without, the pigment's names. `beware` says
    which other colours share the code, or "".
    """

    code: str
    form: str
    constitutions: tuple[str, ...]
    words: tuple[str, ...]
    beware: str


@dataclass(frozen=True, slots=True)
class Choice:
    """A tube of the catalogue and why it is named."""

    title: str
    pigments: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class SlotSheet:
    """One slot: what to look for (alternatives, each a set of codes), what to buy, what stands in,
    which tubes need their form checked, and which names mislead."""

    slot: Slot
    look_for: tuple[tuple[Code, ...], ...]
    buy: Buy | None
    standins: tuple[Choice, ...]
    unclear: tuple[Choice, ...]
    beware: tuple[Choice, ...]
    colour: Colour
    strip: Strip
    lightfastness: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class Handout:
    """The hand-out of a workshop. `catalogued` is whether a catalogue was looked through."""

    workshop: str
    slots: tuple[SlotSheet, ...]
    catalogued: bool


def handout(workshop: Workshop, progress: Callable[[int, int], None] | None = None) -> Handout:
    """Work out the hand-out of a list; `progress(done, all)` is called after each slot.

    Tubes are judged as the class check judges them: alone, thin, in tints and in the lesson's key
    mixes. What is too close to call is not printed as a stand-in.
    """
    catalogue, shelf, asked = workshop.catalogue, workshop.shelf, workshop.standards
    sold = _each_paint_once(catalogue)
    out = []
    for done, standard in enumerate(asked, 1):
        out.append(_slot(standard, sold, shelf, buy_for(standard.slot, catalogue)))
        if progress is not None:
            progress(done, len(asked))
    return Handout(workshop.supply.name, tuple(out), bool(catalogue))


def _each_paint_once(catalogue: Sequence[Tube]) -> list[Tube]:
    """The largest size of each paint in stock: its other sizes would say the same again."""
    best: dict[tuple[str, str], Tube] = {}
    for tube in catalogue:
        if tube.stock == 0:
            continue
        key = tube.paint, tube.label if not tube.maker else ""
        if key not in best or (tube.size_ml or 0.0) > (best[key].size_ml or 0.0):
            best[key] = tube
    return list(best.values())


def look_for(refs: Sequence[str], welcome: Iterable[str] = ()) -> tuple[Code, ...]:
    """What to look for on a tube, code by code; `welcome` is all that the slot takes."""
    welcome = {*refs, *welcome}
    out = []
    for ref in map(Ref, refs):
        pigment, form = load().resolve(ref)
        named = bool(ref.form)
        others = [
            f.name.replace("-", " ")
            for f in pigment.forms
            if Ref.of(pigment.code, f.name) not in welcome
        ]
        beware = ""
        if named and others:
            beware = f"{pigment.code} alone does not tell: it is also sold as {either(others)}"
        elif pigment.parent:
            siblings = [p.code for p in load().suffixed(pigment.parent) if p.code not in welcome]
            if siblings:
                beware = f"{pigment.parent} without its number may be {either(siblings)}"
        out.append(
            Code(
                pigment.code,
                form.name.replace("-", " ") if named and form else "",
                pigment.constitutions,
                form.label_words[:3] if named and form else pigment.names[:2],
                beware,
            )
        )
    return tuple(out)


def _slot(standard: Standard, sold: Sequence[Tube], shelf: Shelf, buy: Buy | None) -> SlotSheet:
    slot = standard.slot
    standins: list[tuple[float, Choice]] = []
    unclear: list[tuple[float, Choice]] = []
    beware: list[tuple[float, Choice]] = []
    names = {plain_name(slot.slot)} | {
        plain_name(t.name) for t in sold if _same(standard, t) == SAME
    }
    for tube in sold:
        if not usable_medium(tube, slot):
            continue
        same = _same(standard, tube)
        if same == SAME:
            continue
        named = plain_name(tube.name) in names or _breaks_promise(tube, standard)
        paint = shelf.tube(tube)
        if paint is None:
            if named:
                words = "declares no pigment: its name is all there is to go by"
                beware.append((float("inf"), Choice(tube.title, (), words)))
            continue
        if same == FORM and _leaves_open(tube):
            unclear.append(
                (0.0, Choice(tube.title, tube.pigments, "does not say which form it is"))
            )
            continue
        alone = min(
            float(delta_e_2000(lab_alone(p)[0], lab_alone(paint)[0]))
            for p in standard.accepted_paints
        )
        if alone > STANDS_IN and not named:
            continue
        seen = compare_behaviour(standard.paint, paint, shelf, standard.companies)
        judged = judge(same, standard.paint, paint, seen)
        worst = seen.worst
        if judged.does and not judged.close_call and enough(tube, slot):
            strength = parts_words(seen.factor)
            words = worst.words + (f"; {strength}" if strength else "")
            standins.append((worst.delta_e00, Choice(tube.title, tube.pigments, words)))
        elif not judged.does and named:
            words = f"{worst.situation}: {worst.words}"
            beware.append((worst.delta_e00, Choice(tube.title, tube.pigments, words)))
    paint = standard.paint
    refs = paint.refs
    return SlotSheet(
        slot,
        tuple(look_for(sorted(accept), frozenset().union(*slot.accept)) for accept in slot.accept),
        buy,
        _best(standins),
        _best(unclear),
        # The worst first: who buys by the name should meet that warning.
        tuple(choice for _, choice in sorted(beware, key=lambda b: -b[0])[:MOST]),
        Colour.of(lab_alone(paint)[0]),
        strip(paint, shelf.pigment(WHITE)),
        lightfastness(refs, slot.medium),
        cautions(refs),
    )


def _best(found: list[tuple[float, Choice]]) -> tuple[Choice, ...]:
    return tuple(choice for _, choice in sorted(found, key=lambda f: (f[0], f[1].title))[:MOST])


def _same(standard: Standard, tube: Tube) -> str:
    """How a tube's declared pigments stand to the nearest accepted set."""
    has = contents_of_tube(tube)
    found = {accepted(sorted(refs), has) for refs in standard.slot.accept}
    return SAME if SAME in found else FORM if FORM in found else next(iter(found))


def _leaves_open(tube: Tube) -> bool:
    """Whether a label names a code without the form or number that its colour hangs on."""
    for content in contents_of_tube(tube):
        pigment = load().get(content.code)
        if content.assumed or (pigment is not None and pigment.needs == "suffix"):
            return True
    return False


def _breaks_promise(tube: Tube, standard: Standard) -> bool:
    """Whether a tube's name promises a pigment that the slot asks for and that it does not hold."""
    asked = {next(iter(refs)).code for refs in standard.slot.accept if len(refs) == 1}
    held = {content.code for content in contents_of_tube(tube)}
    return any(
        asked & set(promise.codes) and not held & set(promise.codes)
        for promise in load().promises(tube.name)
    )
