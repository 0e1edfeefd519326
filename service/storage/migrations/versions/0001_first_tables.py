"""Firms, keys, price lists and quotes."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Apply."""
    op.create_table(
        "firms",
        sa.Column("id", sa.String(length=36), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("last_number", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_firms")),
    )
    op.create_table(
        "keys",
        sa.Column("prefix", sa.String(length=16), nullable=False),
        sa.Column("firm_id", sa.String(length=36), nullable=False),
        sa.Column("role", sa.String(length=16), nullable=False),
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("revoked_at", sa.DateTime(), nullable=True),
        sa.ForeignKeyConstraint(["firm_id"], ["firms.id"], name=op.f("fk_keys_firm_id_firms")),
        sa.PrimaryKeyConstraint("prefix", name=op.f("pk_keys")),
    )
    with op.batch_alter_table("keys", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_keys_firm_id"), ["firm_id"], unique=False)

    op.create_table(
        "price_lists",
        sa.Column("id", sa.String(length=36), nullable=False),
        sa.Column("firm_id", sa.String(length=36), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("last_version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["firm_id"], ["firms.id"], name=op.f("fk_price_lists_firm_id_firms")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_price_lists")),
        sa.UniqueConstraint("firm_id", "name", name=op.f("uq_price_lists_firm_id_name")),
    )
    op.create_table(
        "quotes",
        sa.Column("id", sa.String(length=36), nullable=False),
        sa.Column("firm_id", sa.String(length=36), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("status", sa.String(length=16), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.Column("valid_until", sa.Date(), nullable=False),
        sa.Column("currency", sa.String(length=3), nullable=False),
        sa.Column("total_cents", sa.Integer(), nullable=False),
        sa.Column("job_name", sa.Text(), nullable=False),
        sa.Column("customer", sa.Text(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("job_document", sa.Text(), nullable=False),
        sa.Column("workbook", sa.LargeBinary(), nullable=True),
        sa.ForeignKeyConstraint(["firm_id"], ["firms.id"], name=op.f("fk_quotes_firm_id_firms")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quotes")),
        sa.UniqueConstraint("firm_id", "number", "revision", name=op.f("uq_quotes_firm_id_number_revision")),
    )
    with op.batch_alter_table("quotes", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_quotes_firm_id_id"), ["firm_id", "id"], unique=False)

    op.create_table(
        "price_list_versions",
        sa.Column("price_list_id", sa.String(length=36), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("workbook", sa.LargeBinary(), nullable=True),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(
            ["price_list_id"], ["price_lists.id"], name=op.f("fk_price_list_versions_price_list_id_price_lists")
        ),
        sa.PrimaryKeyConstraint("price_list_id", "version", name=op.f("pk_price_list_versions")),
    )
    op.create_table(
        "repeats",
        sa.Column("key_prefix", sa.String(length=16), nullable=False),
        sa.Column("repeat_key", sa.String(length=64), nullable=False),
        sa.Column("fingerprint", sa.String(length=64), nullable=False),
        sa.Column("quote_id", sa.String(length=36), nullable=False),
        sa.Column("created_at", sa.DateTime(), nullable=False),
        sa.ForeignKeyConstraint(["key_prefix"], ["keys.prefix"], name=op.f("fk_repeats_key_prefix_keys")),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name=op.f("fk_repeats_quote_id_quotes")),
        sa.PrimaryKeyConstraint("key_prefix", "repeat_key", name=op.f("pk_repeats")),
    )


def downgrade() -> None:
    """Take back."""
    op.drop_table("repeats")
    op.drop_table("price_list_versions")
    with op.batch_alter_table("quotes", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_quotes_firm_id_id"))

    op.drop_table("quotes")
    op.drop_table("price_lists")
    with op.batch_alter_table("keys", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_keys_firm_id"))

    op.drop_table("keys")
    op.drop_table("firms")
