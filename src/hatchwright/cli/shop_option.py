"""The option `--shop` of every command that looks something up in a table."""

from __future__ import annotations

from pathlib import Path

import click

from hatchwright.cli.wording import words

shop_option = click.option(
    "--shop",
    type=click.Path(path_type=Path),
    help=words("command.option.shop"),
)
"""Gives a command the argument `shop`, None when it was left out."""
