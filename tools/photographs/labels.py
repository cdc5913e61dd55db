"""How many codes of rendered labels are read, doubted or missed, by difficulty."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from tools.photographs.tube_pictures import DIFFICULTIES, Photograph, photograph
from tubewise.labels.photo.photo_reading import PhotographedTube
from tubewise.labels.photo.read import read_pixels
from tubewise.pictures.opening import open_picture

HEAD = ("difficulty", "pictures", "codes", "recall", "offered too", "precision",
        "right without help", "silent errors", "name right")  # fmt: skip


def rows(seeds: range) -> Iterator[tuple[str, ...]]:
    """The head of the table, then a row for each difficulty."""
    yield HEAD
    yield tuple("---" for _ in HEAD)
    for difficulty in DIFFICULTIES:
        counted: Counter[str] = Counter()
        for seed in seeds:
            made = photograph(seed, difficulty)
            counted.update(outcome(made, read_pixels(open_picture(made.data)).tubes))
        yield (difficulty, *_shares(counted))


def outcome(made: Photograph, tubes: tuple[PhotographedTube, ...]) -> dict[str, int]:
    """What one photograph of one tube adds to the counts."""
    truth = set(made.labels[0].codes)
    read = {code for tube in tubes for code in tube.reading.codes}
    doubts = [doubt for tube in tubes for doubt in tube.doubts]
    offered = read | {code for doubt in doubts for code in doubt.candidates}
    right = read == truth
    names = {tube.name.casefold() for tube in tubes}
    return {
        "pictures": 1,
        "codes": len(truth),
        "read": len(read),
        "hit": len(read & truth),
        "offered": len(offered & truth),
        "unaided": int(right and not doubts),
        # Without any print the person is told so; only a wrong reading without doubt is silent.
        "silent": int(not right and bool(tubes) and not doubts),
        "named": int(made.labels[0].name.casefold() in names),
    }


def _shares(n: Counter[str]) -> tuple[str, ...]:
    def share(part: str, whole: str) -> str:
        return f"{100 * n[part] / max(1, n[whole]):.1f} %"

    return (
        str(n["pictures"]),
        str(n["codes"]),
        share("hit", "codes"),
        share("offered", "codes"),
        share("hit", "read"),
        share("unaided", "pictures"),
        str(n["silent"]),
        share("named", "pictures"),
    )
