"""People, their devices, and what lets a device in"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

ID = sa.Uuid(as_uuid=False)
MOMENT = sa.DateTime(timezone=True)
NAME = sa.String(100)
SHA256 = sa.String(64)
ROLE = sa.String(20)


def of_a_club(table):
    return sa.ForeignKeyConstraint(["club_id"], ["club.id"], name=f"fk_{table}_club_id")


def a_person(table, column):
    return sa.ForeignKeyConstraint([column], ["person.id"], name=f"fk_{table}_{column}")


def upgrade():
    op.create_table(
        "person",
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("name", NAME, nullable=False),
        sa.Column("login", sa.String(400), nullable=False),
        sa.Column("role", ROLE, nullable=False),
        sa.Column("password_hash", sa.String(200)),
        sa.Column("created_at", MOMENT, nullable=False),
        of_a_club("person"),
        sa.PrimaryKeyConstraint("id", name="pk_person"),
        sa.UniqueConstraint("login", name="uq_person_login"),
    )
    op.create_index("ix_person_club_id", "person", ["club_id"])
    op.create_table(
        "device",
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("person_id", ID),
        sa.Column("joined_by", ID),
        sa.Column("label", NAME, nullable=False),
        sa.Column("role", ROLE, nullable=False),
        sa.Column("team", NAME),
        sa.Column("match_id", ID),
        sa.Column("by_link", sa.Boolean(), nullable=False),
        sa.Column("token_hash", SHA256, nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("seen_at", MOMENT, nullable=False),
        sa.Column("expires_at", MOMENT, nullable=False),
        sa.Column("revoked_at", MOMENT),
        of_a_club("device"),
        a_person("device", "person_id"),
        a_person("device", "joined_by"),
        sa.PrimaryKeyConstraint("id", name="pk_device"),
        sa.UniqueConstraint("token_hash", name="uq_device_token_hash"),
    )
    op.create_index("ix_device_club_id_created_at", "device", ["club_id", "created_at"])
    op.create_table(
        "api_token",
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("made_by", ID),
        sa.Column("label", NAME, nullable=False),
        sa.Column("role", ROLE, nullable=False),
        sa.Column("token_hash", SHA256, nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("seen_at", MOMENT),
        of_a_club("api_token"),
        a_person("api_token", "made_by"),
        sa.PrimaryKeyConstraint("id", name="pk_api_token"),
        sa.UniqueConstraint("token_hash", name="uq_api_token_token_hash"),
    )
    op.create_index("ix_api_token_club_id", "api_token", ["club_id"])
    op.create_table(
        "join_code",
        sa.Column("code_hash", SHA256, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("made_by", ID),
        sa.Column("role", ROLE, nullable=False),
        sa.Column("team", NAME),
        sa.Column("match_id", ID),
        sa.Column("expires_at", MOMENT, nullable=False),
        of_a_club("join_code"),
        a_person("join_code", "made_by"),
        sa.PrimaryKeyConstraint("code_hash", name="pk_join_code"),
    )
    op.create_table(
        "sign_in_link",
        sa.Column("token_hash", SHA256, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("person_id", ID, nullable=False),
        sa.Column("expires_at", MOMENT, nullable=False),
        of_a_club("sign_in_link"),
        a_person("sign_in_link", "person_id"),
        sa.PrimaryKeyConstraint("token_hash", name="pk_sign_in_link"),
    )
    op.create_table(
        "held_event",
        sa.Column("device_id", ID, nullable=False),
        sa.Column("match_id", ID, nullable=False),
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=False),
        sa.Column("received_at", MOMENT, nullable=False),
        sa.Column("body", sa.JSON(), nullable=False),
        of_a_club("held_event"),
        sa.ForeignKeyConstraint(["device_id"], ["device.id"], name="fk_held_event_device_id"),
        sa.PrimaryKeyConstraint("device_id", "match_id", "id", name="pk_held_event"),
    )
    op.create_index("ix_held_event_club_id_match_id", "held_event", ["club_id", "match_id"])


def downgrade():
    for table in ("held_event", "sign_in_link", "join_code", "api_token", "device", "person"):
        op.drop_table(table)
