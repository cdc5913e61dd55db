"""One row of the benchmark table."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """Ours against a named reference, in seconds; or, without one, ours against a limit.

    `to_reach` says what the row should show: "50 times" or "under 60 s".
    """

    what: str
    ours: float
    reference: float | None = None
    to_reach: str = ""
    remark: str = ""

    @property
    def ratio(self) -> float | None:
        """How many times faster than the reference, or None without one."""
        return None if self.reference is None else self.reference / self.ours

    @property
    def cells(self) -> tuple[str, ...]:
        """The row as text."""
        reference = "" if self.reference is None else seconds(self.reference)
        ratio = "" if self.ratio is None else f"{self.ratio:.3g}"
        return self.what, seconds(self.ours), reference, ratio, self.to_reach, self.remark


def seconds(value: float) -> str:
    """A time in the unit that reads best."""
    if value < 1e-3:
        return f"{value * 1e6:.3g} µs"
    return f"{value * 1e3:.3g} ms" if value < 1.0 else f"{value:.3g} s"
