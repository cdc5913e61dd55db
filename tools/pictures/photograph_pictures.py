"""Pictures of what photographs give, as JPEG: of invented tubes and rendered daubs."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PIL import Image, ImageDraw

from tools.photographs.swatch_scenes import scene
from tools.photographs.tube_pictures import box, photograph
from tubewise.colour.patch import Colour
from tubewise.labels.photo.marking import marked
from tubewise.labels.photo.read import read_pixels
from tubewise.measure.picture.swatches import colours_on
from tubewise.pictures.opening import Pixels, open_picture
from tubewise.pictures.saving import jpeg


def label() -> bytes:
    """A tube that lies askew in bad light: what is read, and what is doubted."""
    return jpeg(_shown(photograph(3, "hard").data)[150:1850, 850:2200], most_side=900, quality=80)


def twelve() -> bytes:
    """The backs of a box in two rows."""
    return jpeg(_shown(box(5).data), most_side=1100, quality=72)


def daubs() -> bytes:
    """A chart and eight daubs, and below each daub its colour as read."""
    pixels = open_picture(scene(6).data)
    found = colours_on(pixels, "chart")
    image = Image.fromarray(pixels)
    pen = ImageDraw.Draw(image)
    for daub in found.daubs:
        if daub.lab is None:
            continue
        r = daub.radius
        pen.ellipse((daub.x - r, daub.y - r, daub.x + r, daub.y + r), outline="black", width=2)
        below = daub.y + 95
        chip = (daub.x - 55, below, daub.x + 55, below + 60)
        pen.rectangle(chip, fill=Colour.of(daub.lab).hex, outline="black")
    return jpeg(np.asarray(image, dtype=np.uint8), most_side=900, quality=80)


def _shown(data: bytes) -> Pixels:
    pixels = open_picture(data)
    return marked(pixels, read_pixels(pixels))


PHOTOGRAPHS: dict[str, Callable[[], bytes]] = {
    "photograph-label": label,
    "photograph-box": twelve,
    "photograph-daubs": daubs,
}
