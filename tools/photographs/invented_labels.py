"""Labels of invented paints: what is printed, where it stands, and in which type."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import numpy as np

from tubewise.pigments.register import load

FONT_FOLDER: Final = Path("/usr/share/fonts")
# Debian's packages fonts-dejavu-core, fonts-liberation, fonts-lato, fonts-roboto-unhinted,
# fonts-open-sans, fonts-ebgaramond and fonts-cantarell.
FONT_FILES: Final = (
    "truetype/dejavu/DejaVuSans.ttf",
    "truetype/dejavu/DejaVuSerif.ttf",
    "truetype/liberation/LiberationSans-Regular.ttf",
    "truetype/liberation/LiberationSans-Bold.ttf",
    "truetype/liberation/LiberationSerif-Regular.ttf",
    "truetype/liberation/LiberationSansNarrow-Regular.ttf",
    "truetype/lato/Lato-Regular.ttf",
    "truetype/lato/Lato-Medium.ttf",
    "truetype/roboto/unhinted/RobotoTTF/Roboto-Regular.ttf",
    "truetype/roboto/unhinted/RobotoCondensed-Regular.ttf",
    "truetype/open-sans/OpenSans-Regular.ttf",
    "opentype/ebgaramond/EBGaramond12-Regular.otf",
    "opentype/cantarell/Cantarell-Regular.otf",
)
MAKERS: Final = ("Oakfen", "Thornquay", "Marlholt", "Brackwater", "Linnet & Daw")
LANGUAGES: Final = ("en", "de", "fr", "es", "it")
_INTRO: Final = {"en": "Pigments:", "de": "Pigmente:", "fr": "Pigments :", "es": "Pigmentos:",
                 "it": "Pigmenti:"}  # fmt: skip
_KIND: Final = {"en": "Artists' acrylic", "de": "Künstler-Acrylfarbe", "fr": "Acrylique extra-fine",
                "es": "Acrílico para artistas", "it": "Acrilico per artisti"}  # fmt: skip
_SMALL: Final = {
    "en": ("Keep out of reach of children.", "Clean brushes with water.", "Shake gently."),
    "de": ("Für Kinder unzugänglich aufbewahren.", "Pinsel mit Wasser reinigen.", "Kühl lagern."),
    "fr": ("Tenir hors de portée des enfants.", "Nettoyer les pinceaux à l'eau.", "Bien agiter."),
    "es": ("Mantener fuera del alcance de los niños.", "Limpiar con agua.", "Agitar bien."),
    "it": ("Tenere fuori dalla portata dei bambini.", "Pulire con acqua.", "Agitare bene."),
}
_HUES: Final = {
    "en": {"red": "red", "yellow": "yellow", "blue": "blue", "green": "green", "violet": "violet",
           "orange": "orange", "brown": "brown", "black": "black", "white": "white"},
    "de": {"red": "rot", "yellow": "gelb", "blue": "blau", "green": "grün", "violet": "violett",
           "orange": "orange", "brown": "braun", "black": "schwarz", "white": "weiß"},
    "fr": {"red": "rouge", "yellow": "jaune", "blue": "bleu", "green": "vert", "violet": "violet",
           "orange": "orange", "brown": "brun", "black": "noir", "white": "blanc"},
    "es": {"red": "rojo", "yellow": "amarillo", "blue": "azul", "green": "verde",
           "violet": "violeta", "orange": "naranja", "brown": "marrón", "black": "negro",
           "white": "blanco"},
    "it": {"red": "rosso", "yellow": "giallo", "blue": "blu", "green": "verde", "violet": "viola",
           "orange": "arancio", "brown": "bruno", "black": "nero", "white": "bianco"},
}  # fmt: skip
_FANCY: Final = ("Harebell", "Rowan", "Tarn", "Lichen", "Kelp", "Ember", "Quarry", "Sedge", "Sloe",
                 "Fallow", "Heron", "Peat")  # fmt: skip
# How the pigments are printed: {c} code, {s} code with a gap, {d} with points, {n} number.
STYLES: Final = ("plain", "spaced", "dotted", "index", "number", "long", "stacked", "bare")
# What stands where: the name above or below, the small print after it or beside the pigments.
ARRANGEMENTS: Final = ("name-first", "name-last", "pigments-first", "two-columns", "centred",
                       "boxed", "rule", "capitals")  # fmt: skip
LAYOUTS: Final = tuple(itertools.product(ARRANGEMENTS, STYLES))


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """A printed line: `size_mm` is the height of its capitals."""

    text: str
    size_mm: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Label:
    """An invented label and the truth about it."""

    name: str
    codes: tuple[str, ...]
    lines: tuple[Line, ...]
    arrangement: str
    font: Path
    language: str
    size_ml: int


def fonts() -> tuple[Path, ...]:
    """The type that is installed, in a fixed order."""
    return tuple(FONT_FOLDER / f for f in FONT_FILES if (FONT_FOLDER / f).exists())


def label(seed: int, layout: int, small_mm: float) -> Label:
    """The label of a seed: layout by number, its small print `small_mm` high (capitals)."""
    draw = np.random.default_rng((seed, 1))
    arrangement, style = LAYOUTS[layout % len(LAYOUTS)]
    language = LANGUAGES[seed % len(LANGUAGES)]
    register = [p for p in load() if p.code[0] == "P" and p.constitutions and p.hue in _HUES["en"]]
    chosen = draw.choice(len(register), 1 + int(draw.random() < 0.45), replace=False)
    pigments = [register[int(i)] for i in chosen]
    hue = _HUES[language][pigments[0].hue]
    name = (
        f"{draw.choice(_FANCY)} {hue}"
        if language in ("en", "de")
        else (f"{hue} {draw.choice(_FANCY)}")
    )
    if arrangement == "capitals":
        name = name.upper()
    size_ml = int(draw.choice([20, 37, 40, 60, 75, 120]))
    printed = [_printed(p.code, p.constitutions[0], p.hue, style) for p in pigments]
    intro = "" if style == "bare" else _INTRO[language]
    together = f"{intro} {', '.join(printed)}".strip()
    rows = [intro, *printed] if style == "stacked" else [together]
    small = [Line(text=row, size_mm=small_mm) for row in rows]
    notes = [Line(text=t, size_mm=small_mm) for t in draw.permutation(_SMALL[language])[:2]]
    notes.append(
        Line(text=f"{size_ml} ml e  LOT {draw.integers(10_000, 99_999)}", size_mm=small_mm)
    )
    head = [
        Line(text=name, size_mm=3.2),
        Line(text=_KIND[language], size_mm=small_mm * 1.2),
    ]
    maker = Line(text=str(draw.choice(MAKERS)), size_mm=2.6)
    orders = {
        "name-first": [maker, *head, *small, *notes],
        "name-last": [*small, *notes, *head, maker],
        "pigments-first": [*small, *head, *notes, maker],
    }
    lines = orders.get(arrangement, [maker, *head, *small, *notes])
    return Label(
        name=name,
        codes=tuple(p.code for p in pigments),
        lines=tuple(lines),
        arrangement=arrangement,
        font=fonts()[int(draw.integers(len(fonts())))],
        language=language,
        size_ml=size_ml,
    )


def _printed(code: str, number: str, hue: str, style: str) -> str:
    letters = code.rstrip("0123456789:")
    figure = code[len(letters) :]
    if style == "spaced":
        return f"{letters} {figure}"
    if style == "dotted":
        return f"P.{letters[1:]}.{figure}"
    if style == "index":
        return f"{code} (C.I. {number})"
    if style == "number":
        return f"C.I. {number} {code}"
    if style == "long":
        word = {"Bk": "Black", "Br": "Brown"}.get(letters[1:], hue.capitalize())
        full = {"R": "Red", "Y": "Yellow", "O": "Orange", "V": "Violet", "B": "Blue", "G": "Green",
                "W": "White"}.get(letters[1:], word)  # fmt: skip
        return f"Pigment {full} {figure}"
    return code
