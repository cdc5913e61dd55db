"""Rendered photographs of daubs, spectrum by spectrum: paint, light, lens, camera and JPEG."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from io import BytesIO
from typing import Any, Literal

import cv2
import numpy as np
from PIL import Image

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.srgb import encoded_from_linear
from tubewise.colour.xyz import xyz_from_reflectance
from tubewise.errors import UserError
from tubewise.measure.picture.chart import reference_spectra
from tubewise.paints.appearance import appearance
from tubewise.paints.shelf import Shelf
from tubewise.pigments.register import load

WIDE, HIGH = 1600, 1100
# CIE illuminants and their correlated colour temperatures (CIE 015:2018).
LIGHTS = {"D65": 6504, "D50": 5003, "A": 2856, "FL2": 4225, "FL11": 4000, "LED-B1": 2733,
          "LED-B3": 4103, "LED-V1": 2724}  # fmt: skip
CAMERAS = ("Nikon 5100 (NPL)", "Sigma SDMerill (NPL)", "invented body")
DAUBS = 8
# Paints that a person may have whose pigment is in the register: white and black come first.
KNOWN = ("PW6", "PBk9", "PB29", "PY42", "PR101", "PG7")
Card = Literal["chart", "white-grey", "paints"]


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A JPEG with daubs on paper and the truth: CIELAB D65/2°, and where everything lies."""

    data: bytes
    lab: Floats
    daubs: tuple[tuple[float, float], ...]
    white: tuple[float, float]
    grey: tuple[float, float]
    known: tuple[tuple[str, float, float], ...]
    light: str
    camera: str


@cache
def _light(name: str) -> Floats:
    import colour

    spectrum = colour.SDS_ILLUMINANTS[name].copy()
    spectrum.interpolate(colour.SpectralShape(380, 730, 10))
    return np.asarray(spectrum.values / spectrum.values.mean())


@cache
def _camera(name: str) -> Floats:
    """Sensitivities (36, 3): two measured bodies from colour-science, one made of bell curves."""
    if name == "invented body":
        bells = [np.exp(-0.5 * ((WAVELENGTHS_NM - m) / s) ** 2)
                 for m, s in ((600, 38), (535, 42), (455, 30))]  # fmt: skip
        return np.array(bells).T
    import colour

    found = colour.MSDS_CAMERA_SENSITIVITIES[name].copy()
    grid = colour.SpectralShape(380, 730, 10)
    values: Floats = np.nan_to_num(np.asarray(found.align(grid).values))
    return values


@cache
def _paints() -> Floats:
    """Opaque films of the register's pigments alone and in tints, reflectance (n, 36)."""
    shelf = Shelf()
    white = shelf.pigment("PW6")
    found = []
    for pigment in load():
        if pigment.code[:2] in ("PM", "NR") or not pigment.code.startswith("P"):
            continue
        try:
            paint = shelf.pigment(pigment.code)
        except UserError:  # no optics of its own
            continue
        for share in (1.0, 0.25):
            K = share * paint.K[0] + (1 - share) * white.K[0]
            S = share * paint.S[0] + (1 - share) * white.S[0]
            found.append(appearance(K, S))
    return np.array(found)


def _rendering(camera: str, light: str) -> Floats:
    """The matrix a camera uses: fitted for A and for D65, blended by the light's temperature.

    So do cameras that write DNG (Adobe, Digital Negative specification, chapter 6).
    """
    warm, cold, here = (1e6 / LIGHTS[name] for name in ("A", "D65", light))
    share = float(np.clip((warm - here) / (warm - cold), 0, 1))
    return share * _fitted(camera, "D65") + (1 - share) * _fitted(camera, "A")


@cache
def _fitted(camera: str, light: str) -> Floats:
    """The matrix a camera maker would fit: raw under a light to linear sRGB, white kept."""
    raw = reference_spectra() @ (_camera(camera) * _light(light)[:, None])
    white = (_camera(camera) * _light(light)[:, None]).sum(axis=0)
    to_srgb = np.linalg.inv(
        np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]).T
    )
    wanted = xyz_from_reflectance(reference_spectra()) / 100 @ to_srgb
    matrix, *_ = np.linalg.lstsq(raw / white, wanted, rcond=None)
    return np.asarray(matrix / matrix.sum(axis=0))


