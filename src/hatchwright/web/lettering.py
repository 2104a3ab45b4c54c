"""How values are lettered on the page: figures, units, names of places, and the words for the four answers."""

from __future__ import annotations

from typing import Any

from django.middleware.csrf import get_token
from django.urls import reverse
from jinja2 import Environment, StrictUndefined

from hatchwright.errors import Fault
from hatchwright.finding import Finding
from hatchwright.judged import Status
from hatchwright.said import Amount, Value, said
from hatchwright.strength.margin_words import margin_words
from hatchwright.units import MM_PER_IN, Unit, decimal_inch, places_to_tell
from hatchwright.web.static_files import static_address
from hatchwright.words.amounts import amount_text
from hatchwright.words.findings import advice_text, number_said, subject_text
from hatchwright.words.refusals import fault_sentences
from hatchwright.words.tell import tell, tell_all
from hatchwright.words.verdict import headline, line_text
from hatchwright.words.workings import note_text, quantity_text, values_text
from hatchwright.workings import Working

WORDS = {status: tell(status) for status in Status}
"""The word for each answer; it always stands beside the symbol, and colour never carries the meaning."""


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
    )
    made.filters.update(
        anchor=anchor,
        figure=figure,
        missed=missed_by,
        subject=subject_text,
        advice=advice_text,
        line=line_text,
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


def figure(value: float | None, unit: str, job_unit: str = "in", beside: float | None = None) -> str:
    """A value with its unit beside it, never rounded so far that it seems to be another.

    Args:
        value: to be lettered, or None.
        job_unit: "mm" puts millimeters first, inches in brackets.
        beside: a value that it is set against and must not look like, such as its limit [unit].
    Returns:
        str: such as ``.248 in``; "" for None.

    >>> figure(0.2484, "in"), figure(17.0, "rivets"), figure(0.248, "in", "mm")
    ('.2484 in', '17 rivets', '6.299 mm (.248 in)')
    """
    if value is None:
        return ""
    if unit != "in":
        return amount_text(Amount(value, unit), "mm" if job_unit == "mm" else "in")
    places = places_to_tell(value, beside, 3 if abs(value * 1000 - round(value * 1000)) < 0.05 else 4)
    inch = f"{decimal_inch(value, places)} in"
    if job_unit == "in":
        return inch
    mm = value * MM_PER_IN
    places = places_to_tell(mm, None if beside is None else beside * MM_PER_IN, 3)
    return f"{mm:.{places}f} mm ({inch})"


def missed_by(finding: Finding, job_unit: str = "in") -> str:
    """By how much a finding misses its limit, and what the uncertainty makes of it.

    Args:
        job_unit: unit of the job's bare numbers.
    Returns:
        str: such as ``short by .007 in``; "" when nothing is missed.
    """
    if finding.status is Status.PASS or not finding.shortfall:
        return ""
    is_over = finding.value is not None and finding.limit is not None and finding.value > finding.limit
    by = f"{'over' if is_over else 'short'} by {figure(finding.shortfall, finding.unit, job_unit)}"
    if finding.status is Status.UNKNOWN and finding.uncertainty:
        by += f", within your u of {figure(finding.uncertainty, finding.unit, job_unit)}: cannot be shown to pass"
    return by


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
