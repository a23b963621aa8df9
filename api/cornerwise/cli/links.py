"""Addresses that sign somebody in once, and the database for the commands that make them."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

import click
from flask import Flask
from sqlalchemy.exc import DBAPIError, OperationalError

from cornerwise.config import Config
from cornerwise.service import accounts, clubs
from cornerwise.service.errors import CannotBeDone
from cornerwise.store.account_tables import Person
from cornerwise.store.database import open_database
from cornerwise.store.tables import db

address_option = click.option(
    "--address",
    envvar="CORNERWISE_ADDRESS",
    default=lambda: f"http://127.0.0.1:{os.environ.get('PORT') or 8000}",
    help="Where the server is, as a browser writes it.",
)


@contextmanager
def database() -> Iterator[None]:
    """Open the database that the server uses; say in plain words why something cannot be done."""
    config, app = Config.from_env(), Flask("cornerwise")
    open_database(app, config.database_url, config.data)
    with app.app_context():
        try:
            yield
        except CannotBeDone as error:
            raise click.ClickException(str(error)) from None
        except OperationalError:
            raise click.ClickException("the database does not answer") from None
        except DBAPIError:
            raise click.ClickException(
                "the database is not ready: run `cornerwise db upgrade` first"
            ) from None
        finally:
            db.session.remove()
            db.engine.dispose()


def link(address: str, once: str) -> str:
    """Return the address to open. What stands behind # is never sent to a server: no log holds it."""
    return f"{address.rstrip('/')}/sign-in#once={once}"


def new_link(address: str, person: Person) -> str:
    return link(address, accounts.new_link(person))


def first_link(address: str) -> str | None:
    """Return the address that signs in the coach of a machine that is nobody's yet; None otherwise.

    When the database does not answer or is not ready the server starts all the same, and says so itself.
    """
    try:
        with database():
            once = clubs.first_link()
    except click.ClickException as error:
        click.echo(f"Nobody can sign in yet: {error.message}", err=True)
        return None
    return link(address, once) if once else None
