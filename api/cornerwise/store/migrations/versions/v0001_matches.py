"""Clubs, teams, matches and their events"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

ID = sa.Uuid(as_uuid=False)
MOMENT = sa.DateTime(timezone=True)


def upgrade():
    op.create_table(
        "club",
        sa.Column("id", ID, nullable=False),
        sa.Column("name", sa.String(100), nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_club"),
    )
    op.create_table(
        "team",
        sa.Column("club_id", ID, nullable=False),
        sa.Column("name", sa.String(100), nullable=False),
        sa.Column("signals", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["club_id"], ["club.id"], name="fk_team_club_id"),
        sa.PrimaryKeyConstraint("club_id", "name", name="pk_team"),
    )
    op.create_table(
        "match",
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("name", sa.String(100)),
        sa.Column("demo", sa.Boolean(), nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("changed_at", MOMENT, nullable=False),
        sa.Column("deleted_at", MOMENT),
        sa.Column("last_position", sa.Integer(), nullable=False),
        sa.Column("us", sa.String(100)),
        sa.Column("them", sa.String(100)),
        sa.Column("summary", sa.JSON()),
        sa.Column("summary_position", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["club_id"], ["club.id"], name="fk_match_club_id"),
        sa.PrimaryKeyConstraint("id", name="pk_match"),
    )
    op.create_index("ix_match_club_id_created_at_id", "match", ["club_id", "created_at", "id"])
    op.create_table(
        "event",
        sa.Column("match_id", ID, nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("received_at", MOMENT, nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["club_id"], ["club.id"], name="fk_event_club_id"),
        sa.ForeignKeyConstraint(["match_id"], ["match.id"], name="fk_event_match_id"),
        sa.PrimaryKeyConstraint("match_id", "position", name="pk_event"),
        sa.UniqueConstraint("match_id", "id", name="uq_event_match_id_id"),
    )


def downgrade():
    for table in ("event", "match", "team", "club"):
        op.drop_table(table)
