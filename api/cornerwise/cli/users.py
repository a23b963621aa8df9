"""`cornerwise user`: the people who sign in on a server, for whoever runs it."""

from __future__ import annotations

import click

from cornerwise.service import accounts as service
from cornerwise.service import clubs
from cornerwise.service.accounts import PEOPLE_ROLES, Role
from cornerwise.store import accounts as store
from cornerwise.store import clubs as club_store
from cornerwise.store.account_tables import Person

from .links import address_option, database, new_link


@click.group()
def user() -> None:
    """The people who sign in on this server."""


@user.command()
@click.argument("name")
@click.option("--club", help="The club's name or id; not needed where there is one.")
@click.option("--role", type=click.Choice(PEOPLE_ROLES), default="assistant", show_default=True)
@address_option
def add(name: str, club: str | None, role: Role, address: str) -> None:
    """Add a person to a club; print the address that signs her in, once."""
    with database():
        where = clubs.named(club).id if club else _only_club()
        click.echo(new_link(address, service.add_person(where, name, role)))


@user.command()
@click.argument("name")
@click.option("--sign-out", is_flag=True, help="Also sign her out everywhere.")
@address_option
def reset(name: str, sign_out: bool, address: str) -> None:
    """Take a person's password away; print an address that signs her in, once."""
    with database():
        person = _named(name)
        service.take_password(person, sign_out=sign_out)
        click.echo(new_link(address, person))


@user.command(name="list")
def list_people() -> None:
    """List the people: role, whether she has a password, club, name."""
    with database():
        names = {club.id: club.name for club, _ in club_store.clubs()}
        for person in store.people():
            way = "password" if person.password_hash else "link only"
            click.echo(f"{person.role:9}  {way:9}  {names[person.club_id]}  {person.name}")


@user.command()
@click.argument("name")
@click.option("--yes", is_flag=True, help="Do not ask.")
def remove(name: str, yes: bool) -> None:
    """Remove a person. Her devices are revoked; matches stay."""
    with database():
        person = _named(name)
        if not yes:
            meaning = f"{person.name} could not sign in any more, and her devices would be revoked."
            click.confirm(f"{meaning}\nRemove?", abort=True)
        service.remove_person(person)
        click.echo(f"{name} is removed.")


def _named(name: str) -> Person:
    person = store.person(service.login(name))
    if person is None:
        raise click.ClickException("nobody signs in by this name; `cornerwise user list` shows who does")
    return person


def _only_club() -> str:
    every = club_store.clubs()
    if len(every) != 1:
        raise click.ClickException("say which club: --club NAME; `cornerwise club list` shows them")
    return every[0][0].id
