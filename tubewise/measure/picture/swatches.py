"""Colours of daubs on a photograph that also shows something known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, Literal

import numpy as np

from tubewise.apart.process import Progress, run_apart
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lch_from_lab, xyz_from_lab
from tubewise.colour.srgb import lab_from_linear
from tubewise.colour.words import hue_family
from tubewise.errors import UserError
from tubewise.limits import MOST_SECONDS
from tubewise.measure.picture.chart import find_chart, reference_xyz
from tubewise.measure.picture.correction import Correction, fit
from tubewise.measure.picture.daubs import Point, find_daubs
from tubewise.measure.picture.deep import Levels, open_deep, to_look_at
from tubewise.measure.picture.light import Light, light_on
from tubewise.measure.picture.patches import UNEVEN, Patch, patch_at
from tubewise.measure.picture.raw import is_raw, open_raw
from tubewise.optics.swatch import USUAL_GEOMETRY
from tubewise.pictures.opening import Pixels, open_picture

Card = Literal["chart", "white-grey", "paints", "none"]
CARDS: Final[tuple[Card, ...]] = ("chart", "white-grey", "paints", "none")
GREYISH: Final = 9.0  # chroma below which no hue is named
MOST_CLIPPED: Final = 0.05
MOST_SHINY: Final = 0.20
# CIEDE2000 that 95 of 100 recovered daubs stay within, by card: a base, more for each unit of the
# picture's mean residual, and more for each unit of chroma. Measured on rendered scenes other than
# those that test it, docs/photographs.md.
STATED: Final[dict[Card, tuple[float, float, float]]] = {
    "chart": (1.0, 2.0, 0.0), "white-grey": (5.0, 0.0, 0.20), "paints": (8.0, 0.0, 0.20),
}  # fmt: skip


@dataclass(frozen=True, kw_only=True, slots=True)
class KnownPatch:
    """Something known on the picture: where, in pixels, and its CIELAB D65/2°."""

    x: float
    y: float
    lab: tuple[float, float, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Daub:
    """A daub's place in pixels and its CIELAB D65/2°, mirror reflection `excluded`.

    `lab` is None without a card, and where the daub can't be used: `fault` then says why.
    `delta_e_95` is CIEDE2000; `hue` words for the colour as the camera wrote it, uncorrected.
    """

    x: float
    y: float
    radius: float
    lab: tuple[float, float, float] | None
    delta_e_95: float | None
    geometry: str
    hue: str = ""
    fault: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class PictureColours:
    """The daubs of a picture; `residuals` are CIEDE2000 of what is known, left out in turn."""

    where: str
    card: Card
    daubs: tuple[Daub, ...]
    residuals: tuple[float, ...]
    light_share: float
    notes: tuple[str, ...]


def read_swatches(
    path: Path,
    card: Card,
    *,
    known: Sequence[KnownPatch] = (),
    daubs: Sequence[tuple[float, float]] = (),
    linear: bool = False,
) -> PictureColours:
    """Colours of daubs on a photograph, worked out in a process of its own.

    `known` are the white and the grey card, or paints that are known; `daubs` are points in
    pixels, found on the paper where none are given. `linear` says that the file holds linear light
    in 16 bits. Raises UserError.
    """
    found = run_apart(
        "tubewise.measure.picture.swatches:task",
        {
            "path": str(path),
            "card": card,
            "known": [{"x": k.x, "y": k.y, "lab": list(k.lab)} for k in known],
            "daubs": [list(point) for point in daubs],
            "linear": linear,
        },
        seconds=MOST_SECONDS,
    )
    return PictureColours(
        where=found["where"],
        card=found["card"],
        daubs=tuple(
            Daub(**{**daub, "lab": tuple(daub["lab"]) if daub["lab"] else None})
            for daub in found["daubs"]
        ),
        residuals=tuple(found["residuals"]),
        light_share=found["light_share"],
        notes=tuple(found["notes"]),
    )


def task(question: dict[str, Any], progress: Progress) -> dict[str, Any]:
    """What the process apart does."""
    from dataclasses import asdict

    path = Path(question["path"])
    known = [KnownPatch(x=k["x"], y=k["y"], lab=tuple(k["lab"])) for k in question["known"]]
    points = [(float(x), float(y)) for x, y in question["daubs"]]
    raw = is_raw(path)
    if raw or question["linear"]:
        if question["card"] != "chart":
            raise UserError(
                "Linear light comes in the camera's own colours, which only a chart can bring to "
                "ours; take one into the picture, or send the camera's JPEG.",
                where=path.name,
            )
        if not raw:
            open_picture(path)
        fine = open_raw(path) if raw else open_deep(path, linear=True)
        pixels = to_look_at(fine)
    else:
        pixels, fine = open_picture(path), None
    return asdict(colours_on(pixels, question["card"], known, points, where=path.name, fine=fine))


def colours_on(
    pixels: Pixels,
    card: Card,
    known: Sequence[KnownPatch] = (),
    points: Sequence[tuple[float, float]] = (),
    *,
    where: str = "",
    fine: Levels | None = None,
) -> PictureColours:
    """The same on upright pixels; light is taken from `fine` where that is given.

    Raises UserError where what is known can't be used.
    """
    levels = pixels if fine is None else fine
    light, paper = light_on(pixels)
    radius = 0.012 * max(pixels.shape[:2])
    middles, wanted, reach = _known(pixels, card, known, radius)
    patches = [patch_at(levels, x, y, reach) for x, y in middles]
    notes = [] if light.share else ["Too little paper shows how even the light is."]
    usable = _usable(patches, card)
    correction = None
    if card != "none":
        if card == "chart" and _blur(pixels, middles) > 0.5:
            raise UserError(
                "The picture is blurred; take it again with a steady hand.", where=where
            )
        seen = np.array([patch.linear / light.gain(patch.x, patch.y) for patch in patches])
        correction = fit(seen[usable], wanted[usable], raw=fine is not None)
        dropped = len(patches) - int(usable.sum())
        if dropped:
            notes.append(f"{dropped} known patches are too bright for the camera and left out.")
    room = 3.0 * reach if card == "chart" else 4.0 * reach
    chosen: list[Point] = [(x, y, radius) for x, y in points]
    if not chosen:
        chosen = find_daubs(pixels, light, paper, middles, room)
        if not chosen:
            raise UserError("No daubs were found on the paper; say where with --daub x,y.")
    found = [_daub(levels, place, light, correction, card) for place in chosen]
    residuals = correction.residuals if correction else np.zeros(0)
    return PictureColours(
        where=where,
        card=card,
        daubs=tuple(found),
        residuals=tuple(round(float(v), 2) for v in residuals),
        light_share=round(light.share, 3),
        notes=tuple(notes),
    )


def _known(
    pixels: Pixels, card: Card, known: Sequence[KnownPatch], radius: float
) -> tuple[Floats, Floats, float]:
    """Middles (n, 2), XYZ (n, 3) with white Y = 1, and the radius of what is known."""
    if card == "chart":
        middles, reach = find_chart(pixels)
        return middles, reference_xyz() / 100, reach
    if card == "none":
        return np.zeros((0, 2)), np.zeros((0, 3)), radius
    if not known:
        raise UserError("Say where the known patches lie, such as --white 400,300.")
    middles = np.array([[k.x, k.y] for k in known])
    return middles, np.array([xyz_from_lab(k.lab) for k in known]) / 100, radius


def _usable(patches: Sequence[Patch], card: Card) -> Any:
    """Which known patches the camera could still tell apart; raises where too few are left."""
    good = np.array([p.clipped <= MOST_CLIPPED and p.shiny <= MOST_SHINY for p in patches], bool)
    needed = {"chart": 18, "white-grey": 2, "paints": 1, "none": 0}[card]
    if int(good.sum()) < needed:
        raise UserError(
            "What is known on the picture is too bright or shines; take it again a little darker, "
            "with light from the side."
        )
    return good


def _blur(pixels: Pixels, middles: Floats) -> float:
    """The width of the edge of a patch as a share of half a patch: some 0.05 where it is sharp."""
    step = (middles[1] - middles[0]) / np.linalg.norm(middles[1] - middles[0])
    long = float(np.linalg.norm(middles[1] - middles[0]))
    widths = []
    for k in range(18, 23):  # the greys, which differ most surely from the frame between them
        along = middles[k] + np.linspace(0, 0.5, 80)[:, None] * step * long
        x = np.clip(along[:, 0].round().astype(int), 0, pixels.shape[1] - 1)
        y = np.clip(along[:, 1].round().astype(int), 0, pixels.shape[0] - 1)
        levels = pixels[y, x].mean(axis=1).astype(np.float64)
        drop = levels[:10].mean() - levels[-6:].mean()
        if abs(drop) > 25:
            part = (levels - levels[-6:].mean()) / drop
            widths.append(float(np.mean(np.abs(part - 0.5) < 0.35)))
    return float(np.median(widths)) if widths else 0.0


def _daub(
    pixels: Pixels | Levels, place: Point, light: Light, correction: Correction | None, card: Card
) -> Daub:
    x, y, radius = place
    patch = patch_at(pixels, x, y, radius)
    fault = _fault(patch)
    hue = _hue_words(patch.linear / light.gain(x, y))
    if correction is None or fault:
        return Daub(
            x=x, y=y, radius=radius, lab=None, delta_e_95=None, geometry="", hue=hue, fault=fault
        )
    L, a, b = correction.lab(patch.linear / light.gain(x, y))
    base, by_residual, by_chroma = STATED[card]
    stated = base + by_residual * float(np.mean(correction.residuals)) + by_chroma * np.hypot(a, b)
    return Daub(
        x=round(x, 1),
        y=round(y, 1),
        radius=round(radius, 1),
        lab=(round(float(L), 2), round(float(a), 2), round(float(b), 2)),
        delta_e_95=round(float(stated), 1),
        geometry=USUAL_GEOMETRY,
        hue=hue,
        fault="",
    )


def _hue_words(linear: Floats) -> str:
    """The family of a hue as the camera wrote it, good for words and for nothing else."""
    _, chroma, hue = lch_from_lab(lab_from_linear(linear))
    return hue_family(float(hue)) if chroma > GREYISH else "near grey"


def _fault(patch: Patch) -> str:
    if patch.clipped > MOST_CLIPPED:
        return "It is too bright for the camera; take the picture a little darker."
    if patch.shiny > MOST_SHINY:
        return "It shines; move the light to the side."
    if patch.spread > UNEVEN:
        return "It is not one colour where it was looked at; point at an even part."
    return ""
