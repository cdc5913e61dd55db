"""The optical model of every pigment and form of the register, read from data/models.csv.

Each is a few numbers (see `tubewise.pigments.curves`) fitted to the facts in
data/optics_facts.csv by `tools.fit`, for artist-grade paint at full load, in the unit
in which titanium white PW6 has S = 1 at 560 nm.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.errors import UserError
from tubewise.pigments.curves import BRONZE, LEVEL, STEP_NM, absorption, scattering
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load

Floats = NDArray[np.float64]

DATA = Path(__file__).parent / "data"
CONFIDENCES = ("high", "medium", "low")
SIGMA_COLUMNS = ("load", "strength", "scatter", "shift_nm", "floor", "terms")


@dataclass(frozen=True, slots=True)
class Shape:
    """The numbers behind a pigment's curves, leading axes free.

    bands (..., nb, 3), edges (..., ne, 3), floor (..., 2), scatter (..., 6); their meaning stands
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


@dataclass(frozen=True, slots=True)
class Sigmas:
    """How far a real paint may stray from the model: one standard deviation of each factor.

    load: log, K and S together (how much pigment is in the tube). strength: log, all of K.
    scatter: log, all of S. shift_nm: all bands and edges together. floor: log, the absorption
    left between bands. terms: log, each band's height by itself.
    """

    load: float
    strength: float
    scatter: float
    shift_nm: float
    floor: float
    terms: float


@dataclass(frozen=True, slots=True)
class PigmentOptics:
    """A pigment's modelled optics: K and S (36,), read-only, titanium white S = 1 at 560 nm.

    `ref` names the form too; `confidence` is high, medium or low; `note` says what isn't modelled.
    """

    ref: str
    K: Floats
    S: Floats
    shape: Shape
    sigmas: Sigmas
    confidence: str
    note: str
    source: str

    @property
    def load_sigma(self) -> float:
        """Standard deviation of the log of the pigment load."""
        return self.sigmas.load


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


def _optics_of(row: dict[str, str]) -> PigmentOptics:
    shape = Shape(
        bands=parse_terms(row["bands"]),
        edges=parse_terms(row["edges"]),
        floor=np.array(row["floor"].split(), dtype=np.float64),
        scatter=np.array(row["scatter"].split(), dtype=np.float64),
    )
    if shape.floor.shape != (2,) or shape.scatter.shape != (6,):
        raise ValueError("floor is two numbers and scatter six")
    if row["confidence"] not in CONFIDENCES:
        raise ValueError(f"confidence is one of {', '.join(CONFIDENCES)}")
    sigmas = Sigmas(*(float(v) for v in row["sigmas"].split()))
    K, S = shape.curves()
    for values in (K, S, shape.bands, shape.edges, shape.floor, shape.scatter):
        values.setflags(write=False)
    return PigmentOptics(
        row["ref"], K, S, shape, sigmas, row["confidence"], row["note"], row["source"]
    )


def read_models(path: Path) -> dict[str, dict[str, str]]:
    """Rows of a models file by ref, unread. Raises UserError when a ref stands twice."""
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


def draw(shape: Shape, sigmas: Sigmas, n: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """`n` paints scattered about a shape, K and S each (n, 36); every band moves as one curve."""
    z = rng.standard_normal((n, 5))
    load_factor, strength = np.exp(z[:, 0] * sigmas.load), np.exp(z[:, 1] * sigmas.strength)
    scatter_factor, shift = np.exp(z[:, 2] * sigmas.scatter), z[:, 3] * sigmas.shift_nm

    def moved(terms: Floats) -> Floats:
        out = np.repeat(terms[None], n, axis=0)
        jitter = np.exp(rng.standard_normal((n, len(terms))) * sigmas.terms)
        out[..., 0] += shift[:, None]
        out[..., 2] *= strength[:, None] * jitter
        return out

    floor = np.repeat(shape.floor[None], n, axis=0)
    floor[:, 0] *= np.exp(z[:, 4] * sigmas.floor) * strength
    scatter = np.repeat(shape.scatter[None], n, axis=0)
    scatter[:, LEVEL] *= scatter_factor
    scatter[:, STEP_NM] += shift
    # Bronze is a part of K, which strength has scaled already.
    scatter[:, BRONZE] *= scatter_factor / strength
    K, S = Shape(moved(shape.bands), moved(shape.edges), floor, scatter).curves()
    return K * load_factor[:, None], S * load_factor[:, None]


def samples(ref: str, n: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """`n` paints that could be this pigment's, K and S each (n, 36), by its model's `Sigmas`."""
    found = optics(ref)
    return draw(found.shape, found.sigmas, n, rng)
