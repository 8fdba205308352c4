"""`python -m bolewright`: the command line without its script."""

from bolewright.cli.main import run

run()
