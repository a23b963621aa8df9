"""`python -m cornerwise`."""

from .cli import main

main(prog_name="cornerwise")
