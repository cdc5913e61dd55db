"""Blends that the trade sells as the plain pigment: titanium white in oil is titanium with zinc."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from tubewise.pigments.binders import binder_named, binders
from tubewise.pigments.ref import Ref
from tubewise.pigments.tables import read_rows

_FILE = Path(__file__).parents[1] / "data" / "usual_blends.csv"


def usual_blend(refs: Sequence[str], holds: Sequence[str], medium: str) -> str:
    """Why a blend is what is asked, in words; "" where it is not.

    `holds` is in the label's order: what is asked must stand first. Raises ValueError for a medium
    nobody knows.
    """
    binder = binder_named(medium)
    if len(refs) != 1 or len(holds) < 2 or not binder:
        return ""
    wanted, codes = Ref(refs[0]).code, [Ref(ref).code for ref in holds]
    key = wanted, frozenset(codes), binders()[binder].family
    return _table().get(key, "") if codes[0] == wanted else ""


@lru_cache(maxsize=1)
def _table() -> dict[tuple[str, frozenset[str], str], str]:
    return {
        (row["asked"], frozenset(row.listed("holds")), row["family"]): row["words"]
        for row in read_rows(_FILE, ("asked", "holds", "family", "words", "source"))
    }
