"""Binder first: what mixes with what, what lies over what, and on which ground.

The rules stand in data/binder_pairs.csv, binder_layers.csv and binder_grounds.csv, each with its
reason and its source. A binder is named as in pigments/data/binders.csv, by any of its words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal, get_args

from tubewise.errors import UserError
from tubewise.pigments.binders import binder_named, binders
from tubewise.pigments.tables import Faults, Row, read_rows

Verdict = Literal["yes", "with care", "no", "not known"]

_DATA = Path(__file__).parent / "data"
_VERDICTS: tuple[str, ...] = get_args(Verdict)
ITSELF = "itself"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """What the trade says of two binders, or of a binder and a ground.

    `verdict` is "not known" where a tube does not say its medium; `why` is a clause in words;
    `source` says where the rule comes from.
    """

    a: str
    b: str
    verdict: Verdict
    why: str
    source: str

    @property
    def goes(self) -> bool:
        """Whether nothing speaks against it, as far as is known; with care is not plainly yes."""
        return self.verdict in ("yes", "not known")


def mixes(a: str, b: str) -> Rule:
    """Whether two media mix on the palette; either may be blank. UserError for an unknown one."""
    return _asked(_pairs(), _known(a), _known(b))


def over(top: str, under: str) -> Rule:
    """Whether one medium may lie over a dry layer of another. UserError for an unknown one."""
    return _asked(_layers(), _known(top), _known(under))


def on(binder: str, ground: str) -> Rule:
    """Whether a medium may lie on a ground, one of `grounds()`. UserError for an unknown one."""
    if ground and ground not in grounds():
        raise UserError(f"the grounds are {', '.join(grounds())}", where=f"“{ground}”")
    return _asked(_on(), _known(binder), ground)


def grounds() -> tuple[str, ...]:
    """The grounds that `on` knows, in the order of the file."""
    return tuple(dict.fromkeys(ground for _, ground in _on()))


def apart(a: str, b: str) -> str:
    """Why two media are not mixed, as a sentence's end; "" where they plainly mix."""
    rule = mixes(a, b)
    if rule.goes:
        return ""
    how = "mix only with care" if rule.verdict == "with care" else "do not mix"
    pair = f"{_plural(rule.a)} and {_plural(rule.b)}" if rule.a != rule.b else f"{rule.a}s"
    return f"{pair} {how}: {rule.why}"


def common(media: Iterable[str]) -> str:
    """The binder that a mixture of these media is: "" where none says its medium.

    Of oil and water-mixable oil it is oil: the stronger claim decides. Raises UserError with the
    reason where two of them do not mix.
    """
    known = list(dict.fromkeys(name for medium in media if (name := _known(medium))))
    for n, a in enumerate(known):
        for b in known[n + 1 :]:
            why = apart(a, b)
            if why:
                raise UserError(f"{why}; say one as the medium (--medium)")
    order = list(binders())
    return min(known, key=order.index, default="")


def _plural(binder: str) -> str:
    return binder if binder.endswith(("gouache", "casein", "tempera")) else f"{binder}s"


def _known(medium: str) -> str:
    try:
        return binder_named(medium)
    except ValueError as error:
        raise UserError(str(error)) from None


def _asked(table: Mapping[tuple[str, str], Rule], a: str, b: str) -> Rule:
    if not a or not b:
        why = "one of them does not say what it is bound with"
        return Rule(a=a, b=b, verdict="not known", why=why, source="")
    return table[a, b]


# ---------------------------------------------------------------- the tables


def members(words: Sequence[str]) -> list[str]:
    """Binders that names of binders and families stand for; an unknown word stays as it is."""
    out: list[str] = []
    for word in words:
        family = [b.name for b in binders().values() if b.family == word]
        out += [word] if word in binders() or not family else family
    return out


def _rules(
    path: Path, columns: tuple[str, str, str], pairs_of: Callable[[Row], list[tuple[str, str]]]
) -> dict[tuple[str, str], Rule]:
    """The rules of a file by pair, as `pairs_of` finds them in a row. UserError lists faults."""
    faults = Faults(path.name)
    table: dict[tuple[str, str], Rule] = {}
    for row in read_rows(path, (*columns, "why", "source")):
        verdict = row[columns[2]]
        if verdict not in _VERDICTS[:3]:
            faults.add(row, columns[2], f"must be one of {', '.join(_VERDICTS[:3])}")
        for column in ("why", "source"):
            if not row[column]:
                faults.add(row, column, "must not be empty")
        for a, b in pairs_of(row):
            if a not in binders():
                faults.add(row, columns[0], f"{a!r} is no binder of binders.csv and no family")
            if (a, b) in table:
                faults.add(row, columns[0], f"{a} and {b} have a rule already")
            table[a, b] = Rule(
                a=a,
                b=b,
                verdict=verdict,  # type: ignore[arg-type]
                why=row["why"],
                source=row["source"],
            )
    faults.raise_if_any()
    return table


def read_pairs(path: Path) -> dict[tuple[str, str], Rule]:
    """The rules of mixing by pair, in either order."""

    def pairs(row: Row) -> list[tuple[str, str]]:
        first = members(row.listed("a"))
        if row["b"] == ITSELF:
            return [(a, a) for a in first]
        both = [(a, b) for a in first for b in members(row.listed("b"))]
        return both + [(b, a) for a, b in both]

    return _rules(path, ("a", "b", "mixes"), pairs)


def read_layers(path: Path) -> dict[tuple[str, str], Rule]:
    """The rules of layers by (top, under)."""
    return _rules(
        path,
        ("top", "under", "verdict"),
        lambda row: [
            (top, under)
            for top in members(row.listed("top"))
            for under in members(row.listed("under"))
        ],
    )


def read_grounds(path: Path) -> dict[tuple[str, str], Rule]:
    """The rules of grounds by (binder, ground)."""
    return _rules(
        path,
        ("binder", "ground", "verdict"),
        lambda row: [(b, row["ground"]) for b in members(row.listed("binder"))],
    )


@lru_cache(maxsize=1)
def _pairs() -> dict[tuple[str, str], Rule]:
    return read_pairs(_DATA / "binder_pairs.csv")


@lru_cache(maxsize=1)
def _layers() -> dict[tuple[str, str], Rule]:
    return read_layers(_DATA / "binder_layers.csv")


@lru_cache(maxsize=1)
def _on() -> dict[tuple[str, str], Rule]:
    return read_grounds(_DATA / "binder_grounds.csv")
