"""Read a label: pigments with their spans, and warnings in a painter's words."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from tubewise.labels import kinds
from tubewise.labels.codes import Codes, Written, find_codes
from tubewise.labels.dyes import find_dyes, is_dye
from tubewise.labels.fold import Folded, fold
from tubewise.labels.forms import find_form
from tubewise.labels.hues import possible_hues, said_hues
from tubewise.labels.known import Known, known, usual_code
from tubewise.labels.misreads import find_misreads, near_codes
from tubewise.labels.names import name_warnings
from tubewise.labels.numbers import Number, attach, find_numbers
from tubewise.labels.phrasing import either, listing
from tubewise.labels.reading import Declared, LabelWarning, Reading, Span
from tubewise.labels.surroundings import is_elsewhere, without_web
from tubewise.labels.title import Title, printed_title, title_of
from tubewise.labels.vocabulary import key_words

if TYPE_CHECKING:
    from tubewise.pigments.register import Register

_PARTED = re.compile(r"[,;/+&|\n.)\]]|\bAND\b|\bUND\b|\bET\b")
_SHORTHAND = re.compile(
    r"(?:[ ]?[,/+&][ ]?|[ ](?:AND|UND|ET)[ ]|-)(?P<number>\d{1,3})"
    r"(?=[ ]*(?:[,;/+&|.)\]\n]|$|AND\b))"
    r"(?![.,]\d)"
)
_LONGEST: Final = 5_000  # characters read; no tube carries more, and a wrong file may be huge


@dataclass(frozen=True, slots=True, kw_only=True)
class _Label:
    """A label made ready for reading.

    `plain` is its folded text without web addresses; `keys` gives the words that may tell a form;
    `mixed` says that more than one pigment is declared.
    """

    plain: str
    folded: Folded
    codes: Sequence[Written]
    title: Title
    keys: Callable[[], Iterator[Sequence[str]]]
    mixed: bool
    look: Known


def read(text: str, *, name: str = "", register: Register | None = None) -> Reading:
    """Read the label `text` of a paint called `name`.

    `name` may be empty; then the words before the first code serve as the name. `register` is the
    built-in one by default. Spans are half-open character offsets into `text` (or into `name`,
    where a warning says so). Never raises on any text; only the first 5,000 characters count.
    """
    look = known(register)
    folded = fold(text[:_LONGEST])
    plain = without_web(folded.text)
    written = find_codes(plain, lambda a, b: text[slice(*folded.span(a, b))], look)
    codes = written.read
    numbers = find_numbers(plain, codes, look)
    owned, alone = attach(plain, numbers, codes, look)
    title = title_of(text, name, folded, codes, numbers)

    def keys() -> Iterator[Sequence[str]]:
        yield title.key
        # The name in five languages is long, but may hold the one word that tells a form.
        yield printed_title(text, folded, codes, numbers, most=20).key

    label = _Label(
        plain=plain,
        folded=folded,
        codes=codes,
        title=title,
        keys=keys,
        mixed=len({code.code for code in codes}) + len(alone) > 1,
        look=look,
    )
    warnings: list[LabelWarning] = []
    declared = [_declare(label, i, owned.get(i, ()), warnings) for i in range(len(codes))]
    settled, vague = _from_numbers(label, alone, warnings)
    pigments = _without_repeats(sorted([*declared, *settled], key=lambda d: d.span))
    warnings = _drop_answered(warnings, pigments, {d.span for d in declared})
    warnings += _shorthand(label)
    warnings += _misread(label, text, written.refused)
    warnings += _maybe_something_else(label, text, written)
    warnings += _dyes(label, pigments)
    unread = bool(vague) or any(w.kind == kinds.LIKELY_MISREAD for w in warnings)
    if not pigments and not unread and not any(w.kind == kinds.UNKNOWN_CODE for w in warnings):
        warnings.append(_nothing(text))
    warnings += name_warnings(title, pigments, look, unread=unread)
    warnings.sort(key=lambda w: (w.where == "name", w.span is None, w.span or (0, 0)))
    return Reading(text, tuple(pigments), tuple(warnings))


def _misread(label: _Label, text: str, refused: Sequence[tuple[int, int]]) -> list[LabelWarning]:
    """Words that look like misread codes, but for places that are codes or were `refused`."""
    found: list[LabelWarning] = []
    taken = [*((code.start, code.end) for code in label.codes), *refused]
    for misread in find_misreads(label.plain, taken, label.look):
        span = label.folded.span(misread.start, misread.end)
        found.append(
            LabelWarning(
                kinds.LIKELY_MISREAD,
                f"“{text[slice(*span)]}” is not a pigment code, but looks like a misprint or "
                f"misreading of {either(misread.candidates)}. Look at the tube and correct it.",
                span,
                suggestions=misread.candidates,
            )
        )
    return found


def _declare(
    label: _Label, index: int, numbers: Sequence[Number], warnings: list[LabelWarning]
) -> Declared:
    """The pigment of the code at `index` with the constitution `numbers` beside it."""
    look, folded = label.look, label.folded
    written = label.codes[index]
    code, span = written.code, folded.span(written.start, written.end)
    constitution = numbers[0].number if numbers else ""
    if not written.known:
        warnings.append(_unknown(code, span, look))
        return Declared(code, "", constitution, "", span)
    pigment = look.pigments[code]
    name = pigment.names[0] if pigment.names else pigment.chemical
    for number in numbers:
        if pigment.agrees_with(number.number) is False:
            warnings.append(_disagree(code, number, folded, look))
    beside = _beside(label, index) if pigment.forms else ()
    form = find_form(code, beside, label.keys(), look, mixed=label.mixed)
    if pigment.needs == "suffix":
        options = look.suffixed.get(code, ())
        warnings.append(
            LabelWarning(
                kinds.NEEDS_SUFFIX,
                f"{code} covers several pigments that mix differently ({either(options)}). "
                f"Look for the figure after the colon, or ask the maker; mostly {pigment.assumed} "
                "is meant.",
                span,
                suggestions=options,
            )
        )
    elif form.assumed and pigment.needs == "form":
        options = pigment.refs
        warnings.append(
            LabelWarning(
                kinds.NEEDS_FORM,
                f"{code} is made in visibly different colours ({either(options)}), and nothing "
                f"printed tells which. Taken as {code}/{form.form}; compare the swatch.",
                span,
                suggestions=options,
            )
        )
    return Declared(code, form.form, constitution, name, span, form.assumed)


def _beside(label: _Label, index: int) -> tuple[tuple[str, ...], ...]:
    """Key words right after the code, then right before it, up to the next comma or code."""
    codes, plain = label.codes, label.plain
    code = codes[index]
    following = codes[index + 1].start if index + 1 < len(codes) else len(plain)
    after = plain[code.end : min(following, code.end + 60)].lstrip(" /-([*")
    preceding = codes[index - 1].end if index else 0
    before = plain[max(preceding, code.start - 60) : code.start].rstrip(" (-[:*")
    parts = _PARTED.split(before)
    ahead = parts[-1] if index == 0 or len(parts) > 1 else ""
    return key_words(_PARTED.split(after, maxsplit=1)[0]), key_words(ahead)


def _from_numbers(
    label: _Label, alone: Sequence[Number], warnings: list[LabelWarning]
) -> tuple[list[Declared], list[Number]]:
    """Pigments declared only by constitution number, and numbers that stay ambiguous."""
    look = label.look
    settled: list[Declared] = []
    vague: list[Number] = []
    for number in alone:
        span = label.folded.span(number.start, number.end)
        options = look.numbers.get(number.number, ())
        if not options and is_dye(number.number):
            continue
        if not options:
            warnings.append(
                LabelWarning(
                    kinds.UNKNOWN_CODE,
                    f"Constitution number {number.number} is not in the register. "
                    "Check it on the tube, or look for the code beside it (such as PB29).",
                    span,
                )
            )
            continue
        code = _settle(number.number, options, label.title, look)
        if len(options) > 1:
            taken = f" Taken as {code}, which fits best." if code else ""
            warnings.append(
                LabelWarning(
                    kinds.AMBIGUOUS_NUMBER,
                    f"Constitution number {number.number} is shared by {listing(options)}.{taken} "
                    "Look for the code on the tube.",
                    span,
                    suggestions=options,
                )
            )
        if not code:
            vague.append(number)
            continue
        pigment = look.pigments[code]
        form = find_form(code, (), label.keys(), look, mixed=label.mixed)
        settled.append(
            Declared(
                code,
                form.form,
                number.number,
                pigment.names[0] if pigment.names else "",
                span,
                form.assumed,
            )
        )
    return settled, vague


def _settle(number: str, options: Sequence[str], title: Title, look: Known) -> str:
    """The code a number means: the only one, the common parent, what the name tells, the usual."""
    if len(options) == 1:
        return options[0]
    parents = {option.partition(":")[0] for option in options}
    if len(parents) == 1 and options[0] in parents:
        return options[0]
    named = [code for code in options if look.is_named(code, title.key)]
    if len(named) == 1:
        return named[0]
    fitting = [code for code in options if look.pigments[code].hue in title.key]
    if len(fitting) == 1:
        return fitting[0]
    usual = usual_code(number)
    hues = {word.word for word in said_hues(title.found)}
    can = possible_hues([(usual, look.pigments[usual].hue)]) if usual in options else frozenset()
    return usual if can and (not hues or hues & can) else ""


def _dyes(label: _Label, pigments: Sequence[Declared]) -> list[LabelWarning]:
    """Dyes beside the pigments, or instead of them."""
    taken = [(code.start, code.end) for code in label.codes]
    return [
        LabelWarning(
            kinds.DYE,
            f"{dye.name} is a dye, no pigment: {dye.fastness}. Nothing here predicts its mixtures.",
            label.folded.span(dye.start, dye.end),
        )
        for dye in find_dyes(label.plain, taken)
    ]


def _unknown(code: str, span: Span, look: Known) -> LabelWarning:
    near = near_codes(code, look)
    hint = f" Did the tube say {either(near)}?" if near else ""
    return LabelWarning(
        kinds.UNKNOWN_CODE,
        f"{code} is not in the register, so nothing is known of its behaviour.{hint} "
        "Check it on the tube.",
        span,
        suggestions=near,
    )


def _disagree(code: str, number: Number, folded: Folded, look: Known) -> LabelWarning:
    own = look.pigments[code].constitutions
    others = look.numbers.get(number.number, ())
    of_another = f", which belongs to {either(others)}" if others else ""
    return LabelWarning(
        kinds.CODE_NUMBER_DISAGREE,
        f"{code} has constitution number {either(own)}, but the label says "
        f"{number.number}{of_another}. One of the two is misprinted, or the tube holds both: ask "
        "the maker which.",
        folded.span(number.start, number.end),
        suggestions=others,
    )


def _shorthand(label: _Label) -> list[LabelWarning]:
    """Bare numbers after a code that may carry its letters on: `PY 3, 74`. They are not read."""
    found: list[LabelWarning] = []
    for code in label.codes:
        letters = code.code.rstrip("0123456789:")
        place = code.end
        while hit := _SHORTHAND.match(label.plain, place):
            wanted = f"{letters}{hit['number'].lstrip('0')}"
            start, end = hit.span("number")
            place = end
            if wanted not in label.look.pigments or is_elsewhere(label.plain, start, end):
                break
            span = label.folded.span(start, end)
            found.append(
                LabelWarning(
                    kinds.SHORTHAND,
                    f"“{hit['number']}” after {code.code} may stand for {wanted}, but is not read "
                    f"as a pigment. If the tube means it, write {wanted}.",
                    span,
                    suggestions=(wanted,),
                )
            )
    return found


def _maybe_something_else(label: _Label, text: str, written: Codes) -> list[LabelWarning]:
    """Codes that may be a price group, a number or a note, read or not."""
    found: list[LabelWarning] = []
    for code, is_read in [
        *((c, True) for c in written.read),
        *((c, False) for c in written.unread),
    ]:
        if not code.doubt:
            continue
        span = label.folded.span(code.start, code.end)
        taken = (
            f"It is read as {code.code}; strike it out if it is none."
            if is_read
            else f"It is not read as {code.code}. If the tube means the pigment, write {code.code}."
        )
        found.append(
            LabelWarning(
                kinds.MAYBE_SOMETHING_ELSE,
                f"“{text[slice(*span)]}” may be {code.doubt}. {taken}",
                span,
                suggestions=(code.code,),
            )
        )
    return found


def _nothing(text: str) -> LabelWarning:
    opening = "No pigment is declared." if text.strip() else "The label is empty."
    return LabelWarning(
        kinds.NOTHING_DECLARED,
        f"{opening} Look for codes such as PB29 or “Pigment Blue 29” in the small print, "
        "or ask the maker; without them the name alone promises nothing.",
        None,
    )


def _without_repeats(pigments: Sequence[Declared]) -> list[Declared]:
    """Each pigment once: labels repeat them in every language. A stated form beats an assumed."""
    kept: list[Declared] = []
    stated = {p.code for p in pigments if p.form and not p.form_assumed}
    for pigment in pigments:
        if pigment.form_assumed and pigment.code in stated:
            continue
        twin = next((i for i, k in enumerate(kept) if k.ref == pigment.ref), None)
        if twin is None:
            kept.append(pigment)
        elif pigment.constitution and not kept[twin].constitution:
            kept[twin] = replace(kept[twin], constitution=pigment.constitution)
    return kept


def _drop_answered(
    warnings: Sequence[LabelWarning], pigments: Sequence[Declared], spans: set[Span]
) -> list[LabelWarning]:
    """Warnings without those on the code `spans` that a repeat of the code answers or repeats."""
    kept = {pigment.span for pigment in pigments}
    once = (kinds.NEEDS_FORM, kinds.NEEDS_SUFFIX, kinds.UNKNOWN_CODE)
    return [w for w in warnings if not (w.kind in once and w.span in spans - kept)]
