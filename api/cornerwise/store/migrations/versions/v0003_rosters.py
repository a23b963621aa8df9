"""Teams with their players and serves, opponents with their formations; the code of hands moves aside"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

ID = sa.Uuid(as_uuid=False)
MOMENT = sa.DateTime(timezone=True)
NAME = sa.String(100)
WORD = sa.String(30)


def refers(table, column, to):
    return sa.ForeignKeyConstraint([column], [f"{to}.id"], name=f"fk_{table}_{column}")


def codes(table):
    """Make a table with the code of each team's hands, by the team's name."""
    return op.create_table(
        table,
        sa.Column("club_id", ID, nullable=False),
        sa.Column("name", NAME, nullable=False),
        sa.Column("signals", sa.JSON(), nullable=False),
        refers(table, "club_id", "club"),
        sa.PrimaryKeyConstraint("club_id", "name", name=f"pk_{table}"),
    )


def moved(source, target):
    op.execute(f"INSERT INTO {target} (club_id, name, signals) SELECT club_id, name, signals FROM {source}")
    op.drop_table(source)


def upgrade():
    codes("hands")
    moved("team", "hands")
    op.create_table(
        "team",
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("name", NAME, nullable=False),
        sa.Column("level", WORD),
        sa.Column("lineup", sa.JSON()),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("changed_at", MOMENT, nullable=False),
        refers("team", "club_id", "club"),
        sa.PrimaryKeyConstraint("id", name="pk_team"),
        sa.UniqueConstraint("club_id", "name", name="uq_team_club_id_name"),
    )
    op.create_table(
        "player",
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("team_id", ID, nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("name", NAME),
        sa.Column("role", WORD),
        sa.Column("handedness", WORD),
        sa.Column("reach_m", sa.Double()),
        refers("player", "club_id", "club"),
        refers("player", "team_id", "team"),
        sa.PrimaryKeyConstraint("id", name="pk_player"),
        sa.UniqueConstraint("team_id", "number", name="uq_player_team_id_number"),
    )
    op.create_index("ix_player_club_id", "player", ["club_id"])
    op.create_table(
        "serve",
        sa.Column("player_id", ID, nullable=False),
        sa.Column("kind", WORD, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("speeds_m_s", sa.JSON()),
        sa.Column("spots", sa.JSON()),
        sa.Column("level", WORD),
        sa.Column("scatter", sa.JSON()),
        sa.Column("error_ceiling", sa.Double()),
        sa.Column("next_job", sa.Integer()),
        refers("serve", "club_id", "club"),
        refers("serve", "player_id", "player"),
        sa.PrimaryKeyConstraint("player_id", "kind", name="pk_serve"),
    )
    op.create_index("ix_serve_club_id", "serve", ["club_id"])
    op.create_table(
        "serving_substitute",
        sa.Column("player_id", ID, nullable=False),
        sa.Column("for_player_id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        refers("serving_substitute", "club_id", "club"),
        refers("serving_substitute", "player_id", "player"),
        refers("serving_substitute", "for_player_id", "player"),
        sa.PrimaryKeyConstraint("player_id", "for_player_id", name="pk_serving_substitute"),
    )
    op.create_index("ix_serving_substitute_club_id", "serving_substitute", ["club_id"])
    op.create_index("ix_serving_substitute_for_player_id", "serving_substitute", ["for_player_id"])
    op.create_table(
        "opponent",
        sa.Column("id", ID, nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("name", NAME, nullable=False),
        sa.Column("level", WORD),
        sa.Column("lineup", sa.JSON()),
        sa.Column("setters", sa.JSON(), nullable=False),
        sa.Column("setter_position", sa.Integer()),
        sa.Column("system", WORD, nullable=False),
        sa.Column("liberos", sa.JSON(), nullable=False),
        sa.Column("pass_target", sa.JSON()),
        sa.Column("setter_faces", WORD),
        sa.Column("ratings", sa.JSON(), nullable=False),
        sa.Column("notes", sa.String(2000)),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("changed_at", MOMENT, nullable=False),
        refers("opponent", "club_id", "club"),
        sa.PrimaryKeyConstraint("id", name="pk_opponent"),
        sa.UniqueConstraint("club_id", "name", name="uq_opponent_club_id_name"),
    )
    op.create_table(
        "opponent_formation",
        sa.Column("opponent_id", ID, nullable=False),
        sa.Column("setter_position", sa.Integer(), nullable=False),
        sa.Column("club_id", ID, nullable=False),
        sa.Column("players", sa.JSON(), nullable=False),
        sa.Column("changed_at", MOMENT, nullable=False),
        refers("opponent_formation", "club_id", "club"),
        refers("opponent_formation", "opponent_id", "opponent"),
        sa.PrimaryKeyConstraint("opponent_id", "setter_position", name="pk_opponent_formation"),
    )
    op.create_index("ix_opponent_formation_club_id", "opponent_formation", ["club_id"])


def downgrade():
    tables = ("opponent_formation", "opponent", "serving_substitute", "serve", "player", "team")
    for table in tables:
        op.drop_table(table)
    codes("team")
    moved("hands", "team")
