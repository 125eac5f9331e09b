"""Who takes part: codes to join by, and sessions."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make both tables."""
    op.create_table(
        "join_code",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("secret_hash", sa.Text, nullable=False, unique=True),
        sa.Column("short_hash", sa.Text, nullable=False, unique=True),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("ended_at", sa.Text, nullable=True),
        sa.CheckConstraint("role IN ('view', 'edit')", name="join_code_role"),
    )
    op.create_table(
        "session",
        sa.Column("id", sa.Text, primary_key=True),
        sa.Column("join_code_id", sa.Text, sa.ForeignKey("join_code.id"), nullable=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("role", sa.Text, nullable=False),
        sa.Column("secret_hash", sa.Text, nullable=False, unique=True),
        sa.Column("made_at", sa.Text, nullable=False),
        sa.Column("last_seen", sa.Text, nullable=False),
        sa.Column("ended_at", sa.Text, nullable=True),
        sa.CheckConstraint("role IN ('view', 'edit')", name="session_role"),
    )
