"""The page of rules says what the tables say."""

from __future__ import annotations

import re
from pathlib import Path

from tubewise.advice import binder
from tubewise.advice.recipes.first_answer import DOES, ORDINARY, SIMPLE_PARTS, WORTH_MORE
from tubewise.advice.recipes.reach import HUE_WEIGHT, LIGHTNESS_WEIGHT
from tubewise.advice.recipes.reluctance import DULLED, FURTHER, UNUSUAL, weights
from tubewise.paints.unknown_parts import AIM_SPREAD, BY_QUANTITY
from tubewise.paints.wash import MICROMETRES, WASHES
from tubewise.pigments.binders import binders

PAGE = (Path(__file__).parents[2] / "docs" / "advice.md").read_text(encoding="utf-8")
SHOWN = {"yes": "yes", "with care": "care", "no": "no"}


def test_the_table_of_binders_is_the_one_that_is_used() -> None:
    rows = re.findall(r"^\| \*\*(.+?)\*\* \| (.+) \|$", PAGE, re.MULTILINE)
    assert [name for name, _ in rows] == list(binders())
    for name, cells in rows:
        assert cells.split(" | ") == [
            SHOWN[binder.mixes(name, other).verdict] for other in binders()
        ]


def test_the_numbers_are_the_ones_that_are_used() -> None:
    assert "four\nlabels in five" in PAGE and BY_QUANTITY == 4 / 5
    assert "within about six CIEDE2000" in PAGE and AIM_SPREAD == 6.0
    assert "hue counts as three\nof chroma, one of lightness as half" in PAGE
    assert (HUE_WEIGHT, LIGHTNESS_WEIGHT) == (3.0, 0.5)
    assert "a strong wash is 1 : 1, a middle one 1 : 6, a pale one 1 : 20" in " ".join(PAGE.split())
    assert list(WASHES.values()) == [1.0, 6.0, 20.0]
    assert "fifteen micrometres of wet film" in " ".join(PAGE.split()) and MICROMETRES == 15.0


def test_the_simplest_recipe_is_told_as_it_is_found() -> None:
    assert "within CIEDE2000 2, or within 1 of the nearest of three" in PAGE
    assert (DOES, WORTH_MORE, SIMPLE_PARTS) == (2.0, 1.0, 9)
    assert "ordinary paint comes\n  within 4" in PAGE and ORDINARY == 4.0
    others = weights().others
    assert "a paint that few palettes hold 1" in PAGE and others[UNUSUAL] == 1.0
    assert "a further paint 1" in PAGE and others[FURTHER] == 1.0
    assert "must bring up to 2" in PAGE and others[DULLED] == 2.0


def test_the_files_it_names_are_there() -> None:
    root = Path(__file__).parents[2]
    for path in re.findall(r"`(tubewise/[\w/.]+)`", PAGE):
        assert (root / path).is_file(), path


def test_the_table_of_how_media_are_laid_is_the_one_that_is_used() -> None:
    rows = dict(re.findall(r"^\| (film|wash|body colour) \| (.+?) \|", PAGE, re.MULTILINE))
    for laid, media in rows.items():
        own = {b.name for b in binders().values() if b.laid == laid.removesuffix(" colour")}
        assert set(media.split(", ")) == own
    assert len(rows) == 3
