"""The one error a person sees: what was wrong, where, and what to do."""

from __future__ import annotations

from collections.abc import Sequence


class UserError(Exception):
    """Input that cannot be used, told so that the person can mend it.

    `message` says what is wrong and what to do; `where` names file, row or line and column
    when there is one; `problems` lists several such faults at once, one line each. `instead` are
    what may be written instead of `typed`, one for each problem, so that a page can offer them.
    """

    def __init__(
        self,
        message: str,
        *,
        where: str = "",
        problems: Sequence[str] = (),
        typed: str = "",
        instead: Sequence[str] = (),
    ) -> None:
        self.message = message
        self.where = where
        self.problems = tuple(problems)
        self.typed = typed
        self.instead = tuple(instead)
        super().__init__(str(self))

    def __str__(self) -> str:
        head = f"{self.where}: {self.message}" if self.where else self.message
        return "\n".join((head, *(f"  {problem}" for problem in self.problems)))
