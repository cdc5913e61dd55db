"""The register of pigments: what it lists, and what it says of well-known ones."""

from __future__ import annotations

import re
import subprocess
import sys
from collections import Counter

import pytest

from tubewise.errors import UserError
from tubewise.pigments.pigment import Pigment
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.terms import BINDERS

REGISTER = load()

# Numbers that the cosmetics list of the European Union prints for colourants that painters know:
# Regulation (EC) No 1223/2009, Annex IV; recalled, not looked up.
EU_COSMETICS_ANNEX_IV = {
    "PY1": "11680",
    "PY3": "11710",
    "PO1": "11725",
    "PR4": "12085",
    "PR3": "12120",
    "PR112": "12370",
    "PR7": "12420",
    "PBr1": "12480",
    "PR5": "12490",
    "PR53:1": "15585:1",
    "PR49": "15630",
    "PR57:1": "15850:1",
    "PR48": "15865",
    "PY16": "20040",
    "PY13": "21100",
    "PY83": "21108",
    "BV10": "45170",
    "PV23": "51319",
    "PR83": "58000",
    "PB60": "69800",
    "PB64": "69825",
    "PO43": "71105",
    "PB66": "73000",
    "PR181": "73360",
    "PV36": "73385",
    "PV19": "73900",
    "PR122": "73915",
    "PB16": "74100",
    "PB15": "74160",
    "PG7": "74260",
    "NR4": "75470",
    "PM1": "77000",
    "PW24": "77002",
    "PW19": "77004",
    "PB29": "77007",
    "PW21": "77120",
    "PW14": "77163",
    "PW18": "77220",
    "PW25": "77231",
    "PBk7": "77266",
    "PBk9": "77267",
    "PG17": "77288",
    "PG18": "77289",
    "PB28": "77346",
    "PM2": "77400",
    "PM3": "77480",
    "PR101": "77491",
    "PY42": "77492",
    "PBk11": "77499",
    "PB27": "77510",
    "PV16": "77742",
    "PW6": "77891",
    "PW4": "77947",
}

# One constitution number under several names: mixed crystals of the same molecule, crystal forms,
# shades of one compound, natural and synthetic, or a mixture that lists its parts.
SHARED_CONSTITUTIONS = {
    "73900": "quinacridone and its solid solutions",
    "73920": "quinacridonequinone in solid solutions",
    "74160": "crystal forms of copper phthalocyanine",
    "75330": "madder, two names",
    "75420": "madder, two names",
    "77007": "ultramarine, by colour",
    "77120": "barium sulphate, precipitated and natural",
    "77201": "cadmium mercury sulphide, by colour",
    "77202": "cadmium sulphoselenide, by colour",
    "77202:1": "cadmium sulphoselenide with barium sulphate, by colour",
    "77266": "carbon blacks, by process",
    "77420": "basic copper carbonates, azurite and malachite",
    "77491": "red iron oxide, synthetic, natural and in browns",
    "77492": "yellow iron oxide, synthetic, natural and in browns",
    "77499": "black iron oxide, alone and in browns",
    "77510": "iron blue, alone and in chrome green",
    "77600": "lead chromate, alone and in chrome green",
    "77601": "basic lead chromate, by colour",
}

# What each pigment is made of decides which cautions it must carry; from its composition.
MUST_CARRY = {
    "cadmium": "PY35 PY35:1 PY37 PY37:1 PO20 PO20:1 PO23 PR108 PR108:1 PR113 PR113:1",
    "cobalt": "PB28 PB32 PB35 PB36 PB36:1 PB72 PB73 PB74 PV14 PV47 PV48 PV49 PG19 PG26 PG50 PY40",
    "lead": "PW1 PW2 PW3 PW16 PY34 PY41 PY46 PO21 PR103 PR104 PR105 PG15",
    "nickel": "PY53 PY150 PY153 PY157 PY161 PY189 PG10 PBr34 PBk25 PBk30",
    "manganese": "PV16 PB33 PBr7 PBr8 PBk14 PBk26 PBk33 PY164 PR48:4 PR52:2",
    "chromate": "PY31 PY32 PY33 PY34 PY36 PO21 PR103 PR104 PG15",
    "mercury": "PR106 PO23 PR113 PR113:1",
    "arsenic": "PY39 PG21 PG22",
    "antimony": "PY41 PW11 PR107",
    "copper": "PG20 PG21 PG22 PB30 PG39",
    "barium": "PW10 PB33 PY31",
    "zinc": "PW4 PW5 PW7",
    "silica": "PY43 PR102 PBr7 PG23 PW27",
}

