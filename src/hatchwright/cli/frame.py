"""The frame of the commands: their words, the job file, shared options, and what is printed for programs."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import click

from hatchwright.said import Value, said
from hatchwright.units import Unit
from hatchwright.words.tell import tell


def words(id: str, unit: Unit = "in", /, **values: Value) -> str:
    """One sentence, name or heading."""
    return tell(said(id, **values), unit)


def put(id: str, unit: Unit = "in", /, *, to_err: bool = False, **values: Value) -> None:
    """Print one sentence as a line."""
    click.echo(words(id, unit, **values), err=to_err)


class Within(click.FloatRange):
    """A number from a least to a greatest; nan, which no bound keeps out, is none."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The number; click.BadParameter for any other text."""
        found = super().convert(value, param, ctx)
        if math.isnan(found):
            self.fail(words("command.no_number", given=str(value)), param, ctx)
        return found


TURN_DEG = Within(-360.0, 360.0)
"""By how much something is turned [deg]."""

PATH = click.Path(path_type=Path)
Decorator = Callable[[Any], Any]

shop_option: Decorator = click.option("--shop", type=PATH, help=words("command.option.shop"))
"""Gives a command the argument `shop`, a folder of the shop's own tables, None when it was left out."""

overwrite_option: Decorator = click.option(
    "--overwrite", is_flag=True, help=words("command.option.overwrite")
)


def job_command(
    name: str, help: str, *, json_help: str = words("command.option.json"), needs_job: bool = True
) -> Decorator:
    """A command on a job file, with the arguments `job`, `as_json` and `shop`.

    Args:
        json_help: of --json, "" for a command that prints nothing for programs.
        needs_job: whether it is nothing without a job; else `job` is None where none is named.
    """
    shared = [click.argument("job", type=PATH, required=needs_job)]
    if json_help:
        shared.append(click.option("--json", "as_json", is_flag=True, help=json_help))

    def decorated(function: Any) -> Any:
        for option in (shop_option, *reversed(shared)):
            function = option(function)
        return click.command(name=name, help=help)(function)

    return decorated


def put_json(values: object) -> None:
    """Print plain values for programs."""
    click.echo(json.dumps(values, indent=2, ensure_ascii=False))


def now() -> datetime:
    """The time that papers bear, in the zone of this machine."""
    return datetime.now().astimezone()
