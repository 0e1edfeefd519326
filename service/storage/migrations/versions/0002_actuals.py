"""Hours fed back for quotes, every version of them, and rates accepted from them."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply."""
    op.create_table(
        "actuals",
        sa.Column("quote_id", sa.String(length=36), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("finished_on", sa.Date(), nullable=True),
        sa.Column("tasks", sa.Text(), nullable=False),
        sa.Column("planned", sa.Text(), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name=op.f("fk_actuals_quote_id_quotes")),
        sa.PrimaryKeyConstraint("quote_id", "version", name=op.f("pk_actuals")),
    )
    op.create_table(
        "accepted_rates",
        sa.Column("price_list_id", sa.String(length=36), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("task", sa.String(length=40), nullable=False),
        sa.Column("rate", sa.String(length=40), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["price_list_id"], ["price_lists.id"], name=op.f("fk_accepted_rates_price_list_id_price_lists")
        ),
        sa.PrimaryKeyConstraint("price_list_id", "version", "task", name=op.f("pk_accepted_rates")),
    )


def downgrade() -> None:
    """Take back."""
    op.drop_table("accepted_rates")
    op.drop_table("actuals")
