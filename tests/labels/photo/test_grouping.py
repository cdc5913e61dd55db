"""Lines of one tube belong together and are read in order, columns one after the other."""

from __future__ import annotations

import numpy as np

from tests.labels.photo.printed import line
from tubewise.labels.photo.finding import whole_lines
from tubewise.labels.photo.grouping import reading_order, tubes_of
from tubewise.labels.photo.lines import Quad, lengthwise

RIGHT = np.array([1.0, 0.0])


def two_labels() -> np.ndarray:
    """Two white labels on a dark table, with room between them."""
    pixels = np.full((400, 1200, 3), 40, np.uint8)
    pixels[:, 20:560] = 240
    pixels[:, 640:1180] = 240
    return pixels


def quad(x: float, y: float, text: str = "Pigments: PR22") -> Quad:
    return line(text, x=x, y=y).quad


def test_two_tubes_side_by_side_are_two_groups() -> None:
    quads = [quad(60, 50), quad(60, 85), quad(700, 50), quad(700, 85)]
    assert tubes_of(quads, two_labels()) == [[0, 1], [2, 3]]


def test_two_columns_of_one_label_are_one_tube() -> None:
    quads = [quad(30, 50, "Oakfen"), quad(30, 90, "Rowan"), quad(300, 50), quad(300, 90)]
    assert tubes_of(quads, two_labels()) == [[0, 1, 2, 3]]
    assert reading_order(quads, RIGHT) == [[0], [1], [2], [3]]


def test_parts_of_one_row_stand_in_one_row() -> None:
    quads = [quad(300, 52, "PR22"), quad(30, 50, "Pigments:"), quad(30, 90, "Shake it well now")]
    assert reading_order(quads, RIGHT) == [[1, 0], [2]]


def test_a_line_cut_between_two_tiles_is_one_line() -> None:
    found = whole_lines([quad(0, 0, "Pigments: PR"), quad(150, 1, "PR22, PW6"), quad(0, 80)])
    assert len(found) == 2
    assert max(float(np.ptp(q[:, 0])) for q in found) > 300


def test_upright_print_runs_downwards_until_it_is_known_better() -> None:
    upright = np.array([[0, 0], [30, 0], [30, 200], [0, 200]])
    along = lengthwise(upright)
    assert along[1][1] - along[0][1] == 200
