"""Nothing stands in the house that nobody uses."""

from __future__ import annotations

from vulture import Vulture

from tests.house.test_sizes import HOUSE

# What runs without a name being written here: routes, commands and what answers errors.
DECORATORS = ["@router.*", "@app.*", "@*.command", "@*.exception_handler"]

# Names that others use, by who does.
USED_BY_OTHERS = {
    "Python": ("__dir__", "__getattr__", "__annotations__", "__signature__"),
    "numpy": ("writeable",),
    "the parser of XML": (
        "StartDoctypeDeclHandler",
        "StartElementHandler",
        "EndElementHandler",
        "CharacterDataHandler",
    ),
    "onnxruntime": ("intra_op_num_threads", "inter_op_num_threads", "log_severity_level"),
    "pillow": ("MAX_IMAGE_PIXELS",),
    "the driver of SQLite": ("isolation_level",),
    "alembic": ("down_revision", "branch_labels", "depends_on", "downgrade"),
    "typer": ("class_", "HAS_RICH"),
    "rich": ("on_broken_pipe",),
    "JSON, which has every field of a result": (
        "parts_for_one",
        "chance_of_another",
        "differences",
        "hue_off",
        "tint_first",
        "lightest",
        "light_share",
    ),
    "getattr, which asks for handling by its column": (
        "drying",
        "staining",
        "granulation",
        "lifting",
        "covering",
    ),
    "people who read the register's files": ("hue_words",),
    "tests, which check constants that the fit takes from them": (
        "rutile",
        "zinc_oxide",
        "scattering_power",
        "by_mass",
    ),
    "people who work from Python": ("write_supply_list", "munsells_from_lab", "SALE"),
}

# Modules that are being built; a line goes as its module is done.
UNDER_REPAIR: tuple[str, ...] = ()


def unused() -> list[str]:
    """What no module of the house names, with its place."""
    vulture = Vulture(ignore_decorators=DECORATORS)
    vulture.scavenge([str(HOUSE / room) for room in ("tubewise", "tools", "bench")])
    known = {name for names in USED_BY_OTHERS.values() for name in names}
    return [
        f"{item.filename.relative_to(HOUSE)}:{item.first_lineno} {item.name}"
        for item in vulture.get_unused_code(min_confidence=60)
        if item.name not in known
    ]


def test_everything_is_used() -> None:
    assert [words for words in unused() if not words.startswith(UNDER_REPAIR)] == []
