"""Label text to a reading: the pigments a tube declares, and what to check on it."""

from __future__ import annotations

from tubewise.labels.kinds import KINDS
from tubewise.labels.reader import read
from tubewise.labels.reading import Declared, LabelWarning, Reading, Span
from tubewise.labels.ref import parse_ref, typed_ref

__all__ = ["KINDS", "Declared", "LabelWarning", "Reading", "Span", "parse_ref", "read", "typed_ref"]
