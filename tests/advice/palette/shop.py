"""A small invented shop of single pigments, and boxes from it."""

from __future__ import annotations

from tubewise.tubes.tube import Tube

_SOLD = (
    ("Titanium White", "PW6", 6.5),
    ("Lemon Yellow", "PY3", 8.0),
    ("Golden Yellow", "PY74", 7.0),
    ("Cadmium Red", "PR108 (medium)", 16.0),
    ("Rose", "PV19 (rose)", 11.0),
    ("Violet", "PV23", 11.0),
    ("Ultramarine", "PB29", 8.5),
    ("Phthalo Blue", "PB15:3", 8.5),
    ("Phthalo Green", "PG7", 8.5),
    ("Burnt Sienna", "PBr7 (burnt sienna)", 6.0),
)


def shop(medium: str = "acrylic") -> list[Tube]:
    """The shop's tubes of one medium."""
    return [
        Tube(
            maker="Oakfen",
            line="Fenland",
            grade="artist",
            medium=medium,
            name=name,
            label=code,
            size_ml=60.0,
            price=price,
            currency="EUR",
            stock=3,
        )
        for name, code, price in _SOLD
    ]


def box(*codes: str, medium: str = "acrylic") -> list[Tube]:
    """The tubes whose label starts with one of the codes."""
    return [tube for tube in shop(medium) if tube.label.split()[0] in codes]
