"""Measured optics of a paint: K, S and how sure they are, with all that they came from."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields
from typing import Any

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import N_BANDS
from tubewise.errors import UserError
from tubewise.measure.spectra import (
    LONGEST_NM,
    MOST_REFLECTANCE,
    SHORTEST_NM,
    Conditions,
    Spectrum,
)
from tubewise.pigments.trust import Confidence

FORMAT = "tubewise measured optics 1"
LEVELS = ("two constants", "single constant", "swatch")
# Beyond these no paint lies, nor how sure anybody is of it; arithmetic on more ends in infinities.
_BOUNDS = {
    "K": (1e-12, 1e9),
    "S": (1e-12, 1e9),
    "local": (-1e4, 1e4),
    "shared": (-100.0, 100.0),
    "rms": (0.0, 100.0),
}


@dataclass(frozen=True, slots=True)
class FilmFit:
    """How well one drawdown is met: CIEDE2000 (D65, 2°) and root mean square of reflectance.

    `share` is the paint's stated fraction by volume, `parts_error` the fitted ratio of paint to
    white over the stated one, `thickness` the fitted film in our unit, None when opaque.
    """

    sample: str
    kind: str
    ground: str
    share: float
    delta_e00: float
    rms: float
    parts_error: float
    thickness: float | None


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredOptics:
    """K and S (36,) of a paint as measured, titanium white S = 1 at 560 nm.

    `level` is `two constants`, `single constant` or `swatch`. `local` (36, 2, 2) is the covariance
    of ln K and ln S in each band, `shared` (m, 36, 2) the steps that move all bands at once.
    `rms` (36,) is the residual of reflectance in each band. `surface` is (k1, k2). `raw` are the
    readings as the files had them. `assumed`, `not_learned` and `warnings` are for people.
    """

    tube: str
    level: str
    K: Floats
    S: Floats
    local: Floats
    shared: Floats
    rms: Floats
    films: tuple[FilmFit, ...]
    surface: tuple[float, float]
    conditions: Conditions
    raw: tuple[Spectrum, ...]
    assumed: tuple[str, ...] = ()
    not_learned: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()

    @property
    def date(self) -> str:
        """When it was measured, as the file says; empty where it doesn't."""
        return self.conditions.date

    @property
    def instrument(self) -> str:
        """What it was measured with, as the file says; empty where it doesn't."""
        return self.conditions.instrument

    @property
    def confidence(self) -> Confidence:
        """High for two constants without a warning, medium with one, low for anything less."""
        if self.level != "two constants":
            return "low"
        return "medium" if self.warnings else "high"

    @property
    def worst_delta_e00(self) -> float:
        """CIEDE2000 of the drawdown met worst."""
        return max((film.delta_e00 for film in self.films), default=0.0)

    @property
    def summary(self) -> str:
        """One line: when, with what, and how well it fits."""
        when = f" on {self.date}" if self.date else ""
        tool = f" with {self.instrument}" if self.instrument else ""
        count = len(self.films)
        return (
            f"measured{when}{tool}: {self.level} from {count} drawdown{'s' if count != 1 else ''}, "
            f"met to CIEDE2000 {self.worst_delta_e00:.1f}"
        )

    def draws(self, n: int, rng: np.random.Generator) -> tuple[Floats, Floats]:
        """The best estimate, then `n` paints the drawdowns allow: K and S, each (n + 1, 36)."""
        root = np.linalg.cholesky(self.local)
        z = rng.standard_normal((n, N_BANDS, 2))
        moves = np.einsum("bij,nbj->nbi", root, z)
        steps = rng.standard_normal((n, self.shared.shape[0]))
        moves = moves + np.einsum("nm,mbi->nbi", steps, self.shared)
        moves = np.concatenate([np.zeros((1, N_BANDS, 2)), moves])
        return self.K * np.exp(moves[..., 0]), self.S * np.exp(moves[..., 1])

    def fit_document(self) -> dict[str, Any]:
        """Everything but the spectra as read, as JSON values; `from_documents` reads it back."""
        out: dict[str, Any] = {"format": FORMAT}
        for name in ("tube", "level", "surface", "assumed", "not_learned", "warnings"):
            value = getattr(self, name)
            out[name] = list(value) if isinstance(value, tuple) else value
        for name in ("K", "S", "local", "shared", "rms"):
            out[name] = getattr(self, name).tolist()
        out["films"] = [asdict(film) for film in self.films]
        out["conditions"] = asdict(self.conditions)
        return out

    def raw_document(self) -> dict[str, Any]:
        """The spectra as read as JSON values."""
        return {"readings": [asdict(r) for r in self.raw]}

    def to_json(self) -> str:
        """All of it as JSON text; `from_json` gives the same numbers back to the last bit."""
        return json.dumps(
            {**self.fit_document(), **self.raw_document()}, ensure_ascii=False, indent=1
        )


