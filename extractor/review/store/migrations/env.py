"""Run by alembic: brings the open connection's schema up to date."""

from __future__ import annotations

from alembic import context

from extractor.review.store.tables import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata, transactional_ddl=True)
context.run_migrations()
