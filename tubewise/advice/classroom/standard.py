"""What a slot of a supply list asks a paint to do: the yardstick every tube is held against."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from tubewise.advice.alike.identity import (
    FORM,
    SAME,
    accepted,
    contents_of_refs,
    contents_of_tube,
    identity,
)
from tubewise.advice.handling import in_place
from tubewise.advice.medium import mixes_with
from tubewise.advice.purpose import Standing, standing
from tubewise.errors import UserError
from tubewise.labels.phrasing import either
from tubewise.paints.appearance import Company
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf, swatch_of
from tubewise.paints.strip import Strip, strip
from tubewise.pigments.binders import WASH, laid_as
from tubewise.pigments.handling import Wish
from tubewise.pigments.purpose import PRACTICE, Purpose
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Standard:
    """A slot with the paint it means: `paint`, of the first accepted set.

    Beside it are the other accepted paints, the lesson's mixtures in which it takes part, its
    strip, how paint of the slot's medium is used, and how the slot wants it to handle.
    """

    slot: Slot
    paint: Paint
    others: tuple[Paint, ...]
    companies: tuple[Company, ...]
    strip: Strip
    setting: Setting
    purpose: Purpose = PRACTICE
    handling: tuple[Wish, ...] = ()

    def fit(self, refs: Iterable[str]) -> Standing:
        """How pigments stand for the slot's purpose in its medium."""
        return standing(refs, self.slot.medium, self.purpose)

    def accepts(self, tube: Tube) -> bool:
        """Whether a tube's label says what the slot asks for, or may mean it."""
        contents = contents_of_tube(tube)
        return any(accepted(sorted(r), contents) in (SAME, FORM) for r in self.slot.accept)

    @property
    def alternatives(self) -> tuple[str, ...]:
        """The pigments that will do, one paint each: `PV19/gamma`, `PG7 + PY3`."""
        return tuple(" + ".join(sorted(refs)) for refs in self.slot.accept)

    @property
    def lasting(self) -> tuple[str, ...]:
        """Those of the alternatives that last for the purpose."""
        return tuple(
            words
            for words, refs in zip(self.alternatives, self.slot.accept, strict=True)
            if self.fit(refs).accepted
        )

    @property
    def unfit_words(self) -> str:
        """What to say where none of the alternatives lasts for the purpose; else ""."""
        if self.lasting:
            return ""
        return (
            f"{self.asks} does not last for pictures for sale: agree on another paint of "
            f"lightfastness {self.purpose.at_least} or better"
        )

    @property
    def asks(self) -> str:
        """The pigments that will do: `PV19/gamma or PR122`."""
        return either(self.alternatives)

    @property
    def single_codes(self) -> frozenset[str]:
        """The codes of which the slot accepts a tube alone."""
        return frozenset(next(iter(r)).code for r in self.slot.accept if len(r) == 1)

    @property
    def accepted_paints(self) -> tuple[Paint, ...]:
        """Every paint the list accepts, the first one first."""
        return (self.paint, *self.others)


def slot_of(ref: Ref, slots: Sequence[Slot]) -> Slot | None:
    """The slot that a key mix's `ref` stands for: the first whose accepted sets name it alone."""
    wanted = contents_of_refs((ref,))
    for exact in (True, False):
        for slot in slots:
            for refs in slot.accept:
                if len(refs) != 1:
                    continue
                (only,) = refs
                if only == ref if exact else identity(contents_of_refs((only,)), wanted) == SAME:
                    return slot
    return None


def target_paint(
    refs: Sequence[Ref], shelf: Shelf, medium: str = "", catalogue: Iterable[Tube] = ()
) -> Paint:
    """The paint that a set of refs means: a pigment, or a convenience colour in known parts.

    For several pigments, a tube of the `catalogue` that declares just these and has a measured
    swatch gives the parts; without one they are a starting guess. What a person owns never does:
    it is to be judged, not to judge by.
    """
    refs = tuple(refs)
    if len(refs) == 1:
        return shelf.pigment(refs[0])
    wanted = contents_of_refs(refs)
    ranked = sorted(catalogue, key=lambda t: (t.medium != medium, t.grade != "artist", t.id))
    for tube in ranked:
        swatch = swatch_of(tube) if tube.swatch_lab is not None else None
        if swatch is not None and identity(wanted, contents_of_tube(tube)) == SAME:
            return shelf.blend(refs, swatch.lab, swatch.geometry)
    return shelf.blend(refs)


