"""Start a job from a site survey: what was surveyed is entered, everything else is a sample until it is confirmed."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from hatchwright.errors import Fault, JobError
from hatchwright.job.as_typed import raw_data, standing_at, typed_length
from hatchwright.job.changed_text import changed_text
from hatchwright.job.file import load_job_text, read_job
from hatchwright.job.job import Job
from hatchwright.job.job_fields import fields_of
from hatchwright.job.text_file import save_text
from hatchwright.layout.lay_out import lay_out
from hatchwright.layout.site.center import center_of
from hatchwright.layout.site.landmarks import landmarks
from hatchwright.remedy import PartChange
from hatchwright.units import Unit, parse_length
from hatchwright.workflow.new_job import Start, form_of, sample_names, starting_data
from hatchwright.workflow.site import SiteAnswer, site_answer

_NEEDED = ("aircraft", "frame", "site")

_SIZES = ("width", "height", "radius", "diameter", "length")
_SIZED = ("opening", "doubler.outer", "doubler.inner")
"""Sample outlines that are made smaller where the bay is narrower than they are."""

_OF_BAY = 0.6
"""A sample opening that doesn't fit its bay is made this part of it; own choice, no source [-]."""


def new_from_survey(path: Path, start: Start, sheet: Path) -> SiteAnswer:
    """Write a job file that begins with a survey.

    Returns:
        SiteAnswer: what the survey answers; nothing of it is entered where it contradicts itself.
    Raises:
        JobError: the file exists or can't be written, or the sheet is refused.
    """
    if os.path.lexists(path):  # also where a link leads nowhere
        raise JobError.about("file", "error.file_there", str(path))
    surveyed = raw_data(load_job_text(sheet))
    if lacking := [name for name in _NEEDED if not isinstance(surveyed.get(name), Mapping)]:
        faults = (Fault.saying(name, "survey.sheet_lacks") for name in lacking)
        raise JobError(tuple(faults), where=sheet.name)
    units = surveyed.get("units", start.units)
    held = _with_survey(starting_data(replace(start, units=units)), surveyed)
    try:
        text, job = _read(held, path)
        held = _fitted(held, job)
        text, job = _read(held, path)
        answer = site_answer(lay_out(job))
        if not answer.contradictions:
            text = _entered(text, answer)
            lay_out(read_job(text, folder=path.parent, name=path.name))
    except JobError as error:  # its lines would be those of a text that nobody has seen
        raise JobError(tuple(replace(one, line=None) for one in error.faults), where=sheet.name) from None
    save_text(path, text)
    return answer


def _with_survey(held: Mapping[str, Any], surveyed: Mapping[str, Any]) -> dict[str, Any]:
    """The data of a new job with all that a sheet holds; a section of both keeps the samples that the sheet hasn't."""
    found = {**held, "bay": {}}
    for name, value in surveyed.items():
        keeps = name == "skin" and isinstance(value, Mapping)
        found[name] = {**held.get(name, {}), **value} if keeps else value
    order = [field.name for field in fields_of(Job)]
    found = {
        name: found[name] for name in sorted(found, key=lambda one: order.index(one) if one in order else 99)
    }
    told = {name: value for name, value in surveyed.items() if name != "skin"}
    given = {f"skin.{name}" for name in surveyed.get("skin", {})}
    names = (name for name in sample_names(found) if name.partition(".")[0] not in told and name not in given)
    return {**found, "samples": list(names)}


def _read(held: Mapping[str, Any], path: Path) -> tuple[str, Job]:
    text = form_of(held)
    return text, read_job(text, folder=path.parent, name=path.name)


def _fitted(held: dict[str, Any], job: Job) -> dict[str, Any]:
    """The sample opening about the center that was surveyed, else in the middle of the bay, and no larger than that
    lets it be."""
    assert job.site is not None  # the sheet has one
    best = center_of(job.site, job.frame).best
    rows = [line for line in landmarks(job.site) if not line.bound]
    at = [[line.at().value for line in rows if line.axis == axis] for axis in (0, 1)]
    has_bay = all(len(one) > 1 for one in at)
    if not (best or has_bay):
        return held
    about = best.at_in if best else tuple((min(one) + max(one)) / 2.0 for one in at)
    middle = [typed_length(one, job.unit) for one in about]
    x_min, y_min, x_max, y_max = job.opening.loop((0.0, 0.0)).bounds
    sizes = (x_max - x_min, y_max - y_min)
    room = min((max(one) - min(one)) / size for one, size in zip(at, sizes, strict=True)) if has_bay else 1.0
    found = {**held, "opening": {**held["opening"], "center": middle}}
    if room >= 1.0:
        return found
    for name in _SIZED:
        if (outline := standing_at(found, name)) is not None:
            smaller = _scaled(outline, room * _OF_BAY, job.unit)
            section, _, part = name.partition(".")
            found[section] = {**found[section], part: smaller} if part else smaller
    return found


def _scaled(outline: Mapping[str, Any], by: float, unit: Unit) -> dict[str, Any]:
    made = {
        name: typed_length(by * parse_length(outline[name], unit=unit).inch, unit)
        for name in _SIZES
        if name in outline
    }
    return {**outline, **made}


def _entered(text: str, answer: SiteAnswer) -> str:
    """The text with the survey in it; what was entered is no sample any more."""
    made = {one.field for one in answer.entries} | {one.field for one in answer.parts}
    made |= {one.field.rpartition(".")[0] for one in answer.entries}
    made |= {"opening.center"} if answer.best else set()
    samples = [name for name in answer.job.samples if name not in made]
    return changed_text(text, answer.entries, (*answer.parts, PartChange("samples", samples)))
