"""What a supply-list hand-out says of each slot, worked out from the list and a catalogue."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from tubewise.advice.alike.identity import FORM, SAME
from tubewise.advice.alike.strength import parts_words
from tubewise.advice.classroom.look_for import Code, look_for
from tubewise.advice.classroom.promised_names import names_by_slot
from tubewise.advice.classroom.shopping import Buy, buys_for
from tubewise.advice.classroom.standard import Standard, usable_medium
from tubewise.advice.classroom.trial import Trial, contradiction, hue_words, try_in_slot
from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.classroom.workshop import Workshop
from tubewise.colour.patch import Colour
from tubewise.paints.strip import Strip
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.pigment import Caution
from tubewise.tubes.occasion import NO_OCCASION, Occasion
from tubewise.tubes.supply import Slot
from tubewise.tubes.tube import Tube

MOST = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A tube of the catalogue and why it is named."""

    title: str
    pigments: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotSheet:
    """One slot: what to look for (alternatives, each a set of codes), what to buy, what stands in.

    `buys` are the shop's tubes that are just what is asked, a few, the cheapest way first.
    It also says which tubes need their form checked, and which names mislead; `unfit` says that
    nothing the slot takes lasts for the purpose, "" where something does.
    """

    slot: Slot
    look_for: tuple[tuple[Code, ...], ...]
    buys: tuple[Buy, ...]
    standins: tuple[Choice, ...]
    unclear: tuple[Choice, ...]
    beware: tuple[Choice, ...]
    colour: Colour
    strip: Strip
    lightfastness: str
    cautions: tuple[Caution, ...]
    unfit: str

    @property
    def buy(self) -> Buy | None:
        """What to buy: the best of `buys`."""
        return next(iter(self.buys), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Handout:
    """The hand-out of a workshop, when and where it is held.

    `catalogued` is whether a catalogue was looked through.
    """

    workshop: str
    slots: tuple[SlotSheet, ...]
    catalogued: bool
    occasion: Occasion = NO_OCCASION


def handout(workshop: Workshop, progress: Callable[[int, int], None] | None = None) -> Handout:
    """Work out the hand-out of a list; `progress(done, all)` is called after each slot.

    Tubes are judged just as the class check judges them: alone, thin, in tints and in the lesson's
    key mixes. What is too close to call is not printed as a stand-in.
    """
    sold = _each_paint_once(workshop.catalogue)
    names = names_by_slot(workshop.standards, workshop.catalogue)
    sheets = []
    for done, standard in enumerate(workshop.standards, 1):
        usable = [tube for tube in sold if usable_medium(tube, standard.slot)]
        tried = (
            try_in_slot(tube, standard, workshop.shelf, names[standard.slot]) for tube in usable
        )
        trials = [trial for trial in tried if trial is not None]
        buys = buys_for(standard.slot, workshop.catalogue, workshop.shelf, standard.purpose)
        sheets.append(_sheet(standard, trials, buys))
        if progress is not None:
            progress(done, len(workshop.standards))
    return Handout(
        workshop=workshop.supply.name,
        slots=tuple(sheets),
        catalogued=bool(workshop.catalogue),
        occasion=workshop.supply.occasion,
    )


def _each_paint_once(catalogue: Sequence[Tube]) -> list[Tube]:
    """The largest size of each paint in stock: its other sizes would say the same again."""
    largest: dict[tuple[str, str], Tube] = {}
    for tube in catalogue:
        if tube.stock == 0:
            continue
        key = tube.paint, tube.label if not tube.maker else ""
        if key not in largest or (tube.size_ml or 0.0) > (largest[key].size_ml or 0.0):
            largest[key] = tube
    return list(largest.values())


def _sheet(standard: Standard, trials: Sequence[Trial], buys: Sequence[Buy]) -> SlotSheet:
    slot, refs = standard.slot, standard.paint.refs
    welcome = frozenset().union(*slot.accept)
    # The worst first: who buys by the name should meet that warning.
    misnamed = sorted((t for t in trials if _misleads(t)), key=lambda t: -t.rank[2])
    return SlotSheet(
        slot=slot,
        look_for=tuple(look_for(sorted(accept), welcome) for accept in slot.accept),
        buys=_each_title_once(buys),
        standins=_choices(_nearest(t for t in trials if _surely_stands_in(t))),
        unclear=_choices(_nearest(t for t in trials if _unclear(t))),
        beware=_choices(misnamed),
        colour=Colour.of(standard.setting.lab_alone(standard.paint)[0]),
        strip=standard.strip,
        lightfastness=lightfastness(refs, slot.medium),
        cautions=cautions(refs),
        unfit=standard.unfit_words,
    )


def _each_title_once(buys: Sequence[Buy]) -> tuple[Buy, ...]:
    """The best size of each paint, and no more than one can take in."""
    best: dict[str, Buy] = {}
    for buy in buys:
        best.setdefault(buy.title, buy)
    return tuple(best.values())[:MOST]


def _surely_stands_in(trial: Trial) -> bool:
    close_call = trial.judgement is not None and trial.judgement.close_call
    return trial.verdict == Verdict.STAND_IN and not close_call and not trial.small


def _unclear(trial: Trial) -> bool:
    return trial.verdict == Verdict.CHECK_FORM and trial.identity == FORM


def _misleads(trial: Trial) -> bool:
    """A name that promises what is not there, is contradicted by a swatch, or is all there is.

    An honest hue paint counts: somebody in a hurry takes it for what its name begins with.
    """
    if trial.identity == SAME and trial.verdict == Verdict.WRONG:
        # It holds what is asked, and is refused because it does not last: no fault of its name.
        return False
    doubted = trial.verdict == Verdict.CHECK_FORM and trial.identity != FORM
    return doubted or trial.verdict == Verdict.WRONG or _is_hue_paint(trial)


def _is_hue_paint(trial: Trial) -> bool:
    return trial.verdict == Verdict.MISSING and bool(hue_words(trial.tube))


def _nearest(trials: Iterable[Trial]) -> list[Trial]:
    return sorted(trials, key=lambda trial: (trial.rank[2], trial.tube.title))


def _choices(trials: Sequence[Trial]) -> tuple[Choice, ...]:
    return tuple(
        Choice(title=t.tube.title, pigments=t.tube.pigments, words=_words(t)) for t in trials[:MOST]
    )


def _words(trial: Trial) -> str:
    """Why a tube is named."""
    seen = trial.behaviour
    if seen is None:
        return "declares no pigment: its name is all there is to go by"
    if trial.verdict == Verdict.CHECK_FORM:
        return "does not say which form it is" if trial.identity == FORM else contradiction(trial)
    if trial.verdict == Verdict.STAND_IN:
        strength = parts_words(seen.factor)
        return seen.worst.words + (f"; {strength}" if strength else "")
    what = "a hue paint; " if _is_hue_paint(trial) else ""
    return f"{what}{seen.worst.situation}: {seen.worst.words}"
