"""`hatchwright quick`: one question answered without a job file."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

import click
from msgspec.structs import replace

from hatchwright.cli.frame import now, put, put_json, shop_option, words
from hatchwright.cli.lines import put_text
from hatchwright.cli.paper_options import paper_options
from hatchwright.cli.verdict_lines import say_findings
from hatchwright.errors import Fault, JobError
from hatchwright.job.job_fields import JobField
from hatchwright.said import Listed
from hatchwright.units import Unit
from hatchwright.words.tell import tell
from hatchwright.words.workings import working_text
from hatchwright.workflow.open_job import own_tables
from hatchwright.workflow.printing import AnyPaper
from hatchwright.workflow.quick.answer import Answer, Quick
from hatchwright.workflow.quick.book import all_quick, entries_of, quick, work_out
from hatchwright.workflow.quick.paper import QuickPaper
from hatchwright.workflow.quick.values import asked_values, quick_values
from hatchwright.workflow.write_files import write_files

_UNITS: tuple[Unit, ...] = ("in", "mm")


@click.command(
    name="quick", help=words("command.quick.help"), context_settings={"ignore_unknown_options": True}
)
@click.argument("name", required=False, metavar="[NAME]")
@click.argument("entries", nargs=-1, type=click.UNPROCESSED, metavar="[--ENTRY=VALUE]...")
@click.option("--units", type=click.Choice(_UNITS), default="in", help=words("command.quick.units"))
@click.option("--json", "as_json", is_flag=True, help=words("command.option.json"))
@paper_options(out=words("command.quick.out"))
@shop_option
def command(
    name: str | None,
    entries: tuple[str, ...],
    units: Unit,
    as_json: bool,
    out: Path | None,
    paper: AnyPaper,
    shop: Path | None,
    overwrite: bool,
) -> None:
    """Answer one question; without NAME list them, without entries say what one asks."""
    asked = all_quick() if name is None else (quick(name),)
    if name is None or not entries:
        if as_json:
            put_json(asked_values(*asked))
        elif name is None:
            _list(asked)
        else:
            _ask(asked[0])
        return
    (one,) = asked
    typed = _typed(entries, one)
    answer = _answer(one, typed, units, shop)
    if as_json:
        put_json(quick_values(one, typed, answer, units))
    else:
        _tell(one, answer, units)
    if out:
        printed = QuickPaper(one, typed, answer, units, now(), paper)
        for path in write_files(printed.files(), out, overwrite=overwrite):
            click.echo(path, err=as_json)
    sys.exit(1 if answer.worst.holds_back else 0)


def _answer(one: Quick, typed: dict[str, str], unit: Unit, shop: Path | None) -> Answer:
    """The answer; what is wrong is told of the options as they were written."""
    try:
        return work_out(one, typed, unit=unit, shop=own_tables(shop))
    except JobError as error:
        faults = tuple(replace(fault, field=_option(fault.field)) for fault in error.faults)
        raise JobError(faults, where=one.name) from None


def _list(answers: Sequence[Quick]) -> None:
    width = max(len(one.name) for one in answers)
    for one in answers:
        put_text(words("command.quick.one", name=f"{one.name:<{width}}", title=one.title, about=one.about))
    put("command.quick.then")


def _ask(one: Quick) -> None:
    put_text(words("command.quick.asks", title=one.title, about=one.about))
    for field in entries_of(one):
        put_text(_entry(field), indent="  ")
    put("command.quick.example", name=one.name, entry=_option(entries_of(one)[0].name))


def _entry(field: JobField) -> str:
    id = "command.quick.entry" if field.required else "command.quick.may"
    told = words(id, entry=_option(field.name), label=field.label, help=field.help)
    choices = words("command.quick.choices", choices=Listed(field.choices, "or")) if field.choices else ""
    return f"{told} {choices}".rstrip()


def _option(name: str) -> str:
    return f"--{name.replace('_', '-')}"


def _typed(entries: Sequence[str], one: Quick) -> dict[str, str]:
    """What was typed behind each entry's name.

    Raises:
        JobError: a name that the answer does not ask for, an entry without a value, or a value without an entry.
    """
    known = {_option(field.name): field.name for field in entries_of(one)}
    typed: dict[str, str] = {}
    faults: list[Fault] = []
    for option, value in _pairs(entries):
        if option not in known:
            known_as = Listed(tuple(known), ",")
            faults.append(Fault.saying(option, "command.quick.no_entry", value or "", known=known_as))
        elif value is None:
            faults.append(Fault.saying(option, "command.quick.no_value"))
        elif known[option] in typed:
            faults.append(Fault.saying(option, "command.quick.twice", value))
        else:
            typed[known[option]] = value
    if faults:
        raise JobError(tuple(faults), where=one.name)
    return typed


def _pairs(entries: Sequence[str]) -> Iterator[tuple[str, str | None]]:
    """Each entry with the value behind it: after a space, or after an equals sign."""
    rest = iter(entries)
    for option in rest:
        name, equals, value = option.partition("=")
        if equals and name.startswith("--"):
            yield name, value
        else:
            yield option, next(rest, None)


def _tell(one: Quick, answer: Answer, unit: Unit) -> None:
    put_text(tell(one.title))
    say_findings(answer.findings, unit)
    for number in answer.told:
        put_text(words("command.quick.number", unit, what=number.what, value=number.value), indent="  ")
        for working in number.working:
            put_text(working_text(working, unit), indent="      ")
    for point in answer.open:
        put_text(words("command.quick.open", unit, point=point), indent="  ")
    put("quick.caution")
    put("command.aid")
