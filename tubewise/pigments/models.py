"""The optics of every pigment and form of the register, measured or modelled.

Of some a published measurement stands in data/measured_curves.csv. The others are a few numbers
each in data/models.csv (see `tubewise.pigments.curves`), fitted to the facts in
data/optics_facts.csv. Both are made by `tools.fit`: artist-grade paint at full load, by volume, in
the unit in which titanium white PW6 has S = 1 at 560 nm.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.errors import UserError
from tubewise.pigments.curves import N_SCATTER, absorption, scattering
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.spread import Spread, moved, unpack
from tubewise.pigments.trust import CONFIDENCES, MODELLED, PUBLISHED, Basis, Confidence

DATA = Path(__file__).parent / "data"
# What a row of models.csv may rest on.
BASES: Final[tuple[Basis, ...]] = (MODELLED, PUBLISHED)

MODEL_COLUMNS = (
    *("ref", "basis", "bands", "edges", "floor", "scatter"),
    *("confidence", "determined", "note", "source"),
)
CURVE_COLUMNS = ("ref", "quantity", *(f"{nm:.0f}" for nm in WAVELENGTHS_NM))
SPREAD_COLUMNS = ("ref", "family", "kin", "makers", "unknown")


@dataclass(frozen=True, slots=True)
class Shape:
    """The numbers behind a pigment's curves, leading axes free.

    bands (..., nb, 3), edges (..., ne, 3), floor (..., 2), scatter (..., 8); their meaning stands
    in `tubewise.pigments.curves`.
    """

    bands: Floats
    edges: Floats
    floor: Floats
    scatter: Floats

    def curves(self, wavelengths_nm: Floats = WAVELENGTHS_NM) -> tuple[Floats, Floats]:
        """K and S at the given wavelengths, each (..., n)."""
        K = absorption(wavelengths_nm, self.bands, self.edges, self.floor)
        return K, scattering(wavelengths_nm, self.scatter, K)


@dataclass(frozen=True, slots=True, eq=False)
class PigmentOptics:
    """A pigment's optics: K and S (36,), read-only, titanium white S = 1 at 560 nm.

    `ref` names the form too; `basis` is `modelled` or `measured (published)`; `shape` the numbers
    of a model, None for a measurement. `confidence` is high, medium or low; `determined` says what
    fixed absorption and scattering; `note` says what isn't modelled.
    """

    ref: Ref
    K: Floats
    S: Floats
    basis: Basis
    shape: Shape | None
    confidence: Confidence
    determined: str
    note: str
    source: str


def parse_terms(text: str) -> Floats:
    """Bands or edges as written in the data files, "615 27 0.9; 712 28 1" -> (n, 3).

    Raises ValueError when a term isn't three numbers.
    """
    rows = [[float(v) for v in term.split()] for term in text.split(";") if term.strip()]
    if any(len(row) != 3 for row in rows):
        raise ValueError(f"each term is three numbers (nm, width, height): {text!r}")
    return np.array(rows, dtype=np.float64).reshape(-1, 3)


def format_terms(terms: Floats) -> str:
    """The inverse of `parse_terms`, at the precision the data files keep."""
    return "; ".join(f"{nm:.1f} {width:.2f} {height:.4g}" for nm, width, height in terms)


def _shape_of(row: dict[str, str]) -> Shape:
    shape = Shape(
        bands=parse_terms(row["bands"]),
        edges=parse_terms(row["edges"]),
        floor=np.array(row["floor"].split(), dtype=np.float64),
        scatter=np.array(row["scatter"].split(), dtype=np.float64),
    )
    if shape.floor.shape != (2,) or shape.scatter.shape != (N_SCATTER,):
        raise ValueError("floor is two numbers and scatter eight")
    for values in (shape.bands, shape.edges, shape.floor, shape.scatter):
        values.setflags(write=False)
    return shape


def _optics_of(row: dict[str, str]) -> PigmentOptics:
    if row["confidence"] not in CONFIDENCES:
        raise ValueError(f"confidence is one of {', '.join(CONFIDENCES)}")
    if row["basis"] not in BASES:
        raise ValueError(f"basis is one of {', '.join(BASES)}")
    shape = None
    if row["basis"] == MODELLED:
        shape = _shape_of(row)
        K, S = shape.curves()
    else:
        K, S = _measured_curves()[row["ref"]]
    for values in (K, S):
        values.setflags(write=False)
    return PigmentOptics(
        Ref(row["ref"]),
        K,
        S,
        row["basis"],
        shape,
        row["confidence"],
        row["determined"],
        row["note"],
        row["source"],
    )


@lru_cache(maxsize=1)
def _measured_curves() -> dict[str, tuple[Floats, Floats]]:
    """K and S (36,) by ref, from measured_curves.csv."""
    found: dict[str, dict[str, Floats]] = {}
    with (DATA / "measured_curves.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            values = np.array([float(row[column]) for column in CURVE_COLUMNS[2:]])
            found.setdefault(row["ref"], {})[row["quantity"]] = values
    return {ref: (both["K"], both["S"]) for ref, both in found.items()}


def read_models(path: Path) -> dict[str, dict[str, str]]:
    """Rows of a file by ref, unread. Raises UserError when a ref stands twice."""
    rows: dict[str, dict[str, str]] = {}
    with path.open(encoding="utf-8", newline="") as file:
        for line, row in enumerate(csv.DictReader(file), start=2):
            if row["ref"] in rows:
                raise UserError(
                    f"{row['ref']} stands twice; remove one", where=f"{path.name}, line {line}"
                )
            rows[row["ref"]] = row
    return rows


@lru_cache(maxsize=1)
def _rows() -> dict[str, dict[str, str]]:
    return read_models(DATA / "models.csv")


def full_ref(ref: str) -> Ref:
    """The ref with its form, `PV19` -> `PV19/gamma`; UserError for an unknown code or form."""
    pigment, form = load().resolve(ref)
    return Ref.of(pigment.code, form.name if form else "")


@cache
def optics(ref: str) -> PigmentOptics:
    """A pigment's modelled optics, `PV19/gamma` or `PB28`; without a form, its default form.

    Raises UserError for what the register doesn't know.
    """
    name = full_ref(ref)
    row = _rows().get(name)
    if row is None:
        raise UserError(
            f"{name} has no optical model: add its facts to optics_facts.csv and run "
            "`python -m tools.fit`"
        )
    try:
        return _optics_of(row)
    except ValueError as error:
        raise UserError(f"bad model of {name}: {error}", where="models.csv") from None


def stack(refs: Iterable[str]) -> tuple[Floats, Floats]:
    """K and S of several pigments, each (n, 36)."""
    found = [optics(ref) for ref in refs]
    if not found:
        return np.zeros((0, len(WAVELENGTHS_NM))), np.zeros((0, len(WAVELENGTHS_NM)))
    return np.stack([o.K for o in found]), np.stack([o.S for o in found])


@lru_cache(maxsize=1)
def _spread_rows() -> dict[str, dict[str, str]]:
    return read_models(DATA / "spreads.csv")


@cache
def spread(ref: str) -> Spread:
    """How far paints of a pigment may stray from its curves; UserError for an unknown one."""
    name = full_ref(ref)
    row = _spread_rows().get(name)
    if row is None:
        raise UserError(f"{name} has no spread: run `python -m tools.fit`", where="spreads.csv")
    try:
        return Spread(
            family=row["family"],
            kin=row["kin"],
            unknown=unpack(row["unknown"]),
            makers=np.array(row["makers"].split(), dtype=float),
        )
    except ValueError as error:
        raise UserError(f"bad spread of {name}: {error}", where="spreads.csv") from None


def samples(ref: str, n: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """`n` paints that could be this pigment's, each by another maker: K and S each (n, 36)."""
    found = optics(ref)
    return moved(found.K, found.S, spread(ref).steps(n, rng))


def fluoresces(refs: Iterable[str]) -> bool:
    """Whether a pigment gives back light of another colour, which no model here does."""
    return any("fluorescence" in optics(ref).note for ref in refs)
