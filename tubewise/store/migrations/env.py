"""Runs the steps on the connection that the store hands over."""

from __future__ import annotations

from alembic import context

from tubewise.store.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    # SQLite changes a table only by making it anew.
    render_as_batch=True,
)
context.run_migrations()
