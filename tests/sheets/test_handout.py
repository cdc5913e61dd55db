"""The hand-out says what to look for, what stands in, what to ask about and what to beware of."""

from __future__ import annotations

from dataclasses import replace

from tests.refs import refs
from tests.sheets.conftest import pdf_of, shop, supply_list, text_of, tube
from tubewise.advice.classroom.handout import Choice, Handout, handout
from tubewise.advice.classroom.look_for import look_for
from tubewise.advice.classroom.workshop import Workshop
from tubewise.optics.surface import converted
from tubewise.paints.appearance import lab_alone
from tubewise.paints.shelf import Shelf
from tubewise.pigments.purpose import SALE
from tubewise.sheets import supply
from tubewise.tubes.occasion import Occasion
from tubewise.tubes.supply import Slot, SupplyList


def titles(choices: tuple[Choice, ...]) -> list[str]:
    return [choice.title for choice in choices]


def test_a_form_is_looked_for_by_the_words_that_reveal_it() -> None:
    (code,) = look_for(["PV19/gamma"])
    assert (code.code, code.form) == ("PV19", "gamma")
    assert "rose" in code.words
    assert code.beware == "PV19 alone does not tell: it is also sold as beta"


def test_a_form_the_list_also_takes_is_nothing_to_beware_of() -> None:
    (code,) = look_for(["PV19/gamma"], ["PV19/beta"])
    assert code.beware == ""


def test_a_number_after_the_colon_is_part_of_the_code() -> None:
    (code,) = look_for(["PB15:3"], ["PB15:4"])
    assert code.beware.startswith("PB15 without its number may be PB15:1")
    assert "PB15:3" not in code.beware and "PB15:4" not in code.beware


def test_a_code_without_forms_warns_of_nothing_and_gives_its_names() -> None:
    (code,) = look_for(["PB29"])
    assert (code.form, code.beware) == ("", "")
    assert "ultramarine" in code.words


def test_a_slot_says_what_to_buy_what_to_ask_and_what_misleads(hand: Handout) -> None:
    rose, red = hand.slots
    assert rose.buy is not None and rose.buy.title == "Oakfen Fenland Permanent Rose"
    assert titles(rose.unclear) == ["Sillmere Fenland Quinacridone"]
    assert titles(rose.beware) == ["Gutterby Fenland Permanent Rose"]
    assert "declares no pigment" in rose.beware[0].words
    assert titles(red.beware) == ["Sillmere Fenland Cadmium Red Hue"]
    assert red.beware[0].words.startswith("a hue paint; ")
    assert red.standins == ()


def test_a_near_paint_stands_in_and_oil_never_stands_in_for_acrylic() -> None:
    blue = SupplyList("Blue only", (Slot("Blue", (refs("PB29"),), "acrylic", 40.0),))
    # As the usual swatch is read, without the mirror reflection.
    as_read = converted(lab_alone(Shelf().pigment("PB29"))[0], "included", "excluded")
    as_blue = tuple(float(v) for v in as_read)
    sold = [
        tube("Sky", "PB29, PB28", swatch_lab=as_blue),
        tube("Oil Sky", "PB29, PB28", medium="oil", swatch_lab=as_blue),
        tube("Small Sky", "PB29, PB28", size_ml=20.0, swatch_lab=as_blue),
    ]
    made = handout(Workshop(blue, catalogue=sold))
    assert titles(made.slots[0].standins) == ["Oakfen Fenland Sky"]
    assert "≈ stands in Oakfen Fenland Sky · PB29, PB28" in text_of(pdf_of(supply.pages, made))


def test_a_tube_that_says_another_form_is_not_one_to_ask_about() -> None:
    sold = [*shop(), tube("Quinacridone Violet", "PV19 beta")]
    rose = handout(Workshop(supply_list(), catalogue=sold)).slots[0]
    assert titles(rose.unclear) == ["Sillmere Fenland Quinacridone"]


def test_a_paint_out_of_stock_and_a_second_size_are_not_named_again() -> None:
    sold = shop()
    sold += [replace(t, id=t.id + "-200", size_ml=200.0) for t in sold]
    sold.append(tube("Cadmium Red, imitation", "PR112", maker="Thistle", stock=0))
    (_, red) = handout(Workshop(supply_list(), catalogue=sold)).slots
    assert titles(red.beware) == ["Sillmere Fenland Cadmium Red Hue"]


def test_without_a_catalogue_the_sheet_still_tells_what_to_look_for() -> None:
    bare = handout(Workshop(supply_list()))
    assert not bare.catalogued
    words = text_of(pdf_of(supply.pages, bare))
    assert "look for PV19 (gamma) quinacridone r" in words
    assert "the catalogue" not in words


def test_the_sheet_prints_codes_notes_warnings_and_cautions(hand: Handout) -> None:
    words = text_of(pdf_of(supply.pages, hand))
    assert "Heath in June" in words
    assert "look for PR108 cadmium red" in words
    assert "→ in the shop Oakfen Fenland Permanent Rose · artist · 60 ml · 8.00 EUR" in words
    assert "the red of the heather" in words
    assert "✗ the name misleads Sillmere Fenland Cadmium Red Hue · PR112" in words
    assert "Contains cadmium" in words and "local rules" in words


def test_progress_is_told_slot_by_slot() -> None:
    told: list[tuple[int, int]] = []
    handout(
        Workshop(supply_list(), catalogue=shop()), lambda done, total: told.append((done, total))
    )
    assert told == [(1, 2), (2, 2)]


def test_a_hand_out_for_sale_does_not_send_anybody_to_buy_what_fades() -> None:
    madder = SupplyList("Madder", (Slot("Madder", (refs("PR83"),), "oil", 20.0),))
    sold = [tube("Rose Madder", "PR83", medium="oil")]
    practice = handout(Workshop(madder, catalogue=sold)).slots[0]
    assert practice.buy is not None and practice.buy.title == "Oakfen Fenland Rose Madder"
    sale = handout(Workshop(madder, catalogue=sold, purpose=SALE)).slots[0]
    assert sale.buy is None
    # It holds what its name promises, and fades.
    assert sale.beware == ()


def test_the_heading_gives_title_date_and_place_where_the_list_does(hand: Handout) -> None:
    assert text_of(pdf_of(supply.pages, hand)).startswith("Supply list Heath in June Buy by")
    headed = replace(hand, occasion=Occasion("Heather and haze", "2027-06-06", "Village hall"))
    words = text_of(pdf_of(supply.pages, headed))
    assert "Supply list Heather and haze 6 June 2027 · Village hall" in words
    vague = replace(hand, occasion=Occasion(date="the first week of June"))
    assert "Heath in June the first week of June" in text_of(pdf_of(supply.pages, vague))