def companies_of(
    slot: Slot, mixes: Sequence[KeyMix], slots: Sequence[Slot], shelf: Shelf, setting: Setting
) -> tuple[Company, ...]:
    """The key mixes in which a slot's paint takes part, without that paint.

    In watercolour they are thinned as the mix asks, else to a middle wash.
    """
    companies = []
    for mix in mixes:
        own = [part for ref, part in mix.parts if slot_of(ref, slots) is slot]
        rest = [(ref, part) for ref, part in mix.parts if slot_of(ref, slots) is not slot]
        if own and rest:
            paints = tuple(shelf.pigment(ref) for ref, _ in rest)
            mates = Company(mix.mix, paints, tuple(part for _, part in rest), sum(own))
            companies.append(setting.in_use(mates, mix.water))
    return tuple(companies)


def standards(
    supply: SupplyList, shelf: Shelf, catalogue: Sequence[Tube], purpose: Purpose = PRACTICE
) -> tuple[Standard, ...]:
    """A yardstick for each slot of a supply list, in its order.

    Swatches of convenience colours come from the `catalogue` alone; `purpose` holds where a slot
    does not say its own. Raises UserError for a mix that names water where no wash is laid.
    """
    _water_has_a_place(supply)
    return tuple(
        replace(_standard(slot, supply, shelf, catalogue), purpose=slot.purpose or purpose)
        for slot in supply.slots
    )


def _water_has_a_place(supply: SupplyList) -> None:
    """Raise UserError for a mix with water in a list whose media are known and no washes."""
    media = tuple(dict.fromkeys(slot.medium for slot in supply.slots if slot.medium))
    if not media or any(laid_as(medium) == WASH for medium in media):
        return
    for mix in supply.mixes:
        if mix.water:
            raise UserError(
                f"“{mix.mix}” names {mix.water} parts of water, which belong in a wash; its paints "
                f"are {either(media)}: leave the water out",
                where=supply.name,
            )


def _standard(slot: Slot, supply: SupplyList, shelf: Shelf, catalogue: Sequence[Tube]) -> Standard:
    first, *others = (
        target_paint(sorted(refs), shelf, slot.medium, catalogue) for refs in slot.accept
    )
    setting = list_setting(supply, slot.medium, shelf).judging(first)
    return Standard(
        slot=slot,
        paint=first,
        others=tuple(others),
        companies=companies_of(slot, supply.mixes, supply.slots, shelf, setting),
        strip=strip(first, setting),
        handling=_handling(slot),
        setting=setting,
    )


def _handling(slot: Slot) -> tuple[Wish, ...]:
    """How the slot's paint must handle. Raises UserError where its medium knows no such thing."""
    for wish in slot.handling:
        in_place(wish, slot.medium)
    return slot.handling


def list_setting(supply: SupplyList, medium: str, shelf: Shelf) -> Setting:
    """How paint of a medium is used in this lesson: films are made paler in its own white.

    That is the first white that the list asks for in this medium, else the usual one.
    """
    setting = shelf.setting(medium)
    if setting.in_washes:
        return setting
    refs = (ref for s in supply.slots if s.medium == medium for ref in sorted(s.accept[0]))
    own = next((ref for ref in refs if load().resolve(ref)[0].hue == "white"), None)
    return setting if own is None else replace(setting, lightener=shelf.pigment(own))


def usable_medium(tube: Tube, slot: Slot) -> bool:
    """Whether the tube's medium is the one asked for; a tube that does not say may be."""
    return mixes_with(tube.medium, slot.medium)
