"""Pictures that were sent to have tubes chosen for them: a few, in memory, the oldest forgotten."""

from __future__ import annotations

import secrets
import threading
from collections import OrderedDict
from typing import Final

from tubewise.web.missing import MissingError

MOST_PICTURES: Final = 8
MOST_OF_ONE: Final = 3  # of one visitor, so that nobody pushes out all others'


class SentPictures:
    """The bytes of each picture by a key that nobody can guess."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, tuple[str, bytes]] = OrderedDict()
        self._lock = threading.Lock()

    def keep(self, data: bytes, visitor: str = "") -> str:
        """Keep a visitor's picture for a while; its key."""
        key = secrets.token_urlsafe(16)
        with self._lock:
            self._kept[key] = (visitor, data)
            own = [known for known, (whose, _) in self._kept.items() if whose == visitor]
            for known in own[:-MOST_OF_ONE]:
                del self._kept[known]
            while len(self._kept) > MOST_PICTURES:
                self._kept.popitem(last=False)
        return key

    def picture(self, key: str) -> bytes:
        """The picture of a key. Raises MissingError."""
        with self._lock:
            found = self._kept.get(key)
        if found is None:
            raise MissingError("This picture is gone; send it again.")
        return found[1]
