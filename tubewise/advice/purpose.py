"""Whether paint is fit for its purpose: practice, or pictures that are sold and must last.

The rating is that of the binder in hand, the weakest pigment decides, and what the register notes
of a pigment (it fades, darkens, turns brown, may flake, is no longer made) is said by name. Which
note matters in which binder, and which belongs in the first line, stands in data/note_weight.csv.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from tubewise.advice.binder import members
from tubewise.pigments.binders import binder_named, binders
from tubewise.pigments.permanence import lightfastness
from tubewise.pigments.pigment import Note, Pigment
from tubewise.pigments.purpose import CATEGORIES, PRACTICE, Purpose
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.tables import Faults, read_rows
from tubewise.pigments.terms import NOT_RATED, NOTE_KINDS

_FILE = Path(__file__).parent / "data" / "note_weight.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """What the register notes of one pigment where it matters.

    `first` says that it belongs in the first line: it fades, darkens, turns brown, flakes, is no
    longer made.
    """

    code: str
    name: str
    kind: str
    text: str
    first: bool
    source: str

    @property
    def words(self) -> str:
        """The remark with the pigment's name before it."""
        return f"{self.name}: {self.text}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Whether a tube or a mixture is fit for a purpose in a binder.

    `category` is that of its least lasting pigment; `refused` says why it is not accepted, "" where
    it is; `remarks` are the register's notes that matter in the binder.
    """

    accepted: bool
    category: str
    refused: str
    remarks: tuple[Remark, ...]

    @property
    def line(self) -> str:
        """The first line: why it is refused, and what is known against its pigments, by name."""
        sentences = [f"{self.refused}."] if self.refused else []
        sentences += [remark.words for remark in self.remarks if remark.first]
        return " ".join(sentences)

    @property
    def beside(self) -> tuple[str, ...]:
        """What else the register notes, which need not stand in the first line."""
        return tuple(remark.words for remark in self.remarks if not remark.first)


def standing(refs: Iterable[str], medium: str, purpose: Purpose = PRACTICE) -> Standing:
    """How pigments stand in a medium for a purpose; the weakest decides.

    Without a medium the rating is that of the binder in which it lasts least. Where nothing says
    which pigments there are, nothing can be promised: refused for sale. Raises ValueError for a
    medium nobody knows.
    """
    return _standing(tuple(dict.fromkeys(map(Ref, refs))), binder_named(medium), purpose)


@lru_cache(maxsize=8192)
def _standing(pigments: tuple[Ref, ...], binder: str, purpose: Purpose) -> Standing:
    category = lightfastness(pigments, binder)
    return Standing(
        accepted=purpose.takes(category),
        category=category,
        refused="" if purpose.takes(category) else _refused(pigments, binder, purpose),
        remarks=remarks(pigments, binder),
    )


def remarks(refs: Iterable[str], medium: str = "") -> tuple[Remark, ...]:
    """The register's notes on pigments that matter in a medium, those of the first line first.

    Without a medium all of them. Raises ValueError for a medium nobody knows.
    """
    binder = binder_named(medium)
    found: dict[tuple[str, str], Remark] = {}
    for ref in map(Ref, refs):
        pigment = load().get(ref.code)
        for note in pigment.notes if pigment else ():
            matters_in, first = _weights()[note.kind]
            if not binder or binder in matters_in:
                found.setdefault((ref.code, note.text), _remark(pigment, note, first))
    return tuple(sorted(found.values(), key=lambda remark: not remark.first))


def _remark(pigment: Pigment | None, note: Note, first: bool) -> Remark:
    assert pigment is not None
    return Remark(
        code=pigment.code,
        name=name_of(pigment.code),
        kind=note.kind,
        text=note.text,
        first=first,
        source=note.source,
    )


def name_of(code: str) -> str:
    """A pigment as a sentence names it: `PR83 (rose madder)`; the bare code where no name is known.

    `code` may be a ref with its form.
    """
    pigment = load().get(Ref(code).code)
    return f"{pigment.code} ({pigment.names[0]})" if pigment and pigment.names else code


def _refused(refs: tuple[Ref, ...], binder: str, purpose: Purpose) -> str:
    """Why pigments are not accepted, naming each that is not good enough."""
    ask = f"category {' or '.join(CATEGORIES[: CATEGORIES.index(purpose.at_least) + 1])}"
    want = "pictures for sale ask for" if purpose.name == "sale" else "what is asked is"
    if not refs:
        return f"nothing says which pigments are in it, and {want} {ask}"
    where = f" in {binder}" if binder else ""
    weak = []
    for ref in refs:
        category = lightfastness([ref], binder)
        if not purpose.takes(category):
            how = "has no rating" if category == NOT_RATED else f"is {category}"
            weak.append(f"{name_of(ref)} {how}{where}")
    return f"{' and '.join(weak)}, and {want} {ask}"


# ---------------------------------------------------------------- which note matters where


def read_weights(path: Path) -> dict[str, tuple[frozenset[str], bool]]:
    """For each kind of note the binders in which it matters, and whether it goes in the first line.

    Raises UserError for each fault, a kind without a row included.
    """
    faults = Faults(path.name)
    table: dict[str, tuple[frozenset[str], bool]] = {}
    for row in read_rows(path, ("note", "matters_in", "line", "source")):
        if row["note"] not in NOTE_KINDS:
            faults.add(row, "note", f"must be one of {', '.join(NOTE_KINDS)}")
        if row["line"] not in ("first", "beside"):
            faults.add(row, "line", "must be first or beside")
        if not row["source"]:
            faults.add(row, "source", "must not be empty")
        named = row.listed("matters_in")
        where = list(binders()) if named == ("any",) else members(named)
        for binder in where:
            if binder not in binders():
                faults.add(row, "matters_in", f"{binder!r} is no binder of binders.csv, no family")
        table[row["note"]] = frozenset(where), row["line"] == "first"
    missing = [kind for kind in NOTE_KINDS if kind not in table]
    if missing:
        faults.problems.append(f"nothing is said of {', '.join(missing)}")
    faults.raise_if_any()
    return table


@lru_cache(maxsize=1)
def _weights() -> dict[str, tuple[frozenset[str], bool]]:
    return read_weights(_FILE)
