"""The traps of the trade that the demo's shop promises (demo/README.md)."""

from __future__ import annotations

import csv
import shutil
from collections import Counter, defaultdict
from pathlib import Path

import pytest

from tests.demo.demo_tubes import DEMO, SPRING_GREENS, codes, find, warned
from tools import demo_swatches
from tubewise import labels
from tubewise.colour.difference import delta_e_2000
from tubewise.tubes.catalogue import read_catalogue
from tubewise.tubes.tube import Tube


def test_at_least_320_tubes_each_with_its_own_id(shop: list[Tube]) -> None:
    assert len(shop) >= 320
    assert len({tube.id for tube in shop}) == len(shop)


def test_four_makers_in_artist_and_student_grade_and_three_media(shop: list[Tube]) -> None:
    assert len({tube.maker for tube in shop}) == 4
    assert {(t.grade, t.medium) for t in shop} == {
        (grade, medium)
        for grade in ("artist", "student")
        for medium in ("acrylic", "oil", "gouache")
    }


def test_every_tube_has_a_price_in_euros_and_some_are_sold_out(shop: list[Tube]) -> None:
    assert all(t.price and 1 < t.price < 120 and t.currency == "EUR" for t in shop)
    assert 15 <= sum(t.stock == 0 for t in shop) <= 60


def test_a_larger_tube_costs_more_but_less_per_millilitre(shop: list[Tube]) -> None:
    sizes: dict[str, list[Tube]] = defaultdict(list)
    for tube in shop:
        sizes[tube.paint].append(tube)
    pairs = [sorted(two, key=lambda t: t.size_ml or 0) for two in sizes.values() if len(two) == 2]
    assert len(pairs) >= 10
    for small, large in pairs:
        assert small.price and large.price and small.size_ml and large.size_ml
        assert small.price < large.price
        assert small.price / small.size_ml > large.price / large.size_ml


@pytest.mark.parametrize(
    ("name", "compositions"),
    [
        ("Permanent Rose", 4),
        ("Violet", 5),
        ("Sap Green", 8),
        ("Indigo", 6),
        ("Naples Yellow Light", 8),
        ("Turquoise", 5),
        ("Burnt Sienna", 4),
    ],
)
def test_one_name_with_different_pigments(shop: list[Tube], name: str, compositions: int) -> None:
    held = {frozenset(codes(t)) for t in shop if t.name == name and codes(t)}
    assert len(held) >= compositions


@pytest.mark.parametrize(
    ("code", "names"), [("PV23", 4), ("PB15:3", 4), ("PV19", 4), ("PR101", 8), ("PY3", 4)]
)
def test_one_pigment_under_different_names(shop: list[Tube], code: str, names: int) -> None:
    assert len({t.name for t in shop if codes(t) == (code,)}) >= names


@pytest.mark.parametrize("code", ["PV23", "PB29", "PY3", "PG7", "PW6", "PV19"])
def test_one_pigment_in_artist_and_student_grade_of_acrylic(shop: list[Tube], code: str) -> None:
    grades = {t.grade for t in shop if codes(t) == (code,) and t.medium == "acrylic"}
    assert grades == {"artist", "student"}


@pytest.mark.parametrize(
    ("line", "name", "medium"),
    [
        ("Dabble", "Cadmium Red Hue", "acrylic"),
        ("Lehrling", "Kobaltblau-Imitation", "acrylic"),
        ("Sérac", "Rouge de cadmium imit.", "oil"),
        ("Sérac", "Vert émeraude imit.", "oil"),
        ("Nordskær", "Cadmium Red, imitation", "acrylic"),
    ],
)
def test_hue_paints_say_so_in_their_makers_manner(
    shop: list[Tube], line: str, name: str, medium: str
) -> None:
    tube = find(shop, line, name, medium)
    assert "hue-paint" in warned(tube)
    assert "misleading-name" not in warned(tube)


@pytest.mark.parametrize("line", ["Premier Pas", "Sild"])
def test_a_plain_cadmium_red_without_cadmium_misleads(shop: list[Tube], line: str) -> None:
    tube = find(shop, line, "Cadmium Red")
    assert "PR108" not in codes(tube)
    assert "misleading-name" in warned(tube)


