"""Small invented shops, one in each medium: Oakfen's tubes, with what a class would have."""

from __future__ import annotations

from tests.invented import tube
from tubewise.tubes.tube import Tube


def _shop(medium: str, line: str, paints: dict[str, str], size_ml: float) -> tuple[Tube, ...]:
    return tuple(
        tube(name, label, medium=medium, line=line, size_ml=size_ml)
        for name, label in paints.items()
    )


OIL = _shop(
    "oil",
    "Heron",
    {
        "Titanium White": "PW6, PW4",
        "Lead White": "PW1",
        "Zinc White": "PW4",
        "Lemon Yellow": "PY3",
        "Cadmium Yellow": "PY35",
        "Yellow Ochre": "PY43",
        "Cadmium Red": "PR108",
        "Vermilion": "PR106",
        "Rubine": "PR57:1",
        "Alizarin Crimson": "PR83",
        "Quinacridone Rose": "PV19 gamma",
        "Anthraquinone Red": "PR177",
        "Ultramarine": "PB29",
        "Cobalt Blue": "PB28",
        "Phthalo Blue": "PB15:3",
        "Viridian": "PG18",
        "Burnt Sienna": "PBr7 burnt sienna",
        "Burnt Umber": "PBr7, PY42, PBk9",
        "Ivory Black": "PBk9",
    },
    37.0,
)
WATERCOLOUR = _shop(
    "watercolour",
    "Reed",
    {
        "Chinese White": "PW4",
        "Hansa Yellow": "PY97",
        "New Gamboge": "PY150",
        "Yellow Ochre": "PY43",
        "Quinacridone Rose": "PV19 gamma",
        "Magenta": "PR122",
        "Pyrrol Red": "PR254",
        "Dioxazine Violet": "PV23",
        "Ultramarine": "PB29",
        "Cobalt Blue": "PB28",
        "Phthalo Blue": "PB15:3",
        "Cerulean": "PB35",
        "Viridian": "PG18",
        "Phthalo Green": "PG7",
        "Burnt Sienna": "PBr7 burnt sienna",
        "Ivory Black": "PBk9",
    },
    15.0,
)
GOUACHE = _shop(
    "gouache",
    "Sedge",
    {
        "Permanent White": "PW6",
        "Lemon Yellow": "PY3",
        "Cadmium Yellow": "PY35",
        "Yellow Ochre": "PY42",
        "Cadmium Red": "PR108",
        "Quinacridone Rose": "PV19 gamma",
        "Ultramarine": "PB29",
        "Phthalo Blue": "PB15:3",
        "Phthalo Green": "PG7",
        "Burnt Sienna": "PBr7 burnt sienna",
        "Lamp Black": "PBk6",
    },
    20.0,
)


ACRYLIC = _shop(
    "acrylic",
    "Plover",
    {
        "Titanium White": "PW6",
        "Lemon Yellow": "PY3",
        "Cadmium Yellow": "PY35",
        "Yellow Ochre": "PY42",
        "Cadmium Red": "PR108",
        "Naphthol Red": "PR170",
        "Quinacridone Magenta": "PR122",
        "Dioxazine Violet": "PV23",
        "Ultramarine": "PB29",
        "Phthalo Blue": "PB15:3",
        "Phthalo Green": "PG7",
        "Burnt Sienna": "PR101 transparent",
        "Raw Umber": "PBr7 raw umber",
        "Carbon Black": "PBk7",
    },
    60.0,
)


def named(shop: tuple[Tube, ...], name: str) -> Tube:
    """The tube of a shop that has this name."""
    return next(one for one in shop if one.name == name)
