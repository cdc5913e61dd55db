from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.colour.lch import lab_from_lch
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lch_from_lab
from tubewise.colour.munsell import lab_from_munsell
from tubewise.colour.words import (
    NEUTRAL_BELOW,
    describe,
    difference_words,
    hue_family,
    hue_name,
    seen_words,
)

HUE_WORDS = ("redder", "yellower", "greener", "bluer", "more ", "instead of")


def at(notation: str) -> np.ndarray:
    return lab_from_munsell(notation)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("start", "end", "word"),
    [
        # Both ways round the circle from each principal hue (common practice, no source).
        ("5R 4/10", "9R 4/10", "yellower"),
        ("5R 4/10", "1R 4/10", "bluer"),
        ("5YR 6/10", "8YR 6/10", "yellower"),
        ("5YR 6/10", "1YR 6/10", "redder"),
        ("5Y 8/10", "9Y 8/10", "greener"),
        ("5Y 8/10", "1Y 8/10", "redder"),
        ("5GY 6/8", "10GY 6/8", "greener"),
        ("5GY 6/8", "1GY 6/8", "yellower"),
        ("5G 5/8", "2BG 5/8", "bluer"),
        ("5G 5/8", "10GY 5/8", "yellower"),
        ("5BG 5/8", "10BG 5/8", "bluer"),
        ("5BG 5/8", "1BG 5/8", "greener"),
        ("5B 5/8", "1PB 5/8", "redder"),
        ("5B 5/8", "1B 5/8", "greener"),
        ("5PB 4/10", "8PB 4/10", "redder"),
        ("5PB 4/10", "1PB 4/10", "greener"),
        ("5P 4/10", "9P 4/10", "redder"),
        ("5P 4/10", "1P 4/10", "bluer"),
        ("5RP 4/10", "10RP 4/10", "redder"),
        ("5RP 4/10", "1RP 4/10", "bluer"),
    ],
)
def test_hue_words_name_the_neighbour_towards_which_a_hue_turns(
    start: str, end: str, word: str
) -> None:
    said = difference_words(at(start), at(end))
    assert word in said
    assert [other for other in HUE_WORDS if other in said] == [word]


OPPOSITES = {
    *(("lighter", "darker"), ("cleaner", "duller"), ("warmer", "cooler"), ("yellower", "bluer")),
    *(("redder", "bluer"), ("redder", "yellower"), ("redder", "greener"), ("greener", "bluer")),
    *(("greener", "yellower"), ("of another cast", "of another cast")),
}


def directions(words: str) -> list[str]:
    """The direction words in the order in which they stand, without how much."""
    for cut in (",", " and", "a little ", "much "):
        words = words.replace(cut, "|")
    return [word.strip() for word in words.split("|") if word.strip()]


COLOURS = st.tuples(st.floats(0, 100), st.floats(0, 90), st.floats(0, 359.9))


@given(COLOURS, COLOURS)
def test_said_the_other_way_round_every_direction_is_its_opposite(
    one: tuple[float, float, float], two: tuple[float, float, float]
) -> None:
    a, b = lab_from_lch(one), lab_from_lch(two)
    there, back = directions(difference_words(a, b)), directions(difference_words(b, a))
    assert len(there) == len(back)
    for word, other in zip(there, back, strict=True):
        if " instead of " in word:
            assert other == " instead of ".join(reversed(word.split(" instead of ")))
        elif "greyer" in (word, other):
            assert {word, other} - {"greyer"}
        else:
            assert (word, other) in OPPOSITES or (other, word) in OPPOSITES


def test_the_second_colour_is_the_subject() -> None:
    said = describe([40, 50, 20], [42, 47, 22], "PR209")
    assert said.startswith("PR209 is ") and said.endswith("; you would see it")
    assert describe([40, 50, 20], [40, 50, 20], "PR209") == "the same to the eye"


def test_no_hue_is_called_redder_in_both_directions() -> None:
    for hue in range(0, 360, 5):
        start = [50.0, 40.0, float(hue)]
        words = [
            difference_words(lab_from_lch(start), lab_from_lch([50.0, 40.0, hue + turn]))
            for turn in (-9.0, 9.0)
        ]
        assert words[0] != words[1]
        assert all(any(word in said for word in HUE_WORDS[:4]) for said in words)


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [
        ((40, 50, 20), (40, 50, 20.2), "the same to the eye"),
        ((40, 50, 20), (41, 47, 21), "a little yellower, lighter and duller"),
        ((40, 50, 20), (60, 50, 20), "much lighter"),
        ((60, 0, 0), (56, 0, 0), "darker"),
        ((50, 40, 10), (52, 30, 20), "yellower"),
        ((50, 40, 10), (50, 52, 13), "cleaner"),
        ((50, 40, 10), (50, 1, 0), "much greyer"),
        ((50, 1, 0), (50, 30, 8), "much redder"),
        ((50, 0, 0), (50, 0, -8), "bluer"),
        ((50, 40, 10), (35, -40, 20), "green instead of red"),
        ((50, 3, 2), (50, -1, -1), "cooler"),
        ((50, -1, -1), (50, 2, 2), "warmer"),
        ((50, -2, 1), (50, 2, -1.5), "of another cast"),
    ],
)
def test_what_a_painter_would_say(
    start: tuple[float, ...], end: tuple[float, ...], said: str
) -> None:
    assert said in describe(start, end)


