"""The demo: an invented shop, a class's boxes and a two-day workshop, as plain spreadsheets."""

from __future__ import annotations
