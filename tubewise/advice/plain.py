"""Results as JSON: the names of a dataclass's fields become the keys."""

from __future__ import annotations

import dataclasses
import json
import math
from collections.abc import Mapping
from enum import Enum
from typing import Any

import numpy as np


def plain(value: Any) -> Any:
    """Any result as the dicts, lists, numbers and text that JSON can hold.

    Fields whose metadata says `json=False` stay out; a field's metadata may give another key as
    `json="from"`. Numbers JSON cannot hold (infinite, not a number) become null.
    """
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        out: dict[str, Any] = {}
        for field in dataclasses.fields(value):
            key = field.metadata.get("json", field.name)
            if key is not False:
                out[key] = plain(getattr(value, field.name))
        return out
    if isinstance(value, Mapping):
        return {str(k): plain(v) for k, v in value.items()}
    if isinstance(value, np.ndarray):
        return plain(value.tolist())
    if isinstance(value, (list, tuple, set, frozenset)):
        return [plain(v) for v in value]
    if isinstance(value, Enum):
        return plain(value.value)
    if isinstance(value, np.generic):
        return plain(value.item())
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value


def to_json(value: Any) -> str:
    """The same as text, in UTF-8 words rather than escapes."""
    return json.dumps(plain(value), ensure_ascii=False, indent=2)
