"""Spectra as an instrument's file gives them: spectra on their own wavelengths, and conditions."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from tubewise.errors import UserError
from tubewise.optics.geometry import geometry_named

SHORTEST_NM = 360.0
LONGEST_NM = 780.0
FEWEST_BANDS = 8
# A hundred times what a perfect white sends back is no reading but a fault of the file.
MOST_REFLECTANCE = 100.0
# No instrument made for colour reads more than a few thousand samples into one file.
# Percent readings of anything but a black hole pass 2; fractions of real paint stay below 1.
_SURELY_PERCENT = 2.0

_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")


@dataclass(frozen=True, slots=True)
class Conditions:
    """How readings were taken, as far as the file tells; empty where it doesn't.

    `specular` is `included`, `excluded` or empty.
    """

    instrument: str = ""
    date: str = ""
    geometry: str = ""
    specular: str = ""
    light: str = ""
    bandpass: str = ""
    backing: str = ""

    def filled(self, other: Conditions) -> Conditions:
        """These conditions, with the gaps filled from `other`."""
        gaps = {name: getattr(other, name) for name in self.__slots__ if not getattr(self, name)}
        return replace(self, **gaps)


@dataclass(frozen=True, slots=True)
class Spectrum:
    """One spectrum: `wavelengths_nm` rising within 360-780, `reflectance` as fractions, both (n,).

    `where` says which file and line it came from; `columns` are the file's other columns.
    """

    name: str
    wavelengths_nm: tuple[float, ...]
    reflectance: tuple[float, ...]
    where: str = ""
    conditions: Conditions = field(default_factory=Conditions)
    columns: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Spectra:
    """All spectra of a file, and `notes` on what had to be assumed while reading it."""

    spectra: tuple[Spectrum, ...]
    notes: tuple[str, ...] = ()


def number(text: str) -> float | None:
    """A finite number with a point or a comma, perhaps a % behind it; None if it isn't one."""
    text = text.strip().replace("\u2212", "-").removesuffix("%").strip()
    if not _NUMBER.fullmatch(text):
        return None
    value = float(text.replace(",", "."))
    return value if math.isfinite(value) else None


# What files call the conditions, reduced to letters.
_CONDITIONS = {
    "instrumentation": "instrument",
    "instrument": "instrument",
    "instrumentname": "instrument",
    "device": "instrument",
    "model": "instrument",
    "created": "date",
    "date": "date",
    "measuredate": "date",
    "measurementdate": "date",
    "measurementgeometry": "geometry",
    "geometry": "geometry",
    "specular": "specular",
    "specularcomponent": "specular",
    "speccomponent": "specular",
    "measurementsource": "light",
    "measurementcondition": "light",
    "measurementmode": "light",
    "illumination": "light",
    "filter": "light",
    "bandpass": "bandpass",
    "bandwidth": "bandpass",
    "backing": "backing",
    "samplebacking": "backing",
}


def conditions_from(pairs: Mapping[str, str]) -> Conditions:
    """Conditions from a file's own keywords and values."""
    found: dict[str, str] = {}
    for key, value in pairs.items():
        name = _CONDITIONS.get(re.sub(r"[^a-z]", "", key.casefold()))
        if name and value.strip():
            found.setdefault(name, value.strip())
    geometry = geometry_named(found.pop("specular", "")) or geometry_named(
        found.get("geometry", "")
    )
    return Conditions(**found, specular=geometry)


def spectrum(
    name: str,
    wavelengths: Sequence[float],
    values: Sequence[float],
    where: str,
    *,
    percent: bool,
    conditions: Conditions | None = None,
    columns: Mapping[str, str] | None = None,
) -> Spectrum:
    """A checked reading: wavelengths put in rising order and cut to 360-780 nm.

    Raises UserError for repeated wavelengths, numbers that no reading has, or fewer than 8 bands
    within the range.
    """
    scale = 0.01 if percent else 1.0
    pairs = sorted(zip(wavelengths, values, strict=True))
    pairs = [(w, v * scale) for w, v in pairs if SHORTEST_NM <= w <= LONGEST_NM]
    for wavelength, value in pairs:
        if abs(value) > MOST_REFLECTANCE:
            raise UserError(
                f"{value / scale:g} stands there at {wavelength:g} nm; that is no reflectance. "
                "Look whether the column holds readings, and at their scale (--scale).",
                where=where,
            )
    for (first, _), (second, _) in pairwise(pairs):
        if first == second:
            raise UserError(f"{first:g} nm stands there twice; keep one of them.", where=where)
    if len(pairs) < FEWEST_BANDS:
        raise UserError(
            f"Only {len(pairs)} bands between 360 and 780 nm; a spectrum needs {FEWEST_BANDS}.",
            where=where,
        )
    return Spectrum(
        name.strip(),
        tuple(w for w, _ in pairs),
        tuple(v for _, v in pairs),
        where,
        conditions or Conditions(),
        dict(columns or {}),
    )


def is_percent(values: Sequence[float], scale: str, header_says_percent: bool) -> tuple[bool, str]:
    """Whether a file's values are percent, and a note where that was a guess.

    `scale` is `percent`, `fraction` or `auto`; one file has one scale.
    """
    if scale in ("percent", "fraction"):
        return scale == "percent", ""
    if scale != "auto":
        raise UserError(f"Unknown scale {scale!r}; say auto, fraction or percent.")
    if header_says_percent:
        return True, ""
    top = max(values, default=0.0)
    if top > _SURELY_PERCENT:
        return True, ""
    if 1.0 < top <= _SURELY_PERCENT:
        return False, (
            f"the highest value is {top:g}: taken as a fraction; say `--scale percent` if it is "
            "percent"
        )
    return False, ""
