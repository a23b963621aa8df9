"""`cornerwise club`: the clubs on a server, for whoever runs it."""

from __future__ import annotations

import click

from cornerwise.service import clubs as service
from cornerwise.store import clubs as store

from .links import address_option, database, new_link


@click.group()
def club() -> None:
    """The clubs on this server."""


@club.command()
@click.argument("name", type=str)
@click.option("--coach", required=True, help="The name by which the coach signs in.")
@address_option
def add(name: str, coach: str, address: str) -> None:
    """Add a club with its coach; print the address that signs her in, once."""
    with database():
        click.echo(new_link(address, service.found(name.strip(), coach)))


@club.command(name="list")
def list_clubs() -> None:
    """List the clubs: id, number of matches, name."""
    with database():
        for row, matches in store.clubs():
            click.echo(f"{row.id}  {matches:5}  {row.name}")


@club.command()
@click.argument("name")
@click.option("--yes", is_flag=True, help="Do not ask.")
def remove(name: str, yes: bool) -> None:
    """Delete a club, by its name or id, with all it has."""
    with database():
        which = service.named(name)
        if not yes:
            click.confirm(f"{service.show(which.id)['deleting']}\nDelete it?", abort=True)
        click.echo(service.remove(which.id)["text"])
