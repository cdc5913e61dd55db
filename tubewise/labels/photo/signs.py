"""Read a strip of print sign by sign, with what else each sign may be."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from importlib.resources import files
from itertools import pairwise
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from tubewise.errors import UserError
from tubewise.labels.photo.finding import threads
from tubewise.labels.photo.lines import Quad, Sign, length_and_height
from tubewise.pictures.opening import Pixels

HEIGHT: Final = 48  # pixels the reader wants
LONGEST: Final = 2400
BATCH: Final = 6
LEAST_OTHER: Final = 0.004
# What labels in Latin letters are printed with; the reader knows some 18,000 signs more.
_SIGNS: Final = frozenset(
    "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz "
    ".,:;!?()[]/&+-–'’\"#%*°·•|_@=<>®™"
    "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÕÖØÙÚÛÜÝßàáâãäåæçèéêëìíîïñòóôõöøùúûüýÿœŒąćęłńóśźżĄĆĘŁŃŚŹŻ€ª№"
)


@lru_cache(maxsize=1)
def _reader() -> tuple[Any, tuple[str, ...], npt.NDArray[np.bool_]]:
    import onnxruntime

    models = sorted(
        str(path) for path in files("rapidocr").joinpath("models").iterdir() if "rec" in path.name
    )
    if not models:
        raise UserError("The reader's model is missing; install tubewise[photos] once more.")
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = threads()
    options.inter_op_num_threads = 1
    options.log_severity_level = 4
    session = onnxruntime.InferenceSession(models[0], options, providers=["CPUExecutionProvider"])
    listed = session.get_modelmeta().custom_metadata_map["character"].split("\n")
    classes = session.get_outputs()[0].shape[-1]
    characters = ("", *listed, " ")
    if isinstance(classes, int):
        characters = (*characters, *[" "] * classes)[:classes]
    allowed = np.array([not c or c in _SIGNS for c in characters])
    return session, characters, allowed


def strip_of(pixels: Pixels, quad: Quad, *, stretch: float = 1.0, grow: float = 0.0) -> Pixels:
    """The print in a quad, laid straight, 48 pixels high; `grow` widens the quad by its height."""
    import cv2

    long, high = length_and_height(quad)
    corners = quad
    if grow:
        sides = (quad[1] - quad[0]) / max(long, 1.0), (quad[3] - quad[0]) / max(high, 1.0)
        spare = grow * high
        signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
        corners = np.array(
            [
                q + spare * (a * sides[0] + b * sides[1])
                for q, (a, b) in zip(quad, signs, strict=True)
            ]
        )
        long, high = long + 2 * spare, high + 2 * spare
    size = max(8, round(long)), max(8, round(high))
    target = np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]], np.float32)
    warp = cv2.getPerspectiveTransform(corners.astype(np.float32), target)
    flat = cv2.warpPerspective(
        pixels, warp, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    wide = int(np.clip(round(HEIGHT * long / high * stretch), 16, LONGEST))
    way = cv2.INTER_AREA if high > HEIGHT else cv2.INTER_CUBIC
    strip = cv2.resize(flat, (wide, HEIGHT), interpolation=way)
    return np.asarray(strip, dtype=np.uint8)


def read_strips(strips: Sequence[Pixels]) -> list[tuple[Sign, ...]]:
    """The signs of each strip (48 pixels high, RGB), in order."""
    session, characters, allowed = _reader()
    name = session.get_inputs()[0].name
    found: list[tuple[Sign, ...]] = [()] * len(strips)
    order = sorted(range(len(strips)), key=lambda i: strips[i].shape[1])
    for start in range(0, len(order), BATCH):
        chosen = order[start : start + BATCH]
        widest = max(320, *(strips[i].shape[1] for i in chosen))
        batch = np.zeros((len(chosen), 3, HEIGHT, widest), np.float32)
        for row, i in enumerate(chosen):
            strip = strips[i][..., ::-1].astype(np.float32) / 127.5 - 1.0
            batch[row, :, :, : strip.shape[1]] = strip.transpose(2, 0, 1)
        likely = session.run(None, {name: batch})[0]
        for row, i in enumerate(chosen):
            own = likely[row] * allowed
            own /= np.maximum(own.sum(axis=1, keepdims=True), 1e-9)
            found[i] = _signs(own, characters, widest / strips[i].shape[1])
    return found


def _signs(
    likely: npt.NDArray[np.float32], characters: Sequence[str], padding: float
) -> tuple[Sign, ...]:
    """Signs from each frame's probabilities: runs of the likeliest, blanks between them dropped."""
    best = likely.argmax(axis=1)
    edges = [0, *(np.flatnonzero(np.diff(best)) + 1).tolist(), len(best)]
    found = []
    for start, end in pairwise(edges):
        which = int(best[start])
        if not which:
            continue
        peak = start + int(likely[start:end, which].argmax())
        ranked = np.argsort(likely[peak])[::-1][:6]
        others = tuple(
            (characters[int(k)], float(likely[peak, k]))
            for k in ranked
            if int(k) != which and likely[peak, k] >= LEAST_OTHER
        )
        found.append(
            Sign(
                character=characters[which],
                probability=float(likely[peak, which]),
                others=others,
                place=min(1.0, (peak + 0.5) / len(best) * padding),
            )
        )
    return tuple(found)
