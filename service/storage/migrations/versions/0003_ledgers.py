"""The steps behind every line of a quote."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply."""
    op.create_table(
        "ledgers",
        sa.Column("quote_id", sa.String(length=36), nullable=False),
        sa.Column("packed", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name=op.f("fk_ledgers_quote_id_quotes")),
        sa.PrimaryKeyConstraint("quote_id", name=op.f("pk_ledgers")),
    )


def downgrade() -> None:
    """Take back."""
    op.drop_table("ledgers")
