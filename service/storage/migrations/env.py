"""Runs the migrations on the connection that the caller hands over."""

from alembic import context

from service.storage.tables import METADATA

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=METADATA,
    render_as_batch=True,
)
context.run_migrations()
