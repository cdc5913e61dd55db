"""What somebody typed into the one field: the pigments and tubes it can mean, to pick from."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise import labels
from tubewise.advice.counter.finding import Search
from tubewise.advice.counter.hues import HUES
from tubewise.errors import UserError
from tubewise.pigments.pigment import Pigment
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings

# Longer than any name of a tube: it was copied or typed off a label.
_A_LABEL_FROM = 60
_MOST_TUBES = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What a text can mean: a `tube` by its id, or `pigments` and `tubes` to pick from.

    `total` is how many tubes there are; `hue` the hue word it is; `is_label` says that it reads as
    the text of a label, whose codes are the pigments.
    """

    text: str
    tube: Tube | None = None
    pigments: tuple[Pigment, ...] = ()
    tubes: tuple[Tube, ...] = ()
    total: int = 0
    hue: str = ""
    is_label: bool = False

    @property
    def is_empty(self) -> bool:
        """Whether nothing was found."""
        return self.tube is None and not self.pigments and not self.tubes


def typed(holdings: Holdings, text: str) -> Typed:
    """Everything here that a text can mean."""
    text = " ".join(text.split())
    if not text:
        return Typed(text="")
    tube = holdings.by_id.get(text)
    if tube is not None:
        return Typed(text=text, tube=tube, tubes=(tube,), total=1)
    reading = labels.read(text)
    codes = tuple(p.code for p in reading.pigments)
    hue = text.casefold() if text.casefold() in HUES else ""
    is_label = len(text) >= _A_LABEL_FROM and bool(codes)
    found = _tubes(holdings, text, codes, hue, is_label)
    return Typed(
        text=text,
        pigments=_pigments(text, codes),
        tubes=found[:_MOST_TUBES],
        total=len(found),
        hue=hue,
        is_label=is_label,
    )


def _pigments(text: str, codes: tuple[str, ...]) -> tuple[Pigment, ...]:
    register = load()
    promised = () if codes else tuple(c for p in register.promises(text) for c in p.codes)
    known = (register.get(code.partition("/")[0]) for code in dict.fromkeys((*codes, *promised)))
    return tuple(dict.fromkeys(p for p in known if p is not None))


def _tubes(
    holdings: Holdings, text: str, codes: tuple[str, ...], hue: str, is_label: bool
) -> tuple[Tube, ...]:
    """The tubes: by hue, by the codes of a label, by code, else by name, the best match first."""
    if hue:
        return holdings.found(Search(hue=hue))
    if is_label or len(codes) > 1:
        inside = sorted(codes)
        return tuple(t for t in holdings.tubes if sorted(r.code for r in t.refs) == inside)
    try:
        if codes:
            rest = _without_code(text)
            return holdings.found(Search(code=codes[0], name=rest))
        return holdings.found(Search(name=text))
    except UserError:
        return ()


def _without_code(text: str) -> str:
    reading = labels.read(text)
    start, end = reading.pigments[0].span
    return " ".join(f"{text[:start]} {text[end:]}".split())
