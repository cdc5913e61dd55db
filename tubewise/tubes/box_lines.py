"""What people write about the tubes they own, understood line by line, and what is doubtful.

A code may stand in the name's column and a name in the label's; names are cut short, misspelt,
without a maker; a line may be a set, or say that it is as another seat's. Nothing is dropped: each
line gives tubes, or says why it gives none.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from tubewise import labels
from tubewise.labels.kinds import LIKELY_MISREAD
from tubewise.pigments.binders import binder_named
from tubewise.tubes.completed import Products, complete
from tubewise.tubes.fields import read_size
from tubewise.tubes.folded import folded
from tubewise.tubes.likely import NamedTubes
from tubewise.tubes.paint_words import PaintWords
from tubewise.tubes.seat_title import seat_title
from tubewise.tubes.sets import is_set, sold_in
from tubewise.tubes.slug import slug
from tubewise.tubes.tube import Box, Tube

# "same as seat 3", "wie Platz 3", "idem": common practice, no source.
_SAME = re.compile(
    r"^\W*(?:the\s+)?(?:same|see|siehe|voir|v[eé]ase|vedi|wie|gleich|comme|"
    r"pareil|igual|lo mismo|come|uguale|ditto|dito|idem|m[eê]me)\b(?P<rest>.*)$",
    re.IGNORECASE | re.DOTALL,
)
# "(half empty)" says nothing of the paint; "(yellow shade)" does, and stays.
_REMARK = re.compile(
    r"\s*\((?P<remark>[^()]{0,60}\b(?:empty|full|old|new|half|used|dry|dried|almost|nearly|left|spare|"
    r"opened|fast|leer|voll|alte?|neu|angebrochen|vide|pleine?|vieux|neuf|vac[ií]o|lleno|viejo|nuevo|"
    r"vuoto|pieno|vecchio|nuovo)\b[^()]{0,60})\)",
    re.IGNORECASE,
)
_NO_WORD = re.compile(r"[^\w]+")
_SIZED = re.compile(
    r"[\s,(]+(?P<size>\d+(?:[.,]\d+)?\s*(?:ml|cl)|(?:half|full|whole)[ -]pans?|pans?|halber napf|"
    r"halbes n[aä]pfchen|n[aä]pfchen|demi[ -]godet|medio godet|mezzo godet|godet)\)?\W*$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of a box as it was written, the tubes it is taken for, and what is doubtful."""

    written: str
    tubes: tuple[Tube, ...]
    doubt: str = ""

    @property
    def words(self) -> str:
        """What it is taken for: `Ultramarine Blue, PB29`."""
        if not self.tubes:
            return "nothing"
        return "; ".join(
            ", ".join(filter(None, (t.title, " + ".join(t.pigments), t.medium))) for t in self.tubes
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxRead:
    """A seat's box as it was understood, line by line."""

    seat: str
    lines: tuple[Line, ...]

    @property
    def box(self) -> Box:
        """The box to be judged: every tube once."""
        tubes = (tube for line in self.lines for tube in line.tubes)
        return Box(self.seat, tuple({tube.id: tube for tube in tubes}.values()))

    @property
    def doubtful(self) -> tuple[Line, ...]:
        """The lines that the owner should look at."""
        return tuple(line for line in self.lines if line.doubt)


@dataclass(frozen=True)
class BoxReader:
    """Understands boxes with the help of a catalogue; build it once for many."""

    catalogue: Sequence[Tube]
    products: Products = field(init=False)
    named: NamedTubes = field(init=False)
    words: PaintWords = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "products", Products(self.catalogue))
        object.__setattr__(self, "named", NamedTubes(self.catalogue))
        names = {tube.name for tube in self.catalogue}
        object.__setattr__(self, "words", PaintWords.of(names))

    def boxes(self, boxes: Iterable[Box]) -> tuple[BoxRead, ...]:
        """All boxes of a class; "same as seat 3" means the box of that seat."""
        written = list(boxes)
        read: dict[str, BoxRead] = {}
        for box in written:
            if not any(_as_whose(tube) is not None for tube in box.tubes):
                read[folded(box.seat)] = BoxRead(
                    seat=box.seat, lines=tuple(map(self.line, box.tubes))
                )
        for at, box in enumerate(written):
            if folded(box.seat) not in read:
                before = written[at - 1].seat if at else ""
                lines = tuple(self._line_among(tube, read, before) for tube in box.tubes)
                read[folded(box.seat)] = BoxRead(seat=box.seat, lines=lines)
        return tuple(read[folded(box.seat)] for box in written)

    def _line_among(self, tube: Tube, read: dict[str, BoxRead], before: str) -> Line:
        whose = _as_whose(tube)
        if whose is None:
            return self.line(tube)
        seat = _seat_in(whose, read) or (folded(before) if not re.search(r"\w", whose) else "")
        if seat not in read:
            doubt = "it says to be as another box, and which is not known: write its tubes"
            return Line(written=_written(tube), tubes=(), doubt=doubt)
        other = read[seat]
        return Line(
            written=_written(tube),
            tubes=tuple(t for line in other.lines for t in line.tubes),
            doubt=f"taken for the box of {seat_title(other.seat)}",
        )

    def line(self, tube: Tube) -> Line:
        """One row or line of a box."""
        written = _written(tube)
        tube = _medium_aside(_size_aside(_remark_aside(_sides_changed(tube))))
        known = complete(tube, self.products)
        if known.reading.pigments or (known.label.strip() and known.label != known.name):
            return Line(written=written, tubes=(known,), doubt="")
        if is_set(tube):
            return self._set(tube, written)
        return self._by_name(known, written)

    def _set(self, tube: Tube, written: str) -> Line:
        inside = sold_in(tube.name or tube.label, self.catalogue)
        if inside:
            return Line(written=written, tubes=inside, doubt=f"a set: {len(inside)} tubes of it")
        doubt = "a set, and what lies in it is not known here: write its tubes one by one"
        return Line(written=written, tubes=(replace(tube, doubt=doubt),), doubt=doubt)

    def _by_name(self, tube: Tube, written: str) -> Line:
        """A name and no code: a product of the catalogue, or the pigments it likely means."""
        name = tube.name or tube.label
        mended = self.words.mended(name)
        if folded(mended) != folded(name):
            tube = complete(replace(tube, id="", name=mended, label=""), self.products)
            if tube.reading.pigments:
                doubt = f"taken for {tube.title}"
                return Line(written=written, tubes=(replace(tube, doubt=doubt),), doubt=doubt)
        products = self._products(tube)
        if len({product.paint for product in products}) == 1:
            product = replace(products[0], stock=None, size_ml=tube.size_ml or products[0].size_ml)
            doubt = f"taken for {product.title}"
            return Line(written=written, tubes=(replace(product, doubt=doubt),), doubt=doubt)
        if products:
            tube = replace(tube, id="", name=products[0].name, maker=products[0].maker)
            likely = NamedTubes(products).likely(tube.name, tube.medium).words
        else:
            likely = self.named.likely(tube.name, tube.medium).words
        if not likely and (near := self.words.nearest_phrase(tube.name)):
            tube = replace(tube, id="", name=near)
            likely = self.named.likely(near, tube.medium).words
        if not likely:
            # Words that lead nowhere stay as they were written.
            tube = replace(tube, id="", name=name)
        taken = f"“{name}” read as {tube.name}; " if slug(tube.name) != slug(name) else ""
        doubt = f"{taken}no code: {likely or 'what it holds is not known'}; look at the tube"
        return Line(written=written, tubes=(replace(tube, doubt=doubt),), doubt=doubt)

    def _products(self, tube: Tube) -> list[Tube]:
        """The catalogue's tubes whose maker or line is named with them, in any order."""
        wanted = set(folded(f"{tube.maker} {tube.line} {tube.name}").split())
        found: list[Tube] = []
        for other in self.catalogue:
            name = set(folded(other.name).split())
            whole = name | set(folded(f"{other.maker} {other.line}").split())
            fits = not tube.medium or not other.medium or tube.medium == other.medium
            if name and fits and name <= wanted <= whole and wanted > name:
                found.append(other)
        return found


