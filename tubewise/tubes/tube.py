"""A tube of paint as a shop or a person describes it, and the box that holds a person's tubes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING

from tubewise.pigments.ref import Ref
from tubewise.tables.numerals import number_text
from tubewise.tubes.folded import folded
from tubewise.tubes.slug import slug

if TYPE_CHECKING:
    from tubewise.labels.reading import Reading


def tube_id(
    maker: str,
    line: str,
    medium: str,
    name: str,
    size_ml: float | None = None,
    label: str = "",
) -> str:
    """The id of a product, made from its own words only, so it never depends on other rows.

    A row without a maker is told apart by its label too: two people's unnamed "crimson" need not
    be one paint.
    """
    words = [maker, line, medium, name]
    if not maker.strip():
        words.append(label)
    parts = [slug(word) for word in words]
    if size_ml is not None:
        parts.append(slug(f"{number_text(size_ml)}ml"))
    return "-".join(part for part in parts if part) or "unnamed"


@lru_cache(maxsize=20_000)
def _read(label: str, name: str) -> Reading:
    from tubewise import labels

    return labels.read(label, name=name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """One product. Its `id` is made from its own words (`tube_id`) where none is given.

    `size_ml` in millilitres; `price` in `currency`; `stock` is a count, None when not told;
    `swatch_lab` is CIELAB D65/2°; `swatch_hex` is `#rrggbb`; `swatch_geometry` says whether the
    mirror reflection was `excluded`, as empty means too, or `included`; `grade` is `artist`,
    `student` or empty; `extra` keeps the columns we do not know. `doubt` says what is unsure about
    what was made of a person's words, and is no part of what the tube is.
    """

    id: str = ""
    maker: str = ""
    line: str = ""
    grade: str = ""
    medium: str = ""
    name: str = ""
    label: str = ""
    size_ml: float | None = None
    price: float | None = None
    currency: str = ""
    stock: int | None = None
    swatch_lab: tuple[float, float, float] | None = None
    swatch_hex: str = ""
    swatch_geometry: str = ""
    extra: Mapping[str, str] = field(default_factory=dict, hash=False)
    doubt: str = field(default="", compare=False)

    def __post_init__(self) -> None:
        if not self.id:
            words = (self.maker, self.line, self.medium, self.name)
            object.__setattr__(self, "id", tube_id(*words, self.size_ml, self.label))

    @property
    def reading(self) -> Reading:
        """What the label declares; read once for each label and name."""
        return _read(self.label, self.name)

    @property
    def refs(self) -> tuple[Ref, ...]:
        """Declared pigments in label order, `PV19/gamma` where the form is known or assumed."""
        return self.reading.refs

    @property
    def pigments(self) -> tuple[str, ...]:
        """Declared pigments as a person is told them: a form only where the label shows it."""
        return tuple(p.code if p.form_assumed else p.ref for p in self.reading.pigments)

    @property
    def paint(self) -> str:
        """The id without the size: tubes of one paint in two sizes share it."""
        return tube_id(self.maker, self.line, self.medium, self.name, None, self.label)

    @property
    def title(self) -> str:
        """Maker, line and name, as a person would say it."""
        words = " ".join(word for word in (self.maker, self.line, self.name) if word)
        return words or self.label or self.id


@dataclass(frozen=True, slots=True)
class Box:
    """The tubes that one person owns."""

    seat: str
    tubes: tuple[Tube, ...]


def box_of(boxes: Iterable[Box], seat: str) -> Box | None:
    """The box of a seat, however its case and blanks are written; None where there is none."""
    return next((box for box in boxes if folded(box.seat) == folded(seat)), None)
