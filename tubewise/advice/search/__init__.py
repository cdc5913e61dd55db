"""The recipe search over plain arrays; `search` and `search_many` are its two doors.

Kept light: numba is imported only when a search is first asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

_HOME = {
    "SearchProblem": "problem",
    "Found": "problem",
    "SearchResult": "problem",
    "search": "recipes",
    "search_many": "batch",
    "corrections": "adjust",
}
__all__ = sorted(_HOME)


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(name)
    return getattr(import_module(f"tubewise.advice.search.{_HOME[name]}"), name)
