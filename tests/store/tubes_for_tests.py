"""The tubes that the store's tests keep and look for."""

from __future__ import annotations

from tubewise.store.store import Store
from tubewise.tubes.tube import Tube


def tube(name: str, label: str = "", *, maker: str = "Ostrel", **more: object) -> Tube:
    return Tube(maker=maker, line="Fen", name=name, label=label, **more)  # type: ignore[arg-type]


TUBES = [
    tube("Permanent Rose", "PV19 (gamma)", medium="acrylic", stock=2, swatch_lab=(40.0, 60.0, 1.0)),
    tube("Ultramarine Blue", "PB29", medium="oil", stock=0, price=4.2, extra={"shelf": "A"}),
    tube("Ultramarine Violet", "PV15", medium="acrylic", grade="student"),
    tube("Titanium White", "PW6", maker="Grünhag"),
    tube("Lilac", "PV19, PW6", maker="Grünhag", medium="acrylic"),
    tube("Red", "PR112", maker="Grünhag"),
]


def names(store: Store, *args: str, **conditions: object) -> list[str]:
    return [found.name for found in store.find(*args, **conditions).tubes]  # type: ignore[arg-type]
