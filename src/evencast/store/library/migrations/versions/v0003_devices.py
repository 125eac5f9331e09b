"""What a session is open on, in words."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """One column more."""
    op.add_column("session", sa.Column("device", sa.Text, nullable=False, server_default=""))