def _written(tube: Tube) -> str:
    """A row's own words."""
    whole = folded(tube.name) in folded(tube.label)
    words = (tube.maker, tube.line, "" if whole else tube.name, tube.label)
    return " · ".join(filter(None, words))


def _sides_changed(tube: Tube) -> Tube:
    """With the code where the label belongs, whichever column it was written in."""
    if labels.read(tube.label).pigments:
        return tube
    read = labels.read(tube.name)
    if read.pigments:
        start = read.pigments[0].span[0]
        name = tube.name[:start].strip(" ,;:-–(/|") or tube.label.strip()
        return replace(tube, id="", name=name or tube.name, label=tube.name)
    if not tube.name.strip() or folded(tube.name) == folded(tube.label):
        if LIKELY_MISREAD in labels.read(tube.label).kinds:
            return tube
        return replace(tube, id="", name=tube.name.strip() or tube.label.strip(), label="")
    return tube


def _remark_aside(tube: Tube) -> Tube:
    """Without "(half empty)" in the name; a bracket with a code stays."""
    hit = _REMARK.search(tube.name)
    if hit is None or labels.read(hit["remark"]).pigments:
        return tube
    name = _REMARK.sub("", tube.name).strip()
    if not name:
        return tube
    return replace(tube, id="", name=name, extra={**tube.extra, "remark": hit["remark"]})


def _size_aside(tube: Tube) -> Tube:
    """Without "half pan" or "37 ml" behind the name, which then is the size."""
    hit = _SIZED.search(tube.name)
    if hit is None or tube.size_ml is not None:
        return tube
    name = tube.name[: hit.start()].strip(" ,;-")
    try:
        size = read_size(hit["size"].replace("-", " "))
    except ValueError:
        return tube
    return replace(tube, id="", name=name, size_ml=size) if name else tube


def _medium_aside(tube: Tube) -> Tube:
    """Without a medium before or behind the name, which then is the tube's."""
    words = tube.name.split()
    if len(words) < 2 or tube.medium:
        return tube
    for medium, rest in ((words[-1], words[:-1]), (words[0], words[1:])):
        try:
            binder = binder_named(medium.strip("(),;-"))
        except ValueError:
            continue
        if binder:
            return replace(tube, id="", name=" ".join(rest).strip(" ,;-("), medium=binder)
    return tube


def _as_whose(tube: Tube) -> str | None:
    """What follows "same as"; None where the line says nothing of the kind."""
    hit = _SAME.match(tube.name or tube.label)
    if hit is None or labels.read(tube.name or tube.label).pigments:
        return None
    return hit["rest"]


def _seat_in(text: str, read: dict[str, BoxRead]) -> str:
    """The seat that a text names, the longest first; "" where it names none."""
    plain = f" {folded(_NO_WORD.sub(' ', text))} "
    return next((s for s in sorted(read, key=len, reverse=True) if f" {s} " in plain), "")
