"""One slot at one seat: the verdict, why, and what to do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tubewise.advice.alike.judgement import DecidedBy
from tubewise.advice.classroom.shopping import Buy, buying_words
from tubewise.advice.classroom.standard import Standard
from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.recipes.offer import Offer
from tubewise.advice.words.kind import kind_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.colour.patch import Colour
from tubewise.labels.phrasing import either
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import Strip, strip
from tubewise.pigments.permanence import cautions, own_cautions
from tubewise.pigments.pigment import Caution
from tubewise.pigments.trust import Confidence
from tubewise.tubes.tube import Tube

# The label alone decides where nothing says what a paint is.
SlotDecidedBy = Literal[DecidedBy, "label"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotVerdict:
    """One slot at one seat: the verdict, the tube it is about, why, and what to do.

    `asks` names what the slot takes, paint by paint, `holds` the tube's pigments, "" for none;
    `unfit` says that none of what it takes lasts for the purpose.
    `short` says that the tube is right and there is too little of it. `decided_by`: "behaviour", or
    "both" where pigments and behaviour say the same; "label" where the label alone was to go by.
    `paint` is the tube's grade and medium; `warning` what is known against the pigments that would
    fill the slot, and `warned` their names. `cautions` are those of its own pigments, dust apart.
    `asked` and `has` are colours alone, with their strips.
    """

    slot: str
    verdict: Verdict
    tube: str | None
    title: str
    paint: str
    warning: str
    do: str
    reasons: tuple[str, ...]
    recipe: Offer | None
    buy: Buy | None
    confidence: Confidence
    close_call: bool
    decided_by: SlotDecidedBy
    cautions: tuple[Caution, ...]
    asked: Colour
    has: Colour | None
    asked_strip: Strip
    has_strip: Strip | None
    asks: tuple[str, ...]
    unfit: bool
    holds: str
    short: bool
    warned: tuple[str, ...]

    @property
    def to_check(self) -> bool:
        """Whether the owner should look at the tube, or paint a swatch, before class."""
        unsure = self.verdict in (Verdict.STAND_IN, Verdict.MIX) and self.close_call
        return unsure or self.verdict == Verdict.CHECK_FORM

    @property
    def lacking(self) -> bool:
        """Whether the seat has nothing for the slot, alone or mixed."""
        misnamed = self.verdict == Verdict.WRONG and self.recipe is None
        return misnamed or self.verdict == Verdict.MISSING


@dataclass(frozen=True, slots=True, kw_only=True)
class Sure:
    """How sure a verdict is, and what decided it."""

    confidence: Confidence
    close_call: bool
    decided_by: SlotDecidedBy = "behaviour"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Case:
    """What every verdict on a slot at a seat is told with.

    These are the slot's `standard`, the `shelf`, what to `buy` if need be, `notes` on tubes of the
    box that cannot serve, tubes `passed` over though they have the colour, whether the right tube
    is too `short` for the list, and whether it is there and `unfit`, as it does not last.
    """

    standard: Standard
    shelf: Shelf
    buy: Buy | None
    notes: tuple[str, ...] = ()
    passed: tuple[str, ...] = ()
    short: bool = False
    unfit: bool = False

    @property
    def asks(self) -> str:
        """The pigments that the slot accepts: `PV19/gamma or PR122`."""
        return self.standard.asks

    @property
    def buying(self) -> str:
        """What to buy, and where."""
        standard = self.standard
        return standard.unfit_words or buying_words(self.buy, either(standard.lasting))

    def closed(
        self,
        verdict: Verdict,
        *,
        do: str,
        reasons: tuple[str, ...],
        sure: Sure,
        tube: Tube | None = None,
        paint: Paint | None = None,
        recipe: Offer | None = None,
        buys: bool = True,
    ) -> SlotVerdict:
        """The verdict with the colours, strips and cautions that go with it.

        `paint` is what would fill the slot: the tube's, or the mixture of the `recipe`.
        """
        fit = self.standard.fit(paint.refs) if paint else None
        setting = self.standard.setting
        return SlotVerdict(
            slot=self.standard.slot.slot,
            verdict=verdict,
            tube=tube.id if tube else None,
            title=tube.title if tube else "",
            paint=kind_text(tube) if tube else "",
            warning=fit.line if fit else "",
            do=do,
            reasons=(*self.passed, *reasons, *self.notes),
            recipe=recipe,
            buy=self.buy if buys else None,
            confidence=sure.confidence,
            close_call=sure.close_call,
            decided_by=sure.decided_by,
            cautions=own_cautions(cautions(paint.refs if paint else ())),
            asked=Colour.of(setting.lab_alone(self.standard.paint)[0]),
            has=Colour.of(setting.lab_alone(paint)[0]) if paint else None,
            asked_strip=self.standard.strip,
            has_strip=strip(paint, setting) if paint else None,
            asks=self.standard.lasting or self.standard.alternatives,
            unfit=not self.standard.lasting,
            holds=pigments_text(tube.pigments) if tube else "",
            short=self.short,
            warned=tuple(r.name for r in fit.remarks if r.first) if fit else (),
        )
