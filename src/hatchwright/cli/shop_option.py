"""The option `--shop` of every command that looks something up in a table."""

from __future__ import annotations

from pathlib import Path

import click

shop_option = click.option(
    "--shop",
    type=click.Path(path_type=Path),
    help="Folder of the shop's own tables (docs/shop-tables.md).",
)
"""Gives a command the argument `shop`, None when it was left away."""