@given(
    st.floats(5.0, 95.0),
    st.tuples(st.floats(0.0, NEUTRAL_BELOW - 0.01), st.floats(0.0, 360.0)),
    st.tuples(st.floats(0.0, NEUTRAL_BELOW - 0.01), st.floats(0.0, 360.0)),
)
def test_two_greys_get_no_hue_words(
    L: float, one: tuple[float, float], two: tuple[float, float]
) -> None:
    said = describe(lab_from_lch([L, *one]), lab_from_lch([L + 3.0, *two]))
    assert not any(word in said for word in HUE_WORDS)


@given(
    st.tuples(st.floats(0, 100), st.floats(-90, 90), st.floats(-90, 90)),
    st.tuples(st.floats(0, 100), st.floats(-90, 90), st.floats(-90, 90)),
)
def test_every_visible_difference_gets_words_and_lightness_has_the_right_sense(
    one: tuple[float, float, float], two: tuple[float, float, float]
) -> None:
    said = difference_words(one, two)
    assert bool(said) == (float(delta_e_2000(one, two)) >= 1.0)
    if "lighter" in said:
        assert two[0] > one[0]
    if "darker" in said:
        assert two[0] < one[0]


def test_the_largest_part_comes_first() -> None:
    said = difference_words([50, 40, 20], [65, 36, 24])
    assert said.startswith("much lighter")
    assert said.index("lighter") < said.index("yellower")


def test_how_much_is_seen_grows_in_four_steps() -> None:
    said = [seen_words(delta) for delta in (0.5, 1.5, 3.0, 8.0)]
    assert said == [
        "the same to the eye",
        "you would see it only side by side",
        "you would see it",
        "another colour",
    ]


@pytest.mark.parametrize(
    ("lab", "name"),
    [
        ((25, 1, 1), "near-black"),
        ((22, 3, -8), "bluish near-black"),
        ((33, 0, 0), "dark grey"),
        ((55, 0, 1), "grey"),
        ((75, 0, 1), "light grey"),
        ((55, 4, 5), "warm grey"),
        ((97, 0, 2), "white"),
        ((95, -1, 5), "yellowish white"),
        ((33, 45, 8), "deep bluish red"),
        ((42, 52, 25), "red"),
        ((60, 40, 70), "bright orange"),
        ((40, 15, 22), "brown"),
        ((27, 8, 9), "dark brown"),
        ((38, 28, 24), "red-brown"),
        ((30, 9, 7.5), "dark brown"),
        ((58, 10, 42), "yellow-brown"),
        ((30, 3, 12), "dark brown"),
        ((50, -8, 35), "olive"),
        ((28, -4, 14), "dark olive"),
        ((88, -10, 30), "pale yellow-green"),
        ((85, 4, 95), "bright yellow"),
        ((75, 25, -4), "bluish pink"),
        ((78, 22, 8), "pink"),
        ((86, 14, 4), "pale pink"),
        ((78, 26, 22), "yellowish pink"),
        ((45, -42, 8), "green"),
        ((44, -35, -18), "blue-green"),
        ((38, -2, -42), "blue"),
        ((60, -5, -20), "light blue"),
        ((45, 4, -13), "dull reddish blue"),
        ((28, 25, -50), "bright reddish blue"),
        ((30, 28, -30), "violet"),
        ((46, 55, -12), "bright magenta"),
    ],
)
def test_colours_have_their_trade_names(lab: tuple[float, ...], name: str) -> None:
    assert hue_name(lab) == name


PLAIN = {
    "R": "red",
    "YR": "orange",
    "Y": "yellow",
    "GY": "yellow-green",
    "G": "green",
    "BG": "blue-green",
    "B": "blue",
    "PB": "blue",
    "P": "violet",
    "RP": "magenta",
}


@pytest.mark.parametrize(("family", "word"), PLAIN.items())
def test_the_principal_munsell_hues_have_their_plain_names(family: str, word: str) -> None:
    for value, chroma in ((4, 8), (5, 8), (6, 6)):
        lab = at(f"5{family} {value}/{chroma}")
        assert hue_family(lch_from_lab(lab)[2]) == word


def test_every_colour_has_a_name() -> None:
    names = {
        hue_name([L, a, b])
        for L, a, b in itertools.product(range(0, 101, 10), range(-90, 91, 15), range(-90, 91, 15))
    }
    assert all(names)
    assert len(names) > 60
