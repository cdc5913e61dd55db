"""Times of the store on 100,000 invented tubes: import, the same import again, and finds.

`python -m bench.store [TUBES]` makes a CSV catalogue from a fixed seed, imports it into a fresh
store in a temporary folder and prints what each step took.
"""

# Words are easier to read in a string than one a line.
# ruff: noqa: SIM905
from __future__ import annotations

import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from pathlib import Path

from bench.row import Row
from tubewise.store.store import Page, Store
from tubewise.tubes.catalogue import write_catalogue
from tubewise.tubes.tube import Tube

_SYLLABLES = (
    "ka lo mi ren tor vel su bra dun fi gos hal jor lum nar pel quo rin sta wex zo"
).split()
_HUES = (
    "red orange yellow green blue violet magenta rose crimson ochre sienna umber black white "
    "grey turquoise cyan vermilion scarlet maroon brown gold lemon olive sap azure lilac coral "
    "buff"
).split()
_KINDS = (
    "permanent quinacridone phthalo cadmium cobalt arylide naphthol ultramarine titanium zinc "
    "transparent opaque light deep medium dark pale burnt raw primary warm cool genuine hue"
).split()
_PIGMENTS = (
    "PV19 PR122 PB29 PB15:3 PB15:1 PG7 PG36 PY74 PY3 PY83 PY150 PR108 PR101 PBr7 PBk9 PBk7 "
    "PBk11 PW6 PW4 PO20 PO43 PO73 PR112 PR170 PR254 PR209 PV23 PB28 PB36 PG17 PG18 PY42 PY35 "
    "PR83 PB60"
).split()
_MEDIA = ("acrylic", "oil", "watercolour", "gouache")


def invented_tubes(count: int, seed: int = 20260201) -> list[Tube]:
    """Tubes of 120 invented makers, no two with one id; the same for the same seed."""
    rng = random.Random(seed)

    def word(least: int, most: int) -> str:
        return "".join(rng.choices(_SYLLABLES, k=rng.randint(least, most))).capitalize()

    makers = sorted({word(2, 4) + rng.choice(("", " " + word(2, 3))) for _ in range(140)})[:120]
    lines = {maker: [word(2, 3) for _ in range(rng.randint(1, 4))] for maker in makers}
    found: dict[str, Tube] = {}
    while len(found) < count:
        maker = rng.choice(makers)
        name = " ".join(
            [*rng.sample(_KINDS, rng.randint(0, 2)), rng.choice(_HUES)]
            + ([word(2, 4)] if rng.random() < 0.4 else [])
        )
        pigments = rng.sample(_PIGMENTS, rng.choice((1, 1, 1, 2, 2, 3)))
        size = rng.choice((5.0, 14.0, 20.0, 37.0, 40.0, 60.0, 75.0, 200.0))
        tube = Tube(
            maker=maker,
            line=rng.choice(lines[maker]),
            grade=rng.choice(("artist", "student")),
            medium=rng.choice(_MEDIA),
            name=name.title(),
            label=f"No. {rng.randint(100, 999)} {name} | Pigment: {', '.join(pigments)} | "
            f"Series {rng.randint(1, 6)} | {size:g} ml",
            size_ml=size,
            price=round(rng.uniform(2, 40), 2),
            currency="EUR",
            stock=rng.randint(0, 40),
            swatch_lab=(
                round(rng.uniform(10, 95), 1),
                round(rng.uniform(-60, 70), 1),
                round(rng.uniform(-60, 80), 1),
            ),
        )
        found.setdefault(tube.id, tube)
    return list(found.values())


def _misspelt(rng: random.Random, text: str) -> str:
    at = rng.randrange(1, max(2, len(text) - 1))
    return rng.choice((text[:at] + text[at + 1 :], text[:at] + text[at] + text[at:]))


def _find_misspelt(store: Store, rng: random.Random, words: str) -> Page:
    return store.find(_misspelt(rng, words))


def _timed(finds: Iterable[Callable[[], Page]]) -> tuple[float, str]:
    """Median seconds of the finds, and how long the slowest took."""
    times = []
    for find in finds:
        start = time.perf_counter()
        find()
        times.append(time.perf_counter() - start)
    return statistics.median(times), f"slowest {1000 * max(times):.0f} ms"


def rows(count: int = 100_000) -> Iterator[Row]:
    """Import `count` invented tubes twice, then find among them by name, code and maker."""
    tubes = invented_tubes(count)
    rng = random.Random(1)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "catalogue.csv"
        write_catalogue(path, tubes)
        with Store(Path(folder) / "store.sqlite3") as store:
            for step in ("import from CSV", "import the same again"):
                start = time.perf_counter()
                done = store.import_catalogue(path)
                took = time.perf_counter() - start
                counted = f"{done.added} added, {done.changed} changed, {done.unchanged} unchanged"
                yield Row(f"{step}, {count:,} tubes", took, None, "under 60 s", counted)
        # A store opened anew remembers nothing.
        with Store(Path(folder) / "store.sqlite3") as store:
            some = rng.sample(tubes, 100)
            store.find(_misspelt(rng, some[0].name))
            found = sum(
                any(hit.name == t.name for hit in store.find(_misspelt(rng, t.name)).tubes)
                for t in some
            )
            kinds: dict[str, list[Callable[[], Page]]] = {
                "misspelt name": [partial(_find_misspelt, store, rng, t.name) for t in some],
                "misspelt maker and name": [
                    partial(_find_misspelt, store, rng, f"{t.maker} {t.name}") for t in some
                ],
                "code": [partial(store.find, code=c) for c in _PIGMENTS],
                "maker": [partial(store.find, maker=t.maker) for t in some],
            }
            for kind, finds in kinds.items():
                median, slowest = _timed(finds)
                remark = (
                    slowest
                    if kind != "misspelt name"
                    else (f"{slowest}; {found} of {len(some)} on the first page")
                )
                yield Row(f"find by {kind}, {count:,} tubes", median, None, "under 50 ms", remark)


if __name__ == "__main__":
    for row in rows(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000):
        print(" | ".join(row.cells))
