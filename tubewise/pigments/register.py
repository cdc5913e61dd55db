"""The register of pigments: what a Colour Index name stands for, read from the data files.

Needs only the standard library and loads in a few hundredths of a second, since reading a label
must be quick. Every fact stands in a spreadsheet under `data/` with its source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path

from tubewise.errors import UserError
from tubewise.pigments.pigment import Caution, Form, Pigment
from tubewise.pigments.promise import Promise
from tubewise.pigments.ref import Ref
from tubewise.pigments.register_files import read_files
from tubewise.pigments.words import find_phrases

_DATA = Path(__file__).parent / "data"


class Register:
    """All pigments, by code and by the names that promise them."""

    __slots__ = (
        "_by_folded",
        "_longest_promise",
        "_pigments",
        "_promises",
        "general_cautions",
    )

    def __init__(
        self,
        pigments: Mapping[str, Pigment],
        promises: Mapping[tuple[str, ...], Promise],
        general_cautions: tuple[Caution, ...],
    ) -> None:
        self._pigments = dict(pigments)
        self._promises = dict(promises)
        self._longest_promise = max(map(len, promises), default=0)
        self.general_cautions = general_cautions
        self._by_folded = {code.lower(): pigment for code, pigment in pigments.items()}

    def __len__(self) -> int:
        return len(self._pigments)

    def __iter__(self) -> Iterator[Pigment]:
        return iter(self._pigments.values())

    def __contains__(self, code: object) -> bool:
        return isinstance(code, str) and self.get(code) is not None

    @property
    def codes(self) -> tuple[str, ...]:
        """Every code, in the order of the file."""
        return tuple(self._pigments)

    @property
    def refs(self) -> tuple[Ref, ...]:
        """Every colour the register tells apart: `PB29/red-shade`, or `PB28` without forms."""
        return tuple(ref for pigment in self for ref in pigment.refs)

    def get(self, code: str) -> Pigment | None:
        """Return the pigment with this code, in any case, or None."""
        return self._by_folded.get(code.strip().lower())

    def suffixed(self, code: str) -> tuple[Pigment, ...]:
        """Return the pigments whose parent is `code`: PB15:1 to PB15:6 for PB15."""
        return tuple(pigment for pigment in self if pigment.parent == code)

    def resolve(self, ref: str) -> tuple[Pigment, Form | None]:
        """Return the pigment and form that `ref` names: `PV19/gamma`, `PW6`.

        Without a form the default one. Raises `UserError` for an unknown code or form, with the
        nearest known ones.
        """
        code, _, form_name = ref.strip().partition("/")
        pigment = self.get(code)
        if pigment is None:
            import difflib  # costs a hundredth of a second, and only mistakes need it

            near = difflib.get_close_matches(code.strip().lower(), self._by_folded, n=3)
            hint = f"; did you mean {' or '.join(self._by_folded[n].code for n in near)}?"
            raise UserError(f"{code.strip()!r} is not in the register{hint if near else ''}")
        if not form_name:
            return pigment, pigment.default_form
        form = pigment.form(form_name)
        if form is None:
            known = ", ".join(pigment.refs)
            raise UserError(
                f"{pigment.code} has no form {form_name.strip()!r}; "
                + (f"known are {known}" if pigment.forms else f"write {pigment.code}")
            )
        return pigment, form

    @property
    def promised_phrases(self) -> tuple[str, ...]:
        """Every phrase by which a name promises pigments, folded, in all languages."""
        return tuple(" ".join(words) for words in self._promises)

    def promises(self, text: str) -> tuple[Promise, ...]:
        """Return what a tube's name promises, each with its span; the longest phrase wins."""
        return tuple(
            Promise(found.promise, found.codes, found.strength, found.source, span)
            for found, span in find_phrases(text, self._promises, self._longest_promise)
        )


def load(folder: Path | None = None) -> Register:
    """Return the register read from `folder`, or the one that ships (read once).

    Raises `UserError` naming file, row and column of everything that cannot be used.
    """
    return _shipped() if folder is None else Register(*read_files(folder))


@lru_cache(maxsize=1)
def _shipped() -> Register:
    return Register(*read_files(_DATA))
