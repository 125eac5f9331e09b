"""The tables. What is kept: bundle, document, content, revision. What can be made anew from
them: entry, holding. Who takes part: join_code, session."""

from __future__ import annotations

import sqlalchemy as sa

metadata = sa.MetaData()

bundle = sa.Table(
    "bundle",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("folded", sa.Text, nullable=False, unique=True),
    sa.Column("made_at", sa.Text, nullable=False),
)
"""id is the number of the change that made it."""

document = sa.Table(
    "document",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("bundle_id", sa.Integer, sa.ForeignKey("bundle.id"), nullable=False),
    sa.Column("name", sa.Text, nullable=False),
    sa.UniqueConstraint("bundle_id", "name"),
)
"""id is the number of the change that made it."""

content = sa.Table(
    "content",
    metadata,
    sa.Column("sha256", sa.Text, primary_key=True),
    sa.Column("size_bytes", sa.Integer, nullable=False),
    sa.Column("bytes", sa.LargeBinary, nullable=False),
)

revision = sa.Table(
    "revision",
    metadata,
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
"""sha256 is null for a revision that takes the document out."""

entry = sa.Table(
    "entry",
    metadata,
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
"""change is that of the newest revision."""

holding = sa.Table(
    "holding",
    metadata,
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

join_code = sa.Table(
    "join_code",
    metadata,
    sa.Column("id", sa.Text, primary_key=True),
    sa.Column("role", sa.Text, nullable=False),
    sa.Column("secret_hash", sa.Text, nullable=False, unique=True),
    sa.Column("short_hash", sa.Text, nullable=False, unique=True),
    sa.Column("made_at", sa.Text, nullable=False),
    sa.Column("ended_at", sa.Text, nullable=True),
    sa.CheckConstraint("role IN ('view', 'edit')", name="join_code_role"),
)
"""Hashes only: of the long secret in the QR code, and of the short form."""

session = sa.Table(
    "session",
    metadata,
    sa.Column("id", sa.Text, primary_key=True),
    sa.Column("join_code_id", sa.Text, sa.ForeignKey("join_code.id"), nullable=True),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("role", sa.Text, nullable=False),
    sa.Column("secret_hash", sa.Text, nullable=False, unique=True),
    sa.Column("made_at", sa.Text, nullable=False),
    sa.Column("last_seen", sa.Text, nullable=False),
    sa.Column("ended_at", sa.Text, nullable=True),
    sa.Column("device", sa.Text, nullable=False, server_default=""),
    sa.CheckConstraint("role IN ('view', 'edit')", name="session_role"),
)
"""Only a digest of what the cookie holds."""

KEPT = (bundle, document, content, revision)
"""What a backup holds, in the order in which it can be put back; never changed, never deleted."""