def scene(seed: int, card: Card = "chart", *, linear: bool = False) -> Scene:
    """The scene of a seed: eight daubs on paper beside a chart, two cards or known paints.

    The known paints are three to six, and none is just as the register says: each is one of the
    samples by which the register states how unsure it is of the paint. `linear` makes a PNG of 16
    bits in the camera's own colours, as a raw converter writes it, instead of a JPEG.
    """
    r = np.random.default_rng((seed, 9))
    light, camera = list(LIGHTS)[seed % len(LIGHTS)], CAMERAS[(seed // len(LIGHTS) + seed) % 3]
    paints = _paints()
    chosen = paints[r.choice(len(paints), DAUBS, replace=False)]
    wavelength = (WAVELENGTHS_NM - 555) / 175
    paper = np.clip(0.86 + 0.03 * wavelength, 0, 1) * r.uniform(0.95, 1.02)
    table = np.full(36, 0.3) * np.clip(1 + 0.5 * wavelength, 0.2, 2)
    art = _Drawing(np.tile(table, (1, 1)))
    corners = np.array([[60, 60], [1540, 60], [1540, 1040], [60, 1040]], float)
    art.add(corners, paper)
    if card == "chart":
        frame = np.array([[90, 90], [870, 90], [870, 620], [90, 620]], float)
        art.add(frame, np.full(36, 0.045))
        for k, spectrum in enumerate(reference_spectra()):
            row, column = divmod(k, 6)
            x, y = 90 + 15 + column * 126, 90 + 14 + row * 128
            art.add(np.array([[x, y], [x + 110, y], [x + 110, y + 112], [x, y + 112]]), spectrum)
    art.add(np.array([[950, 110], [1180, 110], [1180, 340], [950, 340]]), np.full(36, 0.90))
    art.add(np.array([[1230, 110], [1460, 110], [1460, 340], [1230, 340]]), np.full(36, 0.18))
    known = _known_paints(np.random.default_rng((seed, 10))) if card == "paints" else []
    for k, (_, spectrum) in enumerate(known):
        art.add(_rough_disc(190 + k * 130, 500 + 30 * (k % 2), 50, k), spectrum)
    middles = []
    for k, spectrum in enumerate(chosen):
        x, y = 190 + (k % 8) * 175, 800 + 40 * (k % 2)
        art.add(_rough_disc(x, y, 62, k), spectrum)
        middles.append((x, y))
    turn = r.uniform(-0.05, 0.05, (4, 2)) * [WIDE, HIGH] * 0.6
    source = np.array([[0, 0], [WIDE, 0], [WIDE, HIGH], [0, HIGH]], np.float32)
    warp = cv2.getPerspectiveTransform(source, (source * 0.94 + 40 + turn).astype(np.float32))
    data = _photographed(art, warp, light, camera, r, linear)

    def moved(point: tuple[float, float]) -> tuple[float, float]:
        x, y = cv2.perspectiveTransform(np.array([[point]], np.float64), warp)[0, 0]
        return float(x), float(y)

    return Scene(
        data=data,
        lab=lab_from_reflectance(chosen),
        daubs=tuple(map(moved, middles)),
        white=moved((1065, 225)),
        grey=moved((1345, 225)),
        known=tuple(
            (code, *moved((190 + k * 130, 500 + 30 * (k % 2)))) for k, (code, _) in enumerate(known)
        ),
        light=light,
        camera=camera,
    )


def _rough_disc(x: float, y: float, radius: float, wave: int) -> Floats:
    angles = np.linspace(0, 2 * np.pi, 30)
    rough = radius * (1 + 0.1 * np.sin(3 * angles + wave))
    return np.column_stack([x + rough * np.cos(angles), y + rough * np.sin(angles)])


def _known_paints(r: Any) -> list[tuple[str, Floats]]:
    found = []
    for code in KNOWN[: r.integers(3, len(KNOWN) + 1)]:
        paint = Shelf().pigment(code)
        sample = r.integers(1, len(paint.K))
        found.append((code, appearance(paint.K[sample], paint.S[sample])))
    return found


class _Drawing:
    """Areas one over another, each with its spectrum."""

    def __init__(self, spectra: Floats) -> None:
        self.spectra = list(spectra)
        self.areas: list[Any] = []

    def add(self, corners: Any, spectrum: Floats) -> None:
        self.areas.append(np.asarray(corners, dtype=np.float64))
        self.spectra.append(spectrum)


def _photographed(art: _Drawing, warp: Any, light: str, camera: str, r: Any, linear: bool) -> bytes:
    sensed = _camera(camera) * _light(light)[:, None]
    raw = np.array(art.spectra) @ sensed
    white = sensed.sum(axis=0) * r.uniform(0.97, 1.03, 3)  # the camera's own white balance errs
    rendering = np.eye(3) if linear else _rendering(camera, light)
    colours = np.maximum(raw / white @ rendering, 0)
    image = np.tile(colours[0].astype(np.float32), (HIGH, WIDE, 1))
    for corners, colour in zip(art.areas, colours[1:], strict=True):
        points = cv2.perspectiveTransform(corners[None], warp)[0]
        cv2.fillPoly(image, [np.round(points * 16).astype(np.int32)], colour.tolist(), shift=4,
                     lineType=cv2.LINE_8)  # fmt: skip
    x, y = np.linspace(-1, 1, WIDE)[None], np.linspace(-1, 1, HIGH)[:, None]
    lean = r.uniform(0, 2 * np.pi)
    fall = np.exp(-r.uniform(0.05, 0.3) * (x * np.cos(lean) + y * np.sin(lean))
                  - r.uniform(0, 0.12) * (x**2 + y**2))  # fmt: skip
    image *= fall[..., None].astype(np.float32) * r.uniform(0.62, 0.8) / fall.max()
    image = cv2.GaussianBlur(image, (0, 0), 0.8)
    image += (
        r.normal(0, 1, image.shape).astype(np.float32) * np.sqrt(np.maximum(image, 1e-4)) * 0.012
    )
    if linear:
        deep = np.round(np.clip(image, 0, 1) * 65535).astype(np.uint16)
        return bytes(cv2.imencode(".png", deep[:, :, ::-1])[1])
    toned = np.clip(image, 0, 1) ** r.uniform(0.92, 1.08)  # every camera has a curve of its own
    saved = BytesIO()
    levels = np.clip(np.round(encoded_from_linear(toned) * 255), 0, 255).astype(np.uint8)
    Image.fromarray(levels).save(saved, "JPEG", quality=92)
    return saved.getvalue()
