"""How values are lettered on the page: figures, units, names of places, and the words for the four answers."""

from __future__ import annotations

from enum import StrEnum
from typing import Any

from django.http import HttpRequest
from django.middleware.csrf import get_token
from django.template import engines
from django.urls import reverse
from jinja2 import Environment, StrictUndefined

from hatchwright.judged import Status
from hatchwright.page.entry_sheet import EntrySheet
from hatchwright.said import Value, said
from hatchwright.strength.margin import margin_words
from hatchwright.units import Unit
from hatchwright.web.static_files import static_address
from hatchwright.web.who import who
from hatchwright.words.amounts import value_text
from hatchwright.words.catalog import as_written, names_under
from hatchwright.words.findings import advice_text, number_said
from hatchwright.words.refusals import fault_sentences
from hatchwright.words.shortened import MOST_OF_A_LINE, shortened
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import codes_text, headline, line_text
from hatchwright.words.workings import note_text, quantity_text, values_text
from hatchwright.workings import Working

WORDS = {status: tell(status) for status in Status}
"""The word for each answer; it always stands beside the symbol, and color never carries the meaning."""


def load_templates() -> None:
    """Load every template, so that no page waits for its own."""
    templates = engines["jinja2"].env  # type: ignore[attr-defined]
    for name in templates.list_templates():
        templates.get_template(name)


def environment(**options: Any) -> Environment:
    """The environment of all templates: everything is escaped, and a name that is not there is an error."""
    made = Environment(**options | {"undefined": StrictUndefined, "trim_blocks": True, "lstrip_blocks": True})
    made.globals.update(
        static=static_address,
        address=address,
        csrf_token_of=get_token,
        WORDS=WORDS,
        Status=Status,
        t=page_text,
        script_words=script_words,
        use_of=use_of,
        who_is_in=who_is_in,
    )
    made.filters.update(
        anchor=anchor,
        place=place_of,
        figure=value_text,
        subject=lambda finding, unit: tell(finding.subject, unit),
        advice=advice_text,
        line=line_text,
        codes=codes_text,
        headline=lambda verdict, unit: tell(headline(verdict), unit),
        number=lambda finding, unit: tell(number_said(finding) or "", unit),
        working=working_words,
        shortened=lambda findings: shortened(findings, MOST_OF_A_LINE),
        told=tell,
        told_all=tell_all,
        first_up=lambda text: text[:1].upper() + text[1:],
        fault=fault_sentences,
        safety=margin_words,
    )
    return made


def page_text(what: str | Value, unit: Unit = "in", /, **values: Value) -> str:
    """A sentence of the catalogue by its id, or a value such as a grade, in words and in the unit of the job."""
    return tell(said(what, **values) if type(what) is str else what, unit)


def who_is_in(request: HttpRequest) -> str:
    """Name and role of who is in, "" where nobody is asked for his name."""
    person = who(request)
    role = page_text(f"people.role.{person.role}") if person else ""
    return page_text("page_people.is_in", name=person.name, role=role) if person else ""


def use_of(kind: StrEnum) -> str:
    """What a paper of the print package is for, in one sentence."""
    return page_text(f"page.for.{kind.lower()}")


def script_words(*parts: str) -> dict[str, str]:
    """The sentences of some scripts, by the names that these call them, with the holes that they fill themselves; those
    of a later part stand in place of the same of an earlier one."""
    return {
        name: as_written(f"page.script.{part}.{name}")
        for part in filter(None, parts)
        for name in names_under(f"page.script.{part}.")
    }


def address(view: str, **names: Any) -> str:
    """The path of a page, its named parts quoted."""
    return reverse(view, kwargs=names)


def anchor(path: str) -> str:
    """A place of the job file as the name of a place on the page, such as ``rows-0-pitch`` for ``rows.0.pitch``."""
    return path.replace(".", "-") or "job"


def place_of(path: str, sheet: EntrySheet) -> str:
    """The id on the page where an entry of the job is made: that of its box, else of the nearest section around it."""
    while path:
        if path in sheet.boxes:
            return f"f-{anchor(path)}"
        if f"{path}.0" in sheet.boxes:
            return f"f-{anchor(path)}-0"
        if path in sheet.sections:
            return f"s-{anchor(path)}"
        path = path.rpartition(".")[0]
    return "entries"


def working_words(working: Working, unit: Unit) -> dict[str, str]:
    """A working in the lines that a person follows."""
    lines = {
        "formula": working.formula,
        "with": values_text(working, unit),
        "result": quantity_text(working.result, unit),
        "note": note_text(working, unit),
        "source": str(working.source),
        "grade": tell(working.grade, unit),
    }
    return {tell(said(f"working_line.{name}")): line for name, line in lines.items() if line}
