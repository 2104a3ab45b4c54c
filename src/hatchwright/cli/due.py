"""`hatchwright due`: what is due on each aircraft of a fleet."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hatchwright.cli.frame import PATH, now, overwrite_option, put, put_json, words
from hatchwright.cli.lines import put_text
from hatchwright.words.tell import tell

if TYPE_CHECKING:
    from decimal import Decimal

    from hatchwright.airworthiness.due.line import DueLine
    from hatchwright.workflow.due import AircraftDue, FleetDue

STOP = 1
"""Exit status: something holds an aircraft back."""


class _Day(click.ParamType[date]):
    name = "day"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> date:
        try:
            return date.fromisoformat(value) if len(value) == len("2027-03-15") else self._refuse(value)
        except ValueError:
            return self._refuse(value)

    def _refuse(self, value: str) -> date:
        raise click.BadParameter(words("command.due.no_day", given=value))


class _Leg(click.ParamType["Decimal"]):
    name = "hours"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> Decimal:
        from hatchwright.job.fleet.hours import hours_typed

        hours = hours_typed(value)
        if not hours:
            self.fail(words("command.due.no_leg", given=value), param, ctx)
        return hours


@click.command(name="due", help=words("command.due.help"))
@click.argument("fleet", type=PATH, metavar="FLEET|FOLDER")
@click.option("--on", type=_Day(), metavar="DATE", help=words("command.due.on"))
@click.option("--leg", type=_Leg(), metavar="HOURS", help=words("command.due.leg"))
@click.option("--ics", type=PATH, metavar="FILE", help=words("command.due.ics"))
@click.option("--all", "shows_all", is_flag=True, help=words("command.due.all"))
@click.option("--json", "as_json", is_flag=True, help=words("command.due.json"))
@overwrite_option
def command(
    fleet: Path,
    on: date | None,
    leg: Decimal | None,
    ics: Path | None,
    shows_all: bool,
    as_json: bool,
    overwrite: bool,
) -> None:
    """Tell what is due; see the help in the catalog."""
    from hatchwright.workflow.due import due_report

    day = on or now().date()
    report = due_report(fleet, day)
    if as_json:
        from hatchwright.workflow.due_values import due_values

        put_json(due_values(report, day))
    else:
        for one in report:
            _tell(one, leg, shows_all=shows_all)
        put("command.due.aid")
    if ics is not None:
        from hatchwright.workflow.due_calendar import write_calendar

        write_calendar(report, ics, now=now(), overwrite=overwrite)
        put("command.due.written", file=str(ics), to_err=as_json)
    sys.exit(STOP if any(one.holds_back for one in report) else 0)


def _tell(one: FleetDue, leg: Decimal | None, *, shows_all: bool) -> None:
    put("command.due.fleet", title=one.fleet.title, name=one.name, on=one.on.isoformat())
    for of in one.aircraft:
        from hatchwright.airworthiness.due.clock import Clock
        from hatchwright.workflow.due_said import head_said

        head = head_said(of.aircraft, Clock(of.aircraft, one.on).now(), one.on)
        plane = of.aircraft
        click.echo()
        put("command.due.aircraft", registration=plane.registration, serial=plane.serial, head=head)
        shown = [line for line in of.lines if shows_all or line.state.is_open]
        for line in shown:
            _tell_line(line, of, one.on, leg)
        if len(shown) < len(of.lines):
            put_text(words("command.due.closed", n=len(of.lines) - len(shown)), indent="  ")
        if not of.lines:
            put_text(words("command.due.nothing"), indent="  ")
    click.echo()


def _tell_line(line: DueLine, of: AircraftDue, on: date, leg: Decimal | None) -> None:
    from hatchwright.said import Listed
    from hatchwright.workflow.due_said import about_said, leg_said, limits_said, state_said, title_said

    put_text(words("command.due.line", state=state_said(line), title=title_said(line)), indent="  ")
    put_text(
        words("command.due.limits", limits=Listed(tuple(limits_said(line, on)), ";")),
        indent="      ",
    )
    if leg is not None and (over := leg_said(line, leg)) is not None:
        put_text(tell(over), indent="      ")
    for note in about_said(line, of.aircraft, on):
        put_text(tell(note), indent="      ")
