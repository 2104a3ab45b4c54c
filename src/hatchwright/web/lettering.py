"""How values are lettered on the page: figures, units, names of places, and the words for the four answers."""

from __future__ import annotations

from typing import Any

from django.middleware.csrf import get_token
from django.urls import reverse
from jinja2 import Environment, StrictUndefined

from hatchwright.errors import Fault
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.said import Value, said
from hatchwright.strength.margin_words import margin_words
from hatchwright.units import Unit
from hatchwright.web.static_files import static_address
from hatchwright.words.amounts import value_text
from hatchwright.words.findings import advice_text, number_said, subject_text
from hatchwright.words.refusals import fault_sentences
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import codes_text, headline, line_text
from hatchwright.words.workings import note_text, quantity_text, values_text
from hatchwright.workings import Working

WORDS = {status: tell(status) for status in Status}
"""The word for each answer; it always stands beside the symbol, and color never carries the meaning."""

_SCRIPT = {
    "page": {
        "saving": said("page.script.saving"),
        "saved": said("page.script.saved", time="{time}"),
        "savedUnsound": said("page.script.saved_unsound", time="{time}"),
        "notSaved": said("page.script.not_saved"),
        "noAnswerYet": said("page.script.no_answer_yet"),
        "noAnswer": said("page.script.no_answer"),
        "tooSlow": said("page.script.too_slow"),
        "restarted": said("page.script.restarted"),
        "couldNotAnswer": said("page.script.could_not_answer", status="{status}"),
        "notWritten": said("page.script.not_written"),
        "holeOld": said("page.script.hole_old", number="{number}"),
        "holeNone": said("page.script.hole_none", number="{number}"),
        "holeWorst": said("page.script.hole_worst", number="{number}", status="{status}", what="{what}"),
        "holeClear": said("page.script.hole_clear", number="{number}"),
    },
    "findings": {
        "resting": said("page.script.findings_resting"),
        "working": said("page.script.findings_working"),
        "waiting": said("page.script.findings_waiting"),
        "failed": said("page.script.findings_failed", why="{why}"),
        "earlier": said("page.script.earlier", line="{line}"),
    },
    "strength": {
        "resting": said("page.script.strength_resting"),
        "working": said("page.script.strength_working"),
        "waiting": said("page.script.strength_waiting"),
        "failed": said("page.script.strength_failed", why="{why}"),
        "earlier": said("page.script.earlier", line="{line}"),
    },
}
"""What the scripts of the page say, with the holes that they fill themselves."""


def environment(**options: Any) -> Environment:
    """The environment of all templates; everything is escaped, and a name that is not there is an error.

    Takes Django's options.

    Returns:
        Environment: with the page's own filters.
    """
    made = Environment(
        **{**options, "undefined": StrictUndefined, "trim_blocks": True, "lstrip_blocks": True}
    )
    made.globals.update(
        static=static_address,
        address=address,
        csrf_token_of=get_token,
        WORDS=WORDS,
        Status=Status,
        t=page_text,
        script_words=script_words,
    )
    made.filters.update(
        anchor=anchor,
        figure=figure,
        subject=subject_text,
        advice=advice_text,
        line=line_text,
        codes=codes_text,
        headline=lambda verdict, unit: tell(headline(verdict), unit),
        number=number_text,
        working=working_words,
        told=tell,
        told_all=tell_all,
        fault=fault_words,
        safety=margin_words,
    )
    return made


def page_text(what: str | Value, unit: Unit = "in", /, **values: Value) -> str:
    """A sentence of the catalogue by its id, or a value such as a grade, in words and in the unit of the job."""
    return tell(said(what, **values) if type(what) is str else what, unit)


def script_words(name: str) -> dict[str, str]:
    """The sentences of one part of the scripts, by the names that it calls them."""
    return {key: tell(what) for key, what in _SCRIPT[name].items()}


def number_text(finding: Finding, unit: Unit) -> str:
    """Value and limit of a finding, "" where nothing was measured."""
    told = number_said(finding)
    return tell(told, unit) if told else ""


def address(view: str, **names: Any) -> str:
    """The path of a page, its named parts quoted.

    Args:
        view: name of the view.
    Returns:
        str: the path.
    """
    return reverse(view, kwargs=names)


def anchor(path: str) -> str:
    """A place of the job file as the name of a place on the page.

    Args:
        path: such as ``rows.0.pitch``.
    Returns:
        str: such as ``rows-0-pitch``.
    """
    return path.replace(".", "-") or "job"


def figure(value: float | None, unit: str, job_unit: Unit = "in", beside: float | None = None) -> str:
    """The same as a filter of the templates, which give no keyword."""
    return value_text(value, unit, job_unit, beside=beside)


def working_words(working: Working, unit: Unit) -> dict[str, str]:
    """A working in the lines that a person follows.

    Args:
        unit: of the job.
    Returns:
        dict: heading to line.
    """
    lines = {
        "formula": working.formula,
        "with": values_text(working, unit),
        "result": quantity_text(working.result, unit),
        "note": note_text(working, unit),
        "source": str(working.source),
        "grade": tell(working.grade, unit),
    }
    return {tell(said(f"working_line.{name}")): line for name, line in lines.items() if line}


def fault_words(fault: Fault) -> str:
    """What is wrong with a box, what was given, and what would do.

    Returns:
        str: one to three short sentences.
    """
    return fault_sentences(fault)
