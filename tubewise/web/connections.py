"""Connections held to a number and to a pace, so that nobody keeps them all open with nothing."""

from __future__ import annotations

import asyncio
from ipaddress import ip_address
from typing import Any

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from tubewise import limits

_LOOK_EVERY_S = 1.0


class BoundedConnection(H11Protocol):
    """A connection that is closed where its request or its reader comes too slowly.

    Also where too many are open already: of all, or from one address other than this machine's.
    """

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        # When the request that is coming in began, None between requests; and its bytes so far.
        self._began: float | None = None
        self._bytes = 0
        # What waited to be sent when we last looked, and since when no less of it has waited.
        self._unsent = 0
        self._unsent_since = 0.0
        self._look_again: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Take the connection, or refuse it where too many are open."""
        super().connection_made(transport)
        if self._is_too_many():
            self._refuse(503, "Too many connections are open; try again in a minute.")
            return
        self._began = self.loop.time()
        self._look_again = self.loop.call_later(_LOOK_EVERY_S, self._look)

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget the connection."""
        if self._look_again is not None:
            self._look_again.cancel()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Note when a request begins to come in and when it is whole."""
        if self._began is None:
            self._began = self.loop.time()
            self._bytes = 0
        self._bytes += len(data)
        super().data_received(data)
        if self.conn.their_state not in (h11.IDLE, h11.SEND_BODY):
            self._began = None

    def _look(self) -> None:
        if self.transport.is_closing():
            return
        if self._is_late():
            self._refuse(408, "The request came too slowly; send it again.")
        elif self._is_unread():
            self.transport.abort()
        else:
            self._look_again = self.loop.call_later(_LOOK_EVERY_S, self._look)

    def _is_late(self) -> bool:
        if self._began is None:
            return False
        so_far = self.loop.time() - self._began
        if self.conn.their_state is h11.IDLE:
            return so_far > limits.HEADER_SECONDS
        earned = limits.BODY_SECONDS + self._bytes / limits.BODY_BYTES_A_SECOND
        return so_far > min(earned, limits.MOST_BODY_SECONDS)

    def _is_unread(self) -> bool:
        now = self.loop.time()
        unsent = self.transport.get_write_buffer_size()
        if unsent == 0 or unsent != self._unsent:
            self._unsent, self._unsent_since = unsent, now
        return now - self._unsent_since > limits.UNREAD_SECONDS

    def _is_too_many(self) -> bool:
        if len(self.connections) > limits.MOST_CONNECTIONS:
            return True
        if self.client is None or is_own(self.client[0]):
            return False
        near = [c.client for c in self.connections if isinstance(c, BoundedConnection)]
        from_there = sum(client is not None and client[0] == self.client[0] for client in near)
        return from_there > limits.MOST_FROM_ONE_PLACE

    def _refuse(self, status: int, words: str) -> None:
        """Say so where nothing was answered yet, and close."""
        if self.cycle is None or not self.cycle.response_started:
            body = words.encode("ascii")
            reason = {408: b"Request Timeout", 503: b"Service Unavailable"}[status]
            self.transport.write(
                b"HTTP/1.1 %d %s\r\ncontent-type: text/plain; charset=utf-8\r\n"
                b"content-length: %d\r\nconnection: close\r\n\r\n%s"
                % (status, reason, len(body), body)
            )
        self.transport.close()


def is_own(host: str) -> bool:
    """Whether an address is this machine's, where a reverse proxy may stand."""
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return False