# The chemical name gives away the metal; chromium(III) is not chromate, and copper phthalocyanine
# and zinc phthalocyanine hold their metal too tightly for a caution.
METAL_IN_NAME = {
    "cadmium": r"cadmium",
    "cobalt": r"cobalt",
    "lead": r"\blead\b",
    "nickel": r"nickel",
    "manganese": r"mangan",
    "chromate": r"\bchromate\b|chrome yellow",
    "mercury": r"mercury",
    "arsenic": r"arsen",
    "antimony": r"antimon",
    "vanadium": r"vanad",
}


def carried(code: str) -> set[str]:
    pigment = REGISTER.get(code)
    assert pigment is not None, code
    return {caution.kind for caution in pigment.cautions}


def pigment(code: str) -> Pigment:
    found = REGISTER.get(code)
    assert found is not None, code
    return found


def test_it_lists_far_more_than_a_shop_sells() -> None:
    assert len(REGISTER) >= 400
    listed = {re.match(r"[A-Za-z]+", code)[0] for code in REGISTER.codes}  # type: ignore[index]
    assert listed >= {"PY", "PO", "PR", "PV", "PB", "PG", "PBr", "PBk", "PW", "PM"}
    assert listed >= {"NR", "NY", "NB", "NBr", "BV"}
    for first_and_last in ("PY1", "PW27", "PB15:6", "NR9"):
        assert first_and_last in REGISTER
    assert "PV190" not in REGISTER
    assert 19 not in REGISTER


def test_every_fact_names_its_source() -> None:
    for one in REGISTER:
        assert all(one.sources), one.code
        recorded = [form.source for form in one.forms]
        recorded += [caution.source for caution in one.cautions]
        recorded += [note.source for note in one.notes]
        for source in recorded:
            assert re.search(r"from memory|common practice, no source", source), one.code


@pytest.mark.parametrize(("code", "number"), EU_COSMETICS_ANNEX_IV.items())
def test_constitution_numbers_agree_with_a_published_list(code: str, number: str) -> None:
    assert number in pigment(code).constitutions


def test_a_constitution_number_under_two_names_has_a_reason() -> None:
    numbers = Counter(number for one in REGISTER for number in one.constitutions)
    shared = {number for number, count in numbers.items() if count > 1}
    assert shared == set(SHARED_CONSTITUTIONS)


def test_a_printed_number_may_carry_the_lake_suffix_or_not() -> None:
    assert pigment("PR83").agrees_with("58000:1") is True
    assert pigment("PV23").agrees_with("51319") is True
    assert pigment("PV23").agrees_with("73900") is False
    assert pigment("PY216").agrees_with("77788") is None, "its own number is not known"


@pytest.mark.parametrize(("kind", "codes"), MUST_CARRY.items())
def test_cautions_stand_where_the_composition_asks(kind: str, codes: str) -> None:
    for code in codes.split():
        assert kind in carried(code), code


@pytest.mark.parametrize(("kind", "pattern"), METAL_IN_NAME.items())
def test_no_pigment_named_after_a_metal_lacks_its_caution(kind: str, pattern: str) -> None:
    named = [one for one in REGISTER if re.search(pattern, one.chemical)]
    assert named
    for one in named:
        assert kind in carried(one.code), f"{one.code}, {one.chemical}"


def test_harmless_looking_relatives_carry_no_wrong_caution() -> None:
    assert "chromate" not in carried("PG17"), "chromium(III) oxide"
    assert "copper" not in carried("PB15:3"), "copper phthalocyanine"
    assert "lead" not in carried("PW6")


def test_cautions_defer_and_never_reassure() -> None:
    texts = {caution.text for one in REGISTER for caution in one.cautions}
    texts |= {caution.text for caution in REGISTER.general_cautions}
    assert len(texts) > 15
    for text in texts:
        assert "Follow the label, the safety data sheet and local rules" in text
        assert not re.search(r"\b(safe|harmless|non-?toxic)\b", text, re.IGNORECASE)


def test_the_lead_caution_covers_spraying_sanding_and_children() -> None:
    lead = next(caution for caution in pigment("PW1").cautions if caution.kind == "lead")
    assert {"dust", "spraying", "sanding", "children"} <= set(lead.applies)


def test_manganese_belongs_to_the_umbers_among_the_brown_earths() -> None:
    def kinds(form: str) -> set[str]:
        return {caution.kind for caution in pigment("PBr7").cautions_for(form)}

    assert "manganese" in kinds("raw-umber")
    assert "manganese" not in kinds("burnt-sienna")
    assert "silica" in kinds("burnt-sienna")
    assert kinds("") == carried("PBr7")


def test_alizarin_is_fugitive_and_the_modern_reds_and_blues_are_not() -> None:
    for code in ("PR83", "PR83:1"):
        assert pigment(code).lightfastness("oil") in ("III", "IV", "V")
        assert pigment(code).lightfastness("watercolour") in ("III", "IV", "V")
        for binder in (*BINDERS, "encaustic"):
            assert pigment(code).is_fugitive(binder)
    for code in ("PV19", "PB15:3", "PB29", "PW6"):
        for binder in ("acrylic", "oil", "watercolour"):
            assert pigment(code).lightfastness(binder) == "I"
            assert not pigment(code).is_fugitive(binder)