def from_json(text: str, where: str = "") -> MeasuredOptics:
    """Measured optics from `to_json`'s text. Raises UserError for anything else."""
    try:
        document = json.loads(text)
    except (ValueError, RecursionError):
        raise UserError("This is no JSON file.", where=where) from None
    if not isinstance(document, dict):
        raise UserError("This is no file of measured optics.", where=where)
    return from_documents(document, document, where)


def from_documents(
    fit: Mapping[str, Any], raw: Mapping[str, Any], where: str = ""
) -> MeasuredOptics:
    """Measured optics from `fit_document` and `raw_document`; UserError for anything else."""
    if fit.get("format") != FORMAT:
        raise UserError(
            "This is no file of measured optics, or a newer tubewise wrote it.", where=where
        )
    try:
        arrays = {
            name: _array(name, fit[name], shape)
            for name, shape in (
                ("K", (N_BANDS,)),
                ("S", (N_BANDS,)),
                ("local", (N_BANDS, 2, 2)),
                ("shared", (-1, N_BANDS, 2)),
                ("rms", (N_BANDS,)),
            )
        }
        np.linalg.cholesky(arrays["local"])
        if fit["level"] not in LEVELS:
            raise ValueError(f"unknown level {fit['level']!r}")
        k1, k2 = (_within(v, 0.0, 1.0) for v in fit["surface"])
        return MeasuredOptics(
            tube=str(fit["tube"]),
            level=fit["level"],
            films=tuple(_film(film) for film in fit["films"]),
            surface=(k1, k2),
            conditions=_conditions(fit["conditions"]),
            raw=tuple(_spectrum(r) for r in raw["readings"]),
            assumed=tuple(str(v) for v in fit["assumed"]),
            not_learned=tuple(str(v) for v in fit["not_learned"]),
            warnings=tuple(str(v) for v in fit["warnings"]),
            **arrays,
        )
    except (
        KeyError,
        TypeError,
        ValueError,
        OverflowError,
        AttributeError,
        np.linalg.LinAlgError,
    ) as error:
        raise UserError(
            f"The file of measured optics is damaged ({error}); export it again.", where=where
        ) from None


def _array(name: str, value: Any, shape: tuple[int, ...]) -> Floats:
    array = np.asarray(value, dtype=np.float64)
    if shape[0] == -1 and array.size == 0:
        return np.zeros((0, *shape[1:]))
    if array.shape[1:] != shape[1:] or (shape[0] != -1 and array.shape != shape):
        raise ValueError(f"{name} has the shape {array.shape} where {shape} is due")
    low, high = _BOUNDS[name]
    if not np.all((array >= low) & (array <= high)):
        raise ValueError(f"{name} holds a number that isn't from {low:g} to {high:g}")
    return array


def _within(value: Any, low: float, high: float) -> float:
    number = float(value)
    if not low <= number <= high:
        raise ValueError(f"{number:g} isn't from {low:g} to {high:g}")
    return number


def _film(value: Mapping[str, Any]) -> FilmFit:
    thickness = value["thickness"]
    return FilmFit(
        sample=str(value["sample"]),
        kind=str(value["kind"]),
        ground=str(value["ground"]),
        share=_within(value["share"], 0.0, 1.0),
        delta_e00=_within(value["delta_e00"], 0.0, 1000.0),
        rms=_within(value["rms"], 0.0, 100.0),
        parts_error=_within(value["parts_error"], 0.0, 1e6),
        thickness=None if thickness is None else _within(thickness, 0.0, 1e9),
    )


def _conditions(value: Mapping[str, Any]) -> Conditions:
    return Conditions(**{f.name: str(value[f.name]) for f in fields(Conditions)})


def _spectrum(value: Mapping[str, Any]) -> Spectrum:
    return Spectrum(
        str(value["name"]),
        tuple(_within(v, SHORTEST_NM, LONGEST_NM) for v in value["wavelengths_nm"]),
        tuple(_within(v, -MOST_REFLECTANCE, MOST_REFLECTANCE) for v in value["reflectance"]),
        str(value["where"]),
        _conditions(value["conditions"]),
        {str(k): str(v) for k, v in value["columns"].items()},
    )
