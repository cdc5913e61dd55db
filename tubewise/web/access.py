"""Who may change things: visitors, the access code, and the tokens that forms carry."""

from __future__ import annotations

import hashlib
import hmac
import secrets
import time
from base64 import urlsafe_b64encode
from collections import deque
from dataclasses import dataclass, field
from threading import Lock

# Where a page's forms have the visitor's token; put in when the page is sent, so that one page can
# be kept for everyone. As long as a token, so that the page's length stays.
# Another in each process: nothing that is stored can be the same, and so draw a token out.
TOKEN_HERE = "@" + secrets.token_hex(21)
VISITOR = "tubewise-visitor"

_TRIES = 10
_TRIES_WITHIN_S = 60.0
_MOST_VISITORS = 10_000


def new_code() -> str:
    """An access code that is easily read out and typed: twelve letters, some 56 bits."""
    letters = "abcdefghjkmnpqrstuvwxyz23456789"
    text = "".join(secrets.choice(letters) for _ in range(12))
    return "-".join((text[:4], text[4:8], text[8:]))


def _bare(code: str) -> bytes:
    return "".join(c for c in code.casefold() if c.isalnum()).encode("utf-8")


@dataclass
class Access:
    """The rules of one running server. `code` is empty where everyone may change things."""

    code: str = ""
    _secret: bytes = field(default_factory=lambda: secrets.token_bytes(32))
    _entered: dict[str, None] = field(default_factory=dict)
    _tries: deque[float] = field(default_factory=deque)
    _lock: Lock = field(default_factory=Lock)

    def token(self, visitor: str) -> str:
        """The token of a visitor's forms."""
        digest = hmac.new(self._secret, visitor.encode("utf-8"), hashlib.sha256).digest()
        return urlsafe_b64encode(digest).decode("ascii").rstrip("=")

    def is_token(self, visitor: str, token: str) -> bool:
        """Whether a form came from a page of ours that this visitor read."""
        return bool(visitor) and hmac.compare_digest(
            self.token(visitor).encode("ascii"), token.encode("utf-8")
        )

    def may_change(self, visitor: str) -> bool:
        """Whether a visitor may change things."""
        return not self.code or (bool(visitor) and visitor in self._entered)

    def enter(self, code: str) -> str | None:
        """A new visitor's name if the code is right, else None.

        After too many wrong codes within a minute no code is right until it is over.
        """
        with self._lock:
            now = time.monotonic()
            while self._tries and now - self._tries[0] > _TRIES_WITHIN_S:
                self._tries.popleft()
            if len(self._tries) >= _TRIES:
                return None
            if not self.code or not hmac.compare_digest(_bare(code), _bare(self.code)):
                self._tries.append(now)
                return None
            visitor = new_visitor()
            self._entered[visitor] = None
            while len(self._entered) > _MOST_VISITORS:
                self._entered.pop(next(iter(self._entered)))
            return visitor

    def leave(self, visitor: str) -> None:
        """Forget that a visitor gave the code."""
        with self._lock:
            self._entered.pop(visitor, None)


def new_visitor() -> str:
    """A name for a visitor that nobody can guess."""
    return secrets.token_urlsafe(24)