def test_lightfastness_differs_by_binder_and_is_never_borrowed() -> None:
    assert pigment("PR122").lightfastness("acrylic") == "I"
    assert pigment("PR122").lightfastness("watercolour") == "III"
    assert pigment("PR122").lightfastness(" Watercolor ") == "III"
    assert pigment("PR122").lightfastness("gouache") == "not rated"
    assert pigment("PR122").lightfastness("egg tempera") == "not rated"


def test_each_family_of_forms_has_one_default() -> None:
    with_forms = [one for one in REGISTER if one.forms]
    assert len(with_forms) >= 20
    for one in with_forms:
        assert sum(form.default for form in one.forms) == 1, one.code
        assert one.default_form in one.forms
        assert len({form.name for form in one.forms}) == len(one.forms)
    assert pigment("PB28").default_form is None


def test_codes_that_leave_the_colour_open_say_what_they_need() -> None:
    for code in ("PV19", "PR101", "PBr7", "PR108", "PY35", "PG50"):
        assert pigment(code).needs == "form"
    for code, assumed in (("PB15", "PB15:3"), ("PR48", "PR48:2"), ("PR57", "PR57:1")):
        assert pigment(code).needs == "suffix"
        assert pigment(code).assumed == assumed
        assert assumed in {one.code for one in REGISTER.suffixed(code)}
    for code in ("PB29", "PW6", "PB15:3", "PV23"):
        assert pigment(code).needs == ""


def test_suffixed_codes_know_their_parent() -> None:
    assert [one.code for one in REGISTER.suffixed("PB15")] == [
        "PB15:1",
        "PB15:2",
        "PB15:3",
        "PB15:4",
        "PB15:6",
    ]
    assert pigment("PR83:1").parent == "PR83"
    assert pigment("PB29").parent == ""


@pytest.mark.parametrize(
    ("code", "printed", "form"),
    [
        ("PV19", "Quinacridone Red", "gamma"),
        ("PV19", "Quinacridone Violet", "beta"),
        ("PV19", "PV19 (beta)", "beta"),
        ("PV19", "Violet Rose", "beta"),
        ("PR101", "Transparent Red Oxide", "transparent"),
        ("PR101", "Caput Mortuum", "deep"),
        ("PR101", "English red, light", "light"),
        ("PBr7", "TERRE DE SIENNE BRULEE", "burnt-sienna"),
        ("PBr7", "Umbra natur", "raw-umber"),
        ("PBr7", "Terra d'ombra bruciata", "burnt-umber"),
        ("PR108", "Kadmiumrot dunkel", "deep"),
        ("PY35", "Jaune de cadmium citron", "lemon"),
        ("PG50", "Cobalt turquoise light", "teal"),
        ("PW6", "Unbleached titanium", "buff"),
        ("PR170", "PR170 F5RK", "f5rk"),
    ],
)
def test_printed_words_reveal_the_form(code: str, printed: str, form: str) -> None:
    found = pigment(code).form_revealed_by(printed)
    assert found is not None
    assert found.name == form


def test_words_that_reveal_nothing_give_no_form() -> None:
    assert pigment("PV19").form_revealed_by("Series 4, 60 ml") is None
    assert pigment("PB28").form_revealed_by("Cobalt blue light") is None


def test_a_reference_finds_pigment_and_form() -> None:
    assert REGISTER.resolve("PV19/beta")[1] == pigment("PV19").form("beta")
    assert REGISTER.resolve(" pv19/Beta ")[1] == pigment("PV19").form("beta")
    assert REGISTER.resolve("PV19")[1] == pigment("PV19").form("gamma")
    assert REGISTER.resolve("PB28") == (pigment("PB28"), None)
    for ref in REGISTER.refs:
        found, form = REGISTER.resolve(ref)
        assert ref == Ref.of(found.code, form.name if form else "")


@pytest.mark.parametrize(
    ("ref", "told"),
    [
        ("PV190", "PV19"),
        ("XX", "not in the register"),
        ("PV19/delta", "PV19/beta, PV19/gamma"),
        ("PB28/deep", "write PB28"),
    ],
)
def test_an_unknown_reference_is_refused_with_the_nearest(ref: str, told: str) -> None:
    with pytest.raises(UserError, match=re.escape(told)):
        REGISTER.resolve(ref)


def test_the_shipped_register_is_read_once() -> None:
    assert load() is load()


def test_loading_needs_the_standard_library_only() -> None:
    program = (
        "import sys; from tubewise.pigments.register import load; load();"
        "heavy = ('numpy', 'pydantic', 'sqlalchemy', 'rich');"
        "print([name for name in heavy if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
