"""What a command is asked, as one value: a dataclass whose fields are arguments and options."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, fields
from inspect import Parameter, Signature
from typing import Any, ClassVar, Protocol, TypeVar, get_type_hints


class Question(Protocol):
    """A frozen dataclass whose fields carry typer's `Argument` and `Option` in `Annotated`."""

    __dataclass_fields__: ClassVar[dict[str, Any]]


Q = TypeVar("Q", bound=Question)


def answering(question: type[Q], answer: Callable[[Q], None]) -> Callable[..., None]:
    """`answer` in the shape that typer reads: one keyword parameter for each field of `question`.

    A field without a default is required, and comes first in the help; then the fields that the
    dataclass adds, then those it inherits, which other commands share.
    """
    hints = get_type_hints(question, include_extras=True)
    by_name = {field.name: field for field in fields(question)}
    parameters = []
    for name in _own_first(question):
        default = by_name[name].default
        parameters.append(
            Parameter(
                name,
                Parameter.KEYWORD_ONLY,
                default=Parameter.empty if default is MISSING else default,
                annotation=hints[name],
            )
        )

    parameters.sort(key=lambda parameter: parameter.default is not Parameter.empty)

    def command(**words: Any) -> None:
        answer(question(**words))

    command.__doc__ = answer.__doc__
    command.__name__ = answer.__name__
    command.__annotations__ = {p.name: p.annotation for p in parameters} | {"return": None}
    command.__signature__ = Signature(parameters)  # type: ignore[attr-defined]
    return command


def _own_first(question: type[Question]) -> list[str]:
    known = question.__dataclass_fields__
    declared = (n for kind in question.__mro__ for n in vars(kind).get("__annotations__", ()))
    return [name for name in dict.fromkeys(declared) if name in known]
