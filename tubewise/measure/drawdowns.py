"""A set of drawdowns of one paint: readings joined with their roles, repeats averaged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.measure.fit import READING_ERROR
from tubewise.measure.manifest import Entry, entries_from_columns
from tubewise.measure.resample import resample
from tubewise.measure.sample_names import (
    CARD,
    MASSTONE,
    TINT,
    WHITE,
    Role,
    paint_from_name,
    plain,
    role_from_name,
)
from tubewise.measure.spectra import Conditions, Spectra, Spectrum

# Repeats on one film read this near to their mean even where it is brushed unevenly.
_SAME_FILM = 0.05
_MOST_FILMS = 500


@dataclass(frozen=True, slots=True, eq=False)
class Drawdown:
    """One drawdown: its `role`, mean reflectance `R` (36,) as read, and its standard error.

    `sigma` (36,) is infinite where nothing was read; `share` is the paint's fraction by volume.
    """

    sample: str
    role: Role
    R: Floats
    sigma: Floats
    share: float
    raw: tuple[Spectrum, ...]


@dataclass(frozen=True, slots=True, eq=False)
class DrawdownSet:
    """All that was measured of one paint.

    `films` are its masstones and tints; `white`, `card_white`, `card_black` are the readings of
    the bare white paint and cards, None when not read. `assumed` and `warnings` are for people.
    """

    films: tuple[Drawdown, ...]
    white: Drawdown | None
    card_white: Drawdown | None
    card_black: Drawdown | None
    conditions: Conditions
    density_known: bool
    assumed: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    raw: tuple[Spectrum, ...] = field(default=())


def drawdown_set(
    files: Sequence[Spectra],
    manifest: Sequence[Entry] = (),
    specular: str = "",
    density: float | None = None,
    white_density: float | None = None,
    only: str = "",
) -> DrawdownSet:
    """Join the readings of `files` with their roles, by the manifest or by names and columns.

    `specular` (`included`, `excluded`) overrides the files; densities are in g/ml. Of files with
    several paints, `only` names the one meant (`rose` of `rose - tint 1:4`). Raises UserError when
    specular is not known, a sample is missing or has no role, repeats are not of one film, or the
    names tell of several paints.
    """
    readings = [reading for file in files for reading in file.spectra]
    readings = readings if manifest else _one_paint(readings, only)
    entries = tuple(manifest) or entries_from_columns(
        (r.columns, r.name, r.where) for r in readings
    )
    if not entries:
        raise _nameless(readings)
    conditions = _conditions(readings, specular)
    warnings = [note for file in files for note in file.notes]
    if specular and any(r.conditions.specular not in ("", specular) for r in readings):
        warnings.append(f"the file says otherwise, but specular was taken as {specular} as told")
    ratio, density_known, assumed = _density_ratio(entries, density, white_density)
    groups = _grouped(readings, entries)
    warnings += _unused(readings, groups)
    drawn: list[Drawdown] = []
    for role, (sample, members) in groups.items():
        drawdown, notes = _drawdown(sample, role, members, ratio)
        drawn.append(drawdown)
        warnings += [note for note in notes if note not in warnings]

    def alone(kind: str, ground: str) -> Drawdown | None:
        return next((d for d in drawn if d.role.kind == kind and d.role.ground == ground), None)

    films = tuple(d for d in drawn if d.role.kind in (MASSTONE, TINT))
    return DrawdownSet(
        films,
        alone(WHITE, "opaque"),
        alone(CARD, "white"),
        alone(CARD, "black"),
        conditions,
        density_known,
        assumed,
        tuple(warnings),
        tuple(r for _, members in groups.values() for r in members),
    )


def _nameless(readings: Sequence[Spectrum]) -> UserError:
    names = ", ".join(sorted({r.name or "(no name)" for r in readings})[:8])
    return UserError(
        "No sample's name says what it is (found: " + names + "). Name them `masstone`, "
        "`tint 1:4`, `masstone over black` …, or list them in a drawdowns.csv and give it "
        "with --manifest (`tubewise measure --template` prints one).",
    )


def _density_ratio(
    entries: Sequence[Entry], density: float | None, white_density: float | None
) -> tuple[float, bool, tuple[str, ...]]:
    """The paint's density over the white's, whether it is known, and what was assumed."""
    density = density or next((e.density for e in entries if e.density), None)
    white_density = white_density or next(
        (e.white_density for e in entries if e.white_density), None
    )
    if density and white_density:
        return density / white_density, True, ()
    if any(e.role.by == "weight" and e.role.kind == TINT for e in entries):
        words = (
            "parts by weight, and the density of the paint or of the white isn't known: both were "
            "taken as equally dense (give --density and --white-density)"
        )
        return 1.0, False, (words,)
    return 1.0, False, ()


def _grouped(
    readings: Sequence[Spectrum], entries: Sequence[Entry]
) -> dict[Role, tuple[str, list[Spectrum]]]:
    """The readings of each role, with the name of its first sample."""
    groups: dict[Role, tuple[str, list[Spectrum]]] = {}
    for entry in entries:
        found = [r for r in readings if _is(r, entry)]
        if not found:
            raise UserError(
                f"No reading is named {entry.sample!r}"
                + (f" in {entry.file}" if entry.file else "")
                + "; found: "
                + ", ".join(sorted({r.name for r in readings})[:12])
                + ".",
                where=entry.where,
            )
        _, group = groups.setdefault(entry.role, (entry.sample, []))
        group += [r for r in found if not any(r is other for other in group)]
    return groups


def _unused(
    readings: Sequence[Spectrum], groups: Mapping[Role, tuple[str, list[Spectrum]]]
) -> list[str]:
    """A warning that names the readings of no role, if there are any."""
    used = {id(r) for _, members in groups.values() for r in members}
    left = sorted({r.name or "(no name)" for r in readings if id(r) not in used})
    if not left:
        return []
    more = " …" if len(left) > 12 else ""
    return [f"not used, as nothing says what they are: {', '.join(left[:12])}{more}"]


def _one_paint(readings: Sequence[Spectrum], only: str) -> list[Spectrum]:
    """Spectra of one paint, by the name in front; whites and cards serve all paints."""
    shared: list[Spectrum] = []
    paints: dict[str, list[Spectrum]] = {}
    for r in readings:
        role, name = role_from_name(r.name), paint_from_name(r.name)
        if role is None or role.kind in (WHITE, CARD):
            shared.append(r)
        else:
            paints.setdefault(name, []).append(r)
    if sum(len(found) for found in paints.values()) > _MOST_FILMS:
        raise UserError(f"More than {_MOST_FILMS} drawdowns; measure one paint at a time.")
    if only:
        chosen = paints.get(plain(only))
        if chosen is None:
            names = ", ".join(sorted(name for name in paints if name)) or "none"
            raise UserError(f"No drawdown is of {only!r}; the names in front are: {names}.")
        return [*chosen, *shared]
    if len(paints) > 1:
        names = ", ".join(sorted(name or "(no name in front)" for name in paints))
        raise UserError(f"The files hold several paints ({names}); say --only NAME for one.")
    return list(readings)


def _is(reading: Spectrum, entry: Entry) -> bool:
    if entry.file and not reading.where.startswith(entry.file):
        return False
    # An entry made from a reading's own columns belongs to that reading alone.
    if entry.where == reading.where and entry.where:
        return reading.name == entry.sample
    return reading.name == entry.sample or plain(reading.name) == plain(entry.sample)


def _conditions(readings: Sequence[Spectrum], specular: str) -> Conditions:
    merged = Conditions()
    for r in readings:
        merged = merged.filled(r.conditions)
    geometries = {r.conditions.specular for r in readings if r.conditions.specular}
    if specular:
        if specular not in ("included", "excluded"):
            raise UserError(f"--specular is `included` or `excluded`, not {specular!r}.")
    elif len(geometries) > 1:
        raise UserError(
            "Some readings include the specular reflection and some exclude it; measure all alike, "
            "or say --specular included or excluded."
        )
    elif not geometries:
        raise UserError(
            "The file doesn't say whether the instrument includes the specular (mirror) "
            "reflection. Say --specular included (sphere, SCI) or --specular excluded (45/0, SCE)."
        )
    else:
        specular = geometries.pop()
    return Conditions(
        merged.instrument,
        merged.date,
        merged.geometry,
        specular,
        merged.light,
        merged.bandpass,
        merged.backing,
    )


def _drawdown(
    title: str, role: Role, members: Sequence[Spectrum], density_ratio: float
) -> tuple[Drawdown, list[str]]:
    rows: list[Floats] = []
    seen: list[NDArray[np.bool_]] = []
    notes: list[str] = []
    for r in members:
        got = resample(r.wavelengths_nm, r.reflectance, r.where)
        rows.append(got.reflectance)
        seen.append(got.measured)
        notes += got.notes
    table, mask = np.stack(rows), np.stack(seen)
    n = mask.sum(axis=0)
    R = np.where(n > 0, (table * mask).sum(axis=0) / np.maximum(n, 1), table.mean(axis=0))
    sigma = np.full(R.shape, READING_ERROR)
    if len(rows) > 1:
        apart = float((np.abs(table - R) * mask).max())
        if apart > _SAME_FILM:
            names = ", ".join(f"{r.name} ({r.where})" for r in members[:6])
            raise UserError(
                f"{names} count as repeats of one film but differ by {200 * apart:.0f} % of "
                "reflectance; name them for what they are."
            )
        spread = float(np.sqrt(((table - R) ** 2 * mask).sum() / max(int((n - 1).sum()), 1)))
        sigma = np.maximum(sigma, spread / np.sqrt(np.maximum(n, 1)))
    sigma = np.where(n > 0, sigma, np.inf)
    paint = role.parts / density_ratio if role.by == "weight" else role.parts
    share = paint / (paint + role.white_parts) if role.kind == TINT else 1.0
    return Drawdown(title, role, R, sigma, share, tuple(members)), notes