def test_a_genuine_cadmium_red_stands_beside_it(shop: list[Tube]) -> None:
    tube = find(shop, "Nordskær", "Cadmium Red")
    assert codes(tube) == ("PR108",)
    assert "misleading-name" not in warned(tube)


def test_the_light_greens_of_four_pigments_are_sold_out_everywhere(shop: list[Tube]) -> None:
    greens = [t for t in shop if set(codes(t)) in SPRING_GREENS]
    assert len(greens) >= 4
    assert len({t.maker for t in greens}) == 4
    assert all(t.stock == 0 for t in greens)


def test_convenience_colours_have_three_or_four_pigments(shop: list[Tube]) -> None:
    count = Counter(len(codes(t)) for t in shop)
    assert count[3] >= 20
    assert count[4] >= 6


def test_some_labels_declare_nothing(shop: list[Tube]) -> None:
    silent = {(t.line, t.name) for t in shop if not codes(t) and "nothing-declared" in warned(t)}
    assert silent >= {
        ("Sild", "Permanent Rose"),
        ("Sild", "Sap Green"),
        ("Sild", "Brown"),
        ("Sild", "Grey"),
        ("Wherry", "Lead-Tin Yellow Light"),
    }
    assert find(shop, "Sild", "Brown").label == ""


@pytest.mark.parametrize(
    "code", ["PR83", "PR173", "BV10", "NR9", "PW1", "PY41", "PR108", "PY35", "PB28", "PV14"]
)
def test_fugitive_lead_cadmium_and_cobalt_pigments_are_sold(shop: list[Tube], code: str) -> None:
    assert any(code in codes(t) for t in shop)


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("PW1", ("lead", "plomb", "bly", "Blei")),
        ("PR108", ("cadmium", "Cadmium")),
        ("PB28", ("cobalt", "Kobalt", "kobolt")),
    ],
)
def test_their_labels_carry_a_caution_in_the_makers_language(
    shop: list[Tube], code: str, words: tuple[str, ...]
) -> None:
    cautioned = [t for t in shop if codes(t) == (code,)]
    assert len({t.maker for t in cautioned}) >= 3
    for tube in cautioned:
        after_codes = tube.label[tube.reading.pigments[0].span[1] :]
        assert any(word in after_codes for word in words), tube.label


def test_pv19_is_sold_with_and_without_its_form(shop: list[Tube]) -> None:
    forms = {(p.form, p.form_assumed) for t in shop for p in t.reading.pigments if p.code == "PV19"}
    assert {("gamma", False), ("beta", False)} <= forms
    assert "needs-form" in warned(find(shop, "Lärche", "Chinacridon"))


@pytest.mark.parametrize("line", ["Lärche", "Dabble", "Lehrling", "Sild"])
def test_pb15_is_sold_without_its_suffix(shop: list[Tube], line: str) -> None:
    bare = [t for t in shop if t.line == line and "needs-suffix" in warned(t)]
    assert [codes(t) for t in bare] == [("PB15",)]


def test_iron_oxides_are_sold_in_several_forms(shop: list[Tube]) -> None:
    forms = {p.code: set[str]() for p in labels.read("PR101, PBr7").pigments}
    for tube in shop:
        for pigment in tube.reading.pigments:
            if pigment.code in forms and pigment.form:
                forms[pigment.code].add(pigment.form)
    assert forms["PBr7"] >= {"raw-sienna", "burnt-sienna", "raw-umber", "burnt-umber"}
    assert forms["PR101"] >= {"transparent", "light", "deep"}


@pytest.mark.parametrize(
    ("name", "medium"), [("Primary Magenta", "acrylic"), ("Cobalt Blue", "oil")]
)
def test_two_labels_whose_code_and_number_disagree(
    shop: list[Tube], name: str, medium: str
) -> None:
    assert "code-number-disagree" in warned(find(shop, "Nordskær", name, medium))


@pytest.mark.parametrize(
    ("line", "name", "medium", "misread"),
    [
        ("Premier Pas", "Rose permanent", "oil", "PVI9"),
        ("Premier Pas", "Bleu outremer", "acrylic", "P829"),
    ],
)
def test_scanned_labels_with_misread_characters(
    shop: list[Tube], line: str, name: str, medium: str, misread: str
) -> None:
    tube = find(shop, line, name, medium)
    (warning,) = (w for w in tube.reading.warnings if w.kind == "likely-misread")
    assert warning.span is not None
    assert tube.label[slice(*warning.span)] == misread


