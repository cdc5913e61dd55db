"""What a change must bring along: the access code where one is asked for, and the form's token."""

from __future__ import annotations

from typing import Annotated

from fastapi import Form, Request

from tubewise.web.access import Access

Typed = Annotated[str, Form(max_length=200)]
LongText = Annotated[str, Form(max_length=60_000)]


class NotAllowedError(Exception):
    """The visitor has not given the access code."""


class StaleFormError(Exception):
    """The form's token is missing or not this visitor's."""


async def may_change(request: Request) -> None:
    """Let a form through or raise NotAllowedError or StaleFormError."""
    access: Access = request.app.state.access
    visitor = request.scope.get("tubewise.visitor", "")
    form = await request.form()
    token = form.get("token", "")
    if not isinstance(token, str) or not access.is_token(visitor, token):
        raise StaleFormError
    if not access.may_change(visitor):
        raise NotAllowedError
