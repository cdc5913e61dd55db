"""What an address asks for is not here."""

from __future__ import annotations


class MissingError(Exception):
    """Nothing is at this address; the message says what was looked for and what to do."""
