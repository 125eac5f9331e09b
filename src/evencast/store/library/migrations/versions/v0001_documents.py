"""Bundles, documents and their revisions, with triggers that let nothing be changed."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

APPLICATION_ID = 0x45766361
"""Marks an SQLite file as this program's ("Evca")."""

KEPT = ("bundle", "document", "content", "revision")


def upgrade() -> None:
    """Make the tables, then close them against changes."""
    _kept_tables()
    _index_tables()
    if op.get_bind().dialect.name == "sqlite":
        op.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        for table in KEPT:
            _close_on_sqlite(table)
    else:
        op.execute(
            "CREATE FUNCTION evencast_refuses() RETURNS trigger LANGUAGE plpgsql AS "
            "$$ BEGIN RAISE EXCEPTION 'rows of % are never changed', TG_TABLE_NAME; END $$"
        )
        for table in KEPT:
            _close_on_postgresql(table)


def _kept_tables() -> None:
    op.create_table(
        "bundle",
        sa.Column("id", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("folded", sa.Text, nullable=False, unique=True),
        sa.Column("made_at", sa.Text, nullable=False),
    )
    op.create_table(
        "document",
        sa.Column("id", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("bundle_id", sa.Integer, sa.ForeignKey("bundle.id"), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.UniqueConstraint("bundle_id", "name"),
    )
    op.create_table(
        "content",
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("size_bytes", sa.Integer, nullable=False),
        sa.Column("bytes", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "revision",
        sa.Column("change", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("document_id", sa.Integer, sa.ForeignKey("document.id"), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("sha256", sa.Text, sa.ForeignKey("content.sha256"), nullable=True),
        sa.Column("saved_at", sa.Text, nullable=False),
        sa.Column("saved_by", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.UniqueConstraint("document_id", "number"),
        sa.CheckConstraint("change > 0 AND number > 0", name="counts_from_1"),
    )


def _index_tables() -> None:
    op.create_table(
        "entry",
        sa.Column(
            "document_id",
            sa.Integer,
            sa.ForeignKey("document.id"),
            primary_key=True,
            autoincrement=False,
        ),
        sa.Column("change", sa.Integer, sa.ForeignKey("revision.change"), nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("title", sa.Text, nullable=False),
    )
    op.create_table(
        "holding",
        sa.Column(
            "document_id",
            sa.Integer,
            sa.ForeignKey("document.id"),
            primary_key=True,
            autoincrement=False,
        ),
        sa.Column("place", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("name", sa.Text, nullable=False),
    )


def _close_on_sqlite(table: str) -> None:
    for deed in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_refuses_{deed.lower()} BEFORE {deed} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, 'rows of {table} are never changed'); END"
        )


def _close_on_postgresql(table: str) -> None:
    op.execute(
        f"CREATE TRIGGER {table}_refuses BEFORE UPDATE OR DELETE ON {table} "
        "FOR EACH ROW EXECUTE FUNCTION evencast_refuses()"
    )
    op.execute(
        f"CREATE TRIGGER {table}_refuses_truncate BEFORE TRUNCATE ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION evencast_refuses()"
    )
