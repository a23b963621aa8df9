"""The command line: `cornerwise call` and `cornerwise serve`."""

from __future__ import annotations

import click

from .call import call
from .serve import serve


@click.group()
def main() -> None:
    """Where to stand, where to serve, and why."""


main.add_command(call)
main.add_command(serve)
