"""Bringing the tables up to this version, in one transaction, from code alone."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from threading import Lock
from typing import Any

import sqlalchemy as sa
from alembic.config import Config
from alembic.runtime.environment import EnvironmentContext
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory

_ONE_AT_A_TIME = Lock()
"""While migrations run, their operations are reached through a name of the module."""


@cache
def _scripts() -> ScriptDirectory:
    return ScriptDirectory(str(Path(__file__).parent))


def newest() -> str:
    """The version that this program reads and writes."""
    head = _scripts().get_current_head()
    assert head is not None
    return head


def is_known(version: str) -> bool:
    """Whether this program knows how to bring that version up to its own."""
    return version in {each.revision for each in _scripts().walk_revisions()}


def version_of(connection: sa.Connection) -> str | None:
    """The version of the tables that are there; None where there are none."""
    return MigrationContext.configure(connection).get_current_revision()


def upgrade(connection: sa.Connection, to: str = "head") -> None:
    """Bring the tables up to a version, inside the transaction that is open."""
    scripts = _scripts()

    def steps(current: Any, _: Any) -> Any:
        return scripts._upgrade_revs(to, current)

    with _ONE_AT_A_TIME, EnvironmentContext(Config(), scripts, fn=steps) as environment:
        environment.configure(connection=connection, render_as_batch=True, transactional_ddl=True)
        with environment.begin_transaction():
            environment.run_migrations()
