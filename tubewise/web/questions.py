"""What addresses ask, as values: each field is a part of the query, held to a length.

No postponed annotations here: FastAPI reads them from the classes themselves.
"""

import re
from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import Depends, Query
from pydantic import BeforeValidator

from tubewise.advice.counter.finding import Search
from tubewise.advice.recipes.quantity import MOST_SEATS
from tubewise.advice.recipes.wishes import Wishes
from tubewise.pigments.purpose import purpose_typed

# A measured spectrum stands in the address as it was pasted.
MOST_LETTERS_OF_A_SPECTRUM = 4000
SPECTRUM_OF = "spectrum:"

Name = Annotated[str, Query(max_length=200)]
Words = Annotated[str, Query(max_length=300)]
SpectrumText = Annotated[str, Query(max_length=MOST_LETTERS_OF_A_SPECTRUM)]
Several = Annotated[list[str], Query(default_factory=list, max_length=20)]
Terms = Annotated[list[str], Query(default_factory=list, max_length=24)]
PurposeText = Annotated[str, Query(alias="for", max_length=60)]
Partners = Annotated[list[str], Query(alias="with", default_factory=list, max_length=8)]


def none_for_empty(typed: str | int) -> str | int:
    """A number's field that was left empty asks for none."""
    return 0 if typed == "" else typed


@dataclass(frozen=True, kw_only=True)
class TubeSearch:
    """What is asked of the tubes of a catalogue; empty fields ask for nothing."""

    q: Words = ""
    code: Words = ""
    maker: Words = ""
    hue: Words = ""
    medium: Words = ""
    permanence: Words = ""
    in_stock: bool = False

    def up_to(self, price: float | None) -> Search:
        """The same as the advice takes it, up to a price."""
        return Search(
            name=self.q,
            code=self.code,
            maker=self.maker,
            hue=self.hue,
            medium=self.medium,
            permanence=self.permanence,
            in_stock=self.in_stock,
            at_most=price,
        )


@dataclass(frozen=True, kw_only=True)
class ClassAddress:
    """The supply list and the set of boxes an address names, and what the paint is for."""

    list: Name = ""
    boxes: Annotated[str | None, Query(max_length=200)] = None
    for_: PurposeText = ""


@dataclass(frozen=True, slots=True)
class RecipeQuestion:
    """A recipe asked for: the target as typed, the box's key, the limits and the wishes."""

    target: str
    box: str
    medium: str
    max_paints: int
    max_parts: int
    wishes: Wishes
    make: str = ""
    seats: int = 0

    @property
    def searched(self) -> "RecipeQuestion":
        """The same without what changes no recipe, to remember an answer by."""
        return replace(self, make="", seats=0)


@dataclass(frozen=True, kw_only=True)
class RecipeAddress:
    """A recipe as an address asks for it."""

    without: Several
    target: SpectrumText = ""
    spectrum: SpectrumText = ""
    picked: Words = ""
    box: Words = ""
    medium: Words = ""
    max_paints: Annotated[int, Query(ge=1, le=5)] = 4
    max_parts: Annotated[int, Query(ge=2, le=40)] = 16
    light: Annotated[str, Query(max_length=20)] = "D65"
    fewer: bool = False
    cheaper: bool = False
    lasting: bool = False
    uncautioned: bool = False
    single: bool = False
    for_: PurposeText = ""
    make: Annotated[str, Query(max_length=40)] = ""
    seats: Annotated[int, Query(ge=0, le=MOST_SEATS), BeforeValidator(none_for_empty)] = 0

    @property
    def question(self) -> RecipeQuestion:
        """The same, as one value to remember an answer by. Raises UserError for no purpose."""
        spectrum = on_one_line(self.spectrum) if self.spectrum.strip() else ""
        return RecipeQuestion(
            spectrum or self.target.strip() or self.picked.strip(),
            self.box,
            self.medium.strip(),
            self.max_paints,
            self.max_parts,
            Wishes(
                light=self.light,
                fewer=self.fewer,
                cheaper=self.cheaper,
                lasting=self.lasting,
                uncautioned=self.uncautioned,
                single=self.single,
                must_not=tuple(w for w in self.without if w),
                purpose=purpose_typed(self.for_),
            ),
            self.make.strip(),
            self.seats,
        )


def _recipe_question(address: Annotated[RecipeAddress, Depends()]) -> RecipeQuestion:
    return address.question


RecipeAsked = Annotated[RecipeQuestion, Depends(_recipe_question)]
ClassAsked = Annotated[ClassAddress, Depends()]


@dataclass(frozen=True, kw_only=True)
class Print:
    """How a sheet is wanted: `kind` is a format, `page` one page of SVG or PNG, 0 for all."""

    kind: str
    paper: Annotated[str, Query(max_length=20)] = ""
    page: Annotated[int, Query(ge=0, le=500)] = 0


PrintAsked = Annotated[Print, Depends()]


def on_one_line(spectrum: str) -> str:
    """A pasted spectrum as `spectrum:400,0.12 410,0.13`, to fit into a field and an address."""
    lines = [re.split(r"[\s,;]+", line.strip())[:2] for line in spectrum.splitlines()]
    return SPECTRUM_OF + " ".join(",".join(cells) for cells in lines if cells != [""])


def as_pasted(target: str) -> str:
    """The spectrum of such a target, a line for each wavelength; empty for other targets."""
    bare = target.removeprefix(SPECTRUM_OF)
    return "" if bare == target else "\n".join(bare.split())
