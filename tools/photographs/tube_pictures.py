"""Photographs of invented tubes: a bent label in perspective, light, gloss, noise, blur, JPEG."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any, Final

import cv2
import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw, ImageFont

from tools.photographs.invented_labels import LAYOUTS, Label, label

Picture = npt.NDArray[np.uint8]
WIDE, HIGH = 4000, 3000
DIFFICULTIES: Final = ("easy", "middle", "hard")


@dataclass(frozen=True, kw_only=True, slots=True)
class Conditions:
    """How a tube was photographed. Angles in degrees, blur as sigma in pixels, noise in levels."""

    small_mm: float
    turn: float
    tilt: float
    shade: float
    gloss: float
    noise: float
    blur: float
    quality: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Photograph:
    """A JPEG and the truth about it."""

    data: bytes
    labels: tuple[Label, ...]
    difficulty: str
    conditions: Conditions


def conditions(seed: int, difficulty: str) -> Conditions:
    """What befalls the picture of this seed."""
    r = np.random.default_rng((seed, 2))
    quarter = float(r.choice([0, 0, 0, 90, 180, 270]))
    if difficulty == "easy":
        return Conditions(small_mm=r.uniform(1.6, 2.0), turn=r.uniform(-4, 4), tilt=r.uniform(0, 8),
                          shade=r.uniform(0, 0.2), gloss=0.0, noise=r.uniform(1, 4),
                          blur=r.uniform(0.3, 1.0), quality=92)  # fmt: skip
    if difficulty == "middle":
        return Conditions(small_mm=r.uniform(1.2, 1.8), turn=quarter + r.uniform(-20, 20),
                          tilt=r.uniform(5, 25), shade=r.uniform(0.2, 0.5),
                          gloss=r.uniform(0.2, 0.6), noise=r.uniform(3, 8),
                          blur=r.uniform(0.6, 1.8), quality=85)  # fmt: skip
    return Conditions(small_mm=r.uniform(1.0, 1.4), turn=quarter + r.uniform(-40, 40),
                      tilt=r.uniform(15, 35), shade=r.uniform(0.4, 0.7), gloss=r.uniform(0.5, 1.0),
                      noise=r.uniform(6, 14), blur=r.uniform(1.5, 3.5), quality=60)  # fmt: skip


def photograph(seed: int, difficulty: str) -> Photograph:
    """One tube at 12 megapixels; the same seed gives the same picture."""
    found = conditions(seed, difficulty)
    made = label(seed, seed % len(LAYOUTS), found.small_mm)
    flat, alpha = tube_seen(made, seed, px_per_mm=30.0)
    scene = _table(seed, WIDE, HIGH)
    scene = _placed(scene, flat, alpha, seed, found)
    return Photograph(data=_camera(scene, seed, found), labels=(made,), difficulty=difficulty,
                      conditions=found)  # fmt: skip


def box(seed: int, tubes: int = 12) -> Photograph:
    """All backs of a box in a row, upright, at 12 megapixels."""
    base = conditions(seed, "middle")
    found = Conditions(small_mm=1.8, turn=0.0, tilt=4.0, shade=0.25, gloss=0.2, noise=3.0,
                       blur=0.5, quality=92)  # fmt: skip
    scene = _table(seed, WIDE, HIGH)
    per_row = min(tubes, 6)
    rows = -(-tubes // per_row)
    scale = min(WIDE / (per_row * 34.0), HIGH / (rows * 118.0))
    made = []
    for place in range(tubes):
        tube_label = label(seed * 100 + place, seed * 7 + place * 5, found.small_mm)
        flat, alpha = tube_seen(tube_label, seed * 100 + place, px_per_mm=scale)
        flat, alpha = np.rot90(flat), np.rot90(alpha)
        row, column = divmod(place, per_row)
        top = int(row * HIGH / rows + (HIGH / rows - flat.shape[0]) / 2)
        left = int(column * WIDE / per_row + (WIDE / per_row - flat.shape[1]) / 2)
        top, left = max(top, 0), max(left, 0)
        part = scene[top : top + flat.shape[0], left : left + flat.shape[1]]
        mask = alpha[: part.shape[0], : part.shape[1], None]
        part[:] = part * (1 - mask) + flat[: part.shape[0], : part.shape[1]] * mask
        made.append(tube_label)
    del base
    return Photograph(data=_camera(scene, seed, found), labels=tuple(made), difficulty="box",
                      conditions=found)  # fmt: skip


def plain_photograph(made: Label, seed: int = 1) -> bytes:
    """A JPEG of a little over a megapixel: the tube lies straight before the camera."""
    found = Conditions(small_mm=2.0, turn=0.0, tilt=0.0, shade=0.1, gloss=0.0, noise=2.0,
                       blur=0.4, quality=92)  # fmt: skip
    flat, alpha = tube_seen(made, seed, px_per_mm=14.0)
    scene = _table(seed, flat.shape[1] + 120, flat.shape[0] + 200)
    part = scene[100:-100, 60:-60]
    part[:] = part * (1 - alpha[..., None]) + flat * alpha[..., None]
    return _camera(scene, seed, found)


def tube_seen(
    made: Label, seed: int, px_per_mm: float
) -> tuple[npt.NDArray[Any], npt.NDArray[Any]]:
    """A tube lying along x, its bent label towards the camera: linear-ish RGB 0-1 and coverage."""
    r = np.random.default_rng((seed, 3))
    label_mm = (78.0, 34.0)
    art = _artwork(made, r, label_mm, px_per_mm)
    # A label wrapped over a cylinder of 28 mm: what stands at arc s is seen at R sin(s / R).
    radius = 14.0
    seen = int(2 * radius * px_per_mm)
    y = (np.arange(seen) + 0.5) / px_per_mm - radius
    arc = radius * np.arcsin(np.clip(y / radius, -0.9999, 0.9999))
    rows = ((arc + label_mm[1] / 2) * px_per_mm).astype(np.float32)
    columns = np.arange(art.shape[1], dtype=np.float32)
    x, y_of = np.meshgrid(columns, rows)
    mapped = cv2.remap(art, x, y_of, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    rounded = np.sqrt(np.clip(1 - (y / radius) ** 2, 0, 1))
    lit = 0.45 + 0.55 * rounded
    body = mapped.astype(np.float32) / 255 * lit[:, None, None]
    end = int(9 * px_per_mm)
    metal = np.ones((seen, end, 3), np.float32) * (0.62 * lit[:, None, None])
    cap = np.ones((seen, int(14 * px_per_mm), 3), np.float32) * (0.12 + 0.1 * lit[:, None, None])
    whole = np.concatenate([metal, body, cap], axis=1)
    alpha = np.ones(whole.shape[:2], np.float32)
    narrow = int(0.18 * seen)
    alpha[:narrow, -cap.shape[1] :] = 0
    alpha[-narrow:, -cap.shape[1] :] = 0
    return whole, alpha


def _artwork(made: Label, r: Any, label_mm: tuple[float, float], px: float) -> Picture:
    wide, high = int(label_mm[0] * px), int(label_mm[1] * px)
    paper = tuple(int(v) for v in r.choice([[250, 248, 242], [236, 238, 240], [252, 240, 214],
                                            [40, 44, 52], [224, 232, 226]]))  # fmt: skip
    ink = (245, 245, 240) if sum(paper) < 300 else (24, 24, 28)
    image = Image.new("RGB", (wide, high), paper)
    pen = ImageDraw.Draw(image)
    band = tuple(int(v) for v in r.integers(30, 220, 3))
    pen.rectangle((0, 0, int(5 * px), high), fill=band)
    left, top = 8 * px, 6.5 * px
    second = label_mm[0] * px * 0.52
    rows = list(made.lines)
    columns = [rows]
    thin = max(1, int(px / 5))
    if made.arrangement == "two-columns":
        columns = [rows[:3], rows[3:]]
    for number, column in enumerate(columns):
        y = top
        # A label that is fuller than its paper is set tighter, as a printer would do.
        while sum(line.size_mm for line in column) * 1.5 > label_mm[1] - 12:
            column = column[:-1]  # the last notes find no room; pigments never stand last
        lead = min(1.75, (label_mm[1] - 12) / sum(line.size_mm for line in column))
        for line in column:
            font = _font(made, line.size_mm * px)
            x = left if number == 0 else second
            room = (second if len(columns) > 1 and number == 0 else wide) - x - 2 * px
            while pen.textlength(line.text, font=font) > room and font.size > 8:
                font = font.font_variant(size=font.size * 0.94)
            if made.arrangement == "centred":
                x = left + max(0.0, (room - pen.textlength(line.text, font=font)) / 2)
            pen.text((x, y), line.text, font=font, fill=ink)
            y += line.size_mm * px * lead
        if made.arrangement == "boxed":
            pen.rectangle(
                (left - px, top - px, wide - px, y + px), outline=ink, width=max(1, int(px / 5))
            )
        if made.arrangement == "rule":
            pen.line((left, top - px, wide - 2 * px, top - px), fill=ink, width=thin)
    return np.asarray(image)


def _font(made: Label, capital_px: float) -> ImageFont.FreeTypeFont:
    trial = ImageFont.truetype(str(made.font), 100)
    box = trial.getbbox("H")
    return ImageFont.truetype(str(made.font), max(6.0, capital_px * 100 / (box[3] - box[1])))


def _table(seed: int, wide: int, high: int) -> npt.NDArray[np.float32]:
    r = np.random.default_rng((seed, 4))
    base = r.uniform(0.25, 0.75, 3).astype(np.float32) * 0.4 + 0.3
    small = r.normal(0, 1, (high // 40, wide // 40)).astype(np.float32)
    grain = cv2.resize(small, (wide, high), interpolation=cv2.INTER_CUBIC)
    return base + 0.02 * grain[..., None]


def _placed(scene: npt.NDArray[np.float32], flat: npt.NDArray[Any], alpha: npt.NDArray[Any],
            seed: int, found: Conditions) -> npt.NDArray[np.float32]:  # fmt: skip
    r = np.random.default_rng((seed, 5))
    high, wide = flat.shape[:2]
    quad = np.array([[-wide, -high], [wide, -high], [wide, high], [-wide, high]], float) / 2
    turn, tilt = np.radians(found.turn), np.radians(found.tilt)
    spun = quad @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    lean = r.uniform(0, 2 * np.pi)
    axis = np.array([np.cos(lean), np.sin(lean)])
    depth = 1 + (spun @ axis) * np.sin(tilt) / 6000
    spun = (spun - np.outer(spun @ axis, axis) * (1 - np.cos(tilt))) / depth[:, None]
    span = np.ptp(spun, axis=0)
    scale = min(1.0, 0.94 * WIDE / span[0], 0.94 * HIGH / span[1])
    spun *= scale
    spare = (np.array([WIDE, HIGH]) - np.ptp(spun, axis=0)) / 2
    middle = np.array([WIDE, HIGH]) / 2 + spare * r.uniform(-0.6, 0.6, 2)
    spun += middle - (spun.max(0) + spun.min(0)) / 2
    source = np.array([[0, 0], [wide, 0], [wide, high], [0, high]], np.float32)
    warp = cv2.getPerspectiveTransform(source, spun.astype(np.float32))
    area = cv2.INTER_AREA if scale < 0.7 else cv2.INTER_LINEAR
    seen = cv2.warpPerspective(flat.astype(np.float32), warp, (WIDE, HIGH), flags=area)
    mask = cv2.warpPerspective(alpha.astype(np.float32), warp, (WIDE, HIGH))[..., None]
    if found.gloss:
        streak = np.zeros((high, wide), np.float32)
        at = int(high * r.uniform(0.2, 0.8))
        rows = np.exp(-(((np.arange(high) - at) / (0.045 * high)) ** 2))
        ends = 0.5 + 0.5 * np.cos((np.arange(wide) / wide - r.uniform(0, 1)) * 2 * np.pi)
        streak += found.gloss * 0.8 * rows[:, None] * ends[None]
        seen = seen + cv2.warpPerspective(streak, warp, (WIDE, HIGH))[..., None]
    return scene * (1 - mask) + seen * mask


def _camera(scene: npt.NDArray[np.float32], seed: int, found: Conditions) -> bytes:
    r = np.random.default_rng((seed, 6))
    high, wide = scene.shape[:2]
    lean = r.uniform(0, 2 * np.pi)
    x, y = np.linspace(-1, 1, wide, dtype=np.float32), np.linspace(-1, 1, high, dtype=np.float32)
    across = (x[None] * np.cos(lean) + y[:, None] * np.sin(lean)).astype(np.float32)
    shade = 1 - found.shade * 0.5 * (1 + across)
    if found.shade > 0.35:  # half of it lies in a shadow with a soft edge
        shade *= 1 - 0.45 * found.shade / (1 + np.exp(-(across - r.uniform(-0.4, 0.4)) * 14))
    lit = (
        scene
        * shade[..., None]
        * np.array([1.0, r.uniform(0.95, 1), r.uniform(0.86, 1)], np.float32)
    )
    blurred = cv2.GaussianBlur(lit, (0, 0), found.blur)
    small = r.integers(0, 2**31)
    noise = np.empty((high, wide, 3), np.float32)
    cv2.setRNGSeed(int(small % 2**31 - 1))
    cv2.randn(noise, np.zeros(3), np.full(3, found.noise / 255))
    out = np.clip((blurred + noise) * 255, 0, 255).astype(np.uint8)
    saved = BytesIO()
    Image.fromarray(out).save(saved, "JPEG", quality=found.quality)
    return saved.getvalue()
