"""Tubes of the store that meet all that a person asks for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tubewise import labels
from tubewise.advice.counter.hues import HUES, hues
from tubewise.advice.plain import plain
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.pigments.permanence import FUGITIVE, NOT_RATED, lasting, lightfastness
from tubewise.pigments.register import load
from tubewise.store.store import Store
from tubewise.tubes.naming import picked
from tubewise.tubes.tube import Tube

# What may be asked of permanence, and how a form says it.
PERMANENCES = {
    "lasting": "lasting (I or II)",
    "I": "excellent (I)",
    "fading": "fades (III or worse, or fugitive)",
    "not rated": "not rated",
}
_FADING = ("III", "IV", "V", FUGITIVE)
_LONGEST_NAME = 200
_EVERY = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """What is asked for; empty fields ask for nothing.

    `name` and `maker` may be misspelt; `code` is a pigment; `hue` one of `hues.HUES`; `permanence`
    a key of `PERMANENCES`; `at_most` a price, in whatever currency the tube has.
    """

    name: str = ""
    code: str = ""
    maker: str = ""
    hue: str = ""
    medium: str = ""
    permanence: str = ""
    in_stock: bool = False
    at_most: float | None = None

    @property
    def is_empty(self) -> bool:
        """Whether nothing is asked."""
        return self == Search()


def find(
    search: Search, store: Store, colour_of: Callable[[Tube], Colour | None]
) -> tuple[Tube, ...]:
    """The tubes that meet all of it, the best match of the name first.

    `colour_of` tells how a tube looks; it is asked only where a hue is. Raises UserError for a
    code that is no pigment, and for a
    hue or a permanence that nobody can ask for.
    """
    _check_words(search)
    tubes: dict[str, Tube] = {}
    name, code_typed = _code_aside(search)
    for code in _codes(code_typed):
        page = store.find(
            name,
            code=code,
            maker=search.maker.strip(),
            medium=search.medium,
            in_stock=search.in_stock,
            limit=_EVERY,
        )
        tubes.update((tube.id, tube) for tube in page.tubes)
    # What matches every word stands alone; only where nothing does, what is near may be meant.
    found = picked(list(tubes.values()), name) if name else list(tubes.values())
    return tuple(
        tube
        for tube in found
        if _is_cheap_enough(tube, search.at_most)
        and _lasts(tube, search.permanence)
        and (not search.hue or search.hue in hues(tube, colour_of(tube)))
    )


def _check_words(search: Search) -> None:
    for word, known in ((search.hue, HUES), (search.permanence, tuple(PERMANENCES))):
        if word and word not in known:
            raise UserError(f"ask for {', '.join(known)}", where=f"“{word}”")


def _code_aside(search: Search) -> tuple[str, str]:
    """The name and the code asked for, which may have been typed together: "PV19 rose"."""
    name = " ".join(search.name.split())[:_LONGEST_NAME]
    if search.code.strip() or not name:
        return name, search.code
    reading = labels.read(name)
    if len(reading.pigments) != 1:
        return name, ""
    start, end = reading.pigments[0].span
    return " ".join(f"{name[:start]} {name[end:]}".split()), name[start:end]


def _codes(query: str) -> tuple[str, ...]:
    """The code asked for and, since a shop brings PB15:1 and PB15:3 for PB15, its suffixed kin."""
    if not query.strip():
        return ("",)
    ref = labels.typed_ref(query, where="code")
    return (ref, *(pigment.code for pigment in load().suffixed(ref)))


def _is_cheap_enough(tube: Tube, at_most: float | None) -> bool:
    return at_most is None or (tube.price is not None and tube.price <= at_most)


def _lasts(tube: Tube, wanted: str) -> bool:
    if not wanted:
        return True
    category = lightfastness(tube.refs, tube.medium) if tube.refs else NOT_RATED
    if wanted == "lasting":
        return lasting(category)
    if wanted == "fading":
        return category in _FADING
    return category == wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundTubes:
    """Tubes `offset` to `offset + len(tubes)` of `total` found."""

    tubes: tuple[Tube, ...]
    total: int
    offset: int = 0

    @classmethod
    def of(cls, tubes: tuple[Tube, ...], offset: int, limit: int) -> FoundTubes:
        """At most `limit` of the tubes, from number `offset` on."""
        return cls(tubes=tubes[offset : offset + limit], total=len(tubes), offset=offset)

    @property
    def more(self) -> int:
        """How many come after these."""
        return self.total - self.offset - len(self.tubes)

    def as_data(self) -> dict[str, object]:
        """As JSON gives it: each tube's row with the pigments that its label shows."""
        rows = [{**plain(tube), "pigments": tube.pigments} for tube in self.tubes]
        return {"tubes": rows, "total": self.total, "offset": self.offset}
