"""The command line: `cornerwise call`, `serve`, `club`, `user` and `db`."""

from __future__ import annotations

import click
from flask.cli import ScriptInfo
from flask_migrate.cli import db

from .call import call
from .clubs import club
from .serve import serve
from .users import user


@click.group()
@click.pass_context
def main(context: click.Context) -> None:
    """Where to stand, where to serve, and why."""
    context.obj = ScriptInfo("cornerwise.app:create_app")  # loaded by the commands on the database only


main.add_command(call)
main.add_command(serve)
main.add_command(club)
main.add_command(user)
main.add_command(db)
