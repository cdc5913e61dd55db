"""One pigment in its one spelling: a code, with a form where one is meant."""

from __future__ import annotations

import re
from typing import Self

_REF = re.compile(
    r"(?P<code>(?P<base>[A-Za-z][A-Za-z0-9]*)(?::\d{1,2})?)(?:/(?P<form>[a-z0-9]+(?:-[a-z0-9]+)*))?"
)


class Ref(str):
    """A pigment's code and form as every room names it: `PV19/gamma`, `PB15:3`, `PBk9`.

    It is the text itself, so it sorts, prints and stands in JSON as such. Only the proper spelling
    is taken (`labels.parse_ref` reads what people type): ValueError for anything else. Whether the
    register knows it is another question: `Register.resolve`.
    """

    __slots__ = ()

    def __new__(cls, text: str) -> Self:
        """A ref of its proper spelling; ValueError for any other."""
        if not isinstance(text, cls) and _REF.fullmatch(text) is None:
            raise ValueError(f"“{text}” is not written as a pigment is: PV19/gamma, PB15:3, PBk9")
        return super().__new__(cls, text)

    @classmethod
    def of(cls, code: str, form: str = "") -> Self:
        """The ref of a code and the name of a form, "" for none."""
        return cls(f"{code}/{form}" if form else code)

    @property
    def code(self) -> str:
        """The Colour Index Generic Name: PV19 of `PV19/gamma`."""
        return self.partition("/")[0]

    @property
    def form(self) -> str:
        """The form's name, "" where none is said."""
        return self.partition("/")[2]

    @property
    def base(self) -> str:
        """The code without its suffix: PB15 of `PB15:3`."""
        return self.code.partition(":")[0]
