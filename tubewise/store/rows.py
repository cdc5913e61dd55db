"""Tubes, boxes and supply lists as rows of the store, and back."""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Mapping
from typing import Any

from tubewise.store.tables import TUBES
from tubewise.tubes.columns import COLUMNS
from tubewise.tubes.occasion import Occasion
from tubewise.tubes.slug import slug
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Tube

_PLAIN = ("id", *(column for column in COLUMNS if column != "swatch_lab"))
TUBE_COLUMNS = [TUBES.c[name] for name in (*_PLAIN, "swatch_L", "swatch_a", "swatch_b", "extra")]


_ENCODER = json.JSONEncoder(sort_keys=True, separators=(",", ":"))


def digest(value: object) -> str:
    """A fingerprint of what a file can say, the same in every run."""
    return hashlib.blake2b(_ENCODER.encode(value).encode(), digest_size=16).hexdigest()


def now() -> datetime.datetime:
    """This moment, in UTC."""
    return datetime.datetime.now(datetime.UTC)


def tube_document(tube: Tube) -> dict[str, Any]:
    """A tube as JSON."""
    document = {name: getattr(tube, name) for name in _PLAIN}
    document["swatch_lab"] = list(tube.swatch_lab) if tube.swatch_lab else None
    if not tube.swatch_geometry:
        # As documents were before swatches had a geometry, so that their fingerprints stay.
        del document["swatch_geometry"]
    document["extra"] = dict(tube.extra)
    return document


def tube_of_document(document: Mapping[str, Any]) -> Tube:
    """The tube of `tube_document`."""
    # Documents older than the geometry of swatches don't tell it.
    document = {"swatch_geometry": "", **document}
    lab = document["swatch_lab"]
    plain = {name: document[name] for name in _PLAIN}
    return Tube(**plain, swatch_lab=tuple(lab) if lab else None, extra=dict(document["extra"]))


def tube_row(tube: Tube) -> dict[str, Any]:
    """A tube as a row of `tubes`, without its moments."""
    document = tube_document(tube)
    lightness, a, b = tube.swatch_lab or (None, None, None)
    return {
        **{name: getattr(tube, name) for name in _PLAIN},
        "swatch_L": lightness,
        "swatch_a": a,
        "swatch_b": b,
        "extra": document["extra"],
        "maker_key": slug(tube.maker),
        "digest": digest(document),
    }


def tube_of_row(row: Mapping[str, Any]) -> Tube:
    """The tube of a row that holds TUBE_COLUMNS."""
    lab = (row["swatch_L"], row["swatch_a"], row["swatch_b"])
    plain = {name: row[name] for name in _PLAIN}
    return Tube(**plain, swatch_lab=None if None in lab else lab, extra=dict(row["extra"]))


def supply_documents(supply: SupplyList) -> tuple[Any, list[Any]]:
    """Slots and key mixes as JSON.

    Where a list says when and where it is for, its slots stand in an object beside that.
    """
    slots = [
        {
            "slot": slot.slot,
            "accept": [sorted(refs) for refs in slot.accept],
            "medium": slot.medium,
            "min_ml": slot.min_ml,
            "note": slot.note,
            "extra": dict(slot.extra),
        }
        for slot in supply.slots
    ]
    mixes = [
        {
            "mix": mix.mix,
            "parts": [list(part) for part in mix.parts],
            "aim": mix.aim,
            "extra": dict(mix.extra),
            **({"water": mix.water} if mix.water else {}),
        }
        for mix in supply.mixes
    ]
    if supply.occasion.lines:
        return {"slots": slots, "occasion": dict(supply.occasion.lines)}, mixes
    return slots, mixes


def supply_of_documents(name: str, slots: Any, mixes: list[Any]) -> SupplyList:
    """The supply list of `supply_documents`."""
    known = Occasion()
    if isinstance(slots, dict):
        known, slots = Occasion(**slots["occasion"]), slots["slots"]
    return SupplyList(
        name,
        tuple(
            Slot(**{**slot, "accept": tuple(frozenset(refs) for refs in slot["accept"])})
            for slot in slots
        ),
        tuple(
            KeyMix(**{**mix, "parts": tuple((ref, count) for ref, count in mix["parts"])})
            for mix in mixes
        ),
        known,
    )