def test_a_neighbours_sticker_makes_a_lemon_yellow_violet(shop: list[Tube]) -> None:
    tube = find(shop, "Sild", "Lemon Yellow")
    assert codes(tube) == ("PV23",)
    assert "hue-disagrees" in warned(tube)
    assert tube.swatch_lab is not None
    assert tube.swatch_lab[2] > 60, "the swatch is yellow"


def test_a_white_misread_as_letters_would_go_unnoticed(shop: list[Tube]) -> None:
    tube = find(shop, "Premier Pas", "Rose chair")
    assert "PWG" in tube.label
    assert "PW6" not in codes(tube)


@pytest.mark.parametrize(
    ("name", "medium", "lookalike", "first"),
    [
        ("Pyrrolrot", "acrylic", "PG 4", "PR254"),
        ("Lindgrün", "gouache", "PG 2", "PY3"),
        ("Ultramarinblau", "acrylic", "PY2", "PB29"),
    ],
)
def test_price_groups_and_batch_numbers_look_like_codes(
    shop: list[Tube], name: str, medium: str, lookalike: str, first: str
) -> None:
    tube = find(shop, "Lärche", name, medium)
    assert tube.label.index(lookalike) > tube.reading.pigments[0].span[1]
    assert codes(tube)[0] == first


def test_no_other_label_is_read_wrongly(shop: list[Tube]) -> None:
    """What we read on each label is what is in the tube, but for the traps named here."""
    with (DEMO / "true-parts.csv").open(encoding="utf-8", newline="") as file:
        truth = {
            (row["maker"], row["line"], row["medium"], row["name"]): {
                term.partition(" ")[0].partition("/")[0] for term in row["parts"].split(" + ")
            }
            for row in csv.DictReader(file)
        }
    differ = {
        (t.line, t.name)
        for t in shop
        if codes(t)
        and {c.partition(":")[0] for c in codes(t)}
        != {c.partition(":")[0] for c in truth[t.maker, t.line, t.medium, t.name]}
    }
    assert differ <= {
        ("Sild", "Lemon Yellow"),
        ("Premier Pas", "Rose chair"),
        ("Lehrling", "Cyan"),
        ("Lärche", "Pyrrolrot"),
        ("Lärche", "Lindgrün"),
    }


def test_blended_colours_have_swatches_and_others_sometimes(shop: list[Tube]) -> None:
    blends = [t for t in shop if len(codes(t)) > 1]
    plain = [t for t in shop if len(codes(t)) == 1]
    assert sum(t.swatch_lab is not None for t in blends) > 0.85 * len(blends)
    assert 0.25 < sum(t.swatch_lab is not None for t in plain) / len(plain) < 0.45
    assert sum(bool(t.swatch_hex) for t in shop) >= 30
    assert not any(t.swatch_lab and t.swatch_hex for t in shop)


def test_swatches_are_what_the_built_in_optics_make_of_the_true_parts(
    shop: list[Tube], tmp_path: Path
) -> None:
    """If the optics were refitted: `python -m tools.demo_swatches`, and look at it."""
    again = tmp_path / "catalogue.csv"
    shutil.copy(DEMO / "catalogue.csv", again)
    filled = demo_swatches.fill(again)
    assert filled == sum(bool(t.swatch_lab or t.swatch_hex) for t in shop)
    for old, new in zip(shop, read_catalogue(again), strict=True):
        assert (old.swatch_lab is None) == (new.swatch_lab is None)
        if old.swatch_lab and new.swatch_lab:
            assert float(delta_e_2000(old.swatch_lab, new.swatch_lab)) < 2.0, old.id


def test_two_batches_of_one_paint_differ_a_little() -> None:
    parts = {"PY3": 36.0, "PG7": 1.0, "PW6": 12.0}
    one, other = (demo_swatches.swatch(parts, "artist", seed) for seed in ("one", "other"))
    assert 0.1 < float(delta_e_2000(one, other)) < 6.0


def test_student_paint_is_lighter_in_masstone_where_the_pigment_is_dark() -> None:
    artist, student = (
        demo_swatches.swatch({"PV23": 1.0}, grade, "a dark violet")
        for grade in ("artist", "student")
    )
    assert student[0] > artist[0]
