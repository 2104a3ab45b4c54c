"""Write docs/job-file.md, machine-file.md and fleet-file.md from the models: every section, key and meaning."""

from __future__ import annotations

import types
import typing
from pathlib import Path
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from hatchwright.job import entry
from hatchwright.job.amount import (
    AircraftWeighs,
    Allowable,
    Area,
    Factor,
    Force,
    HingeMoment,
    HolesPer100Jobs,
    Load,
    MarginOfSafety,
    Power,
    Pressure,
    RunningLoad,
    Speed,
    Volume,
    Weight,
)
from hatchwright.job.bracketed import Bracketed
from hatchwright.job.entry_words import about, help_of
from hatchwright.job.fleet.fleet import Fleet
from hatchwright.job.job import Job
from hatchwright.job.machine import Machine
from hatchwright.job.schema import SCHEMA
from hatchwright.words.tell import tell

ROOT = Path(__file__).parents[1]
PAGE = ROOT / "docs" / "job-file.md"
MACHINE_PAGE = ROOT / "docs" / "machine-file.md"
FLEET_PAGE = ROOT / "docs" / "fleet-file.md"

_NAMED = {
    "positive": "length",
    "_not_negative": "length or 0",
    "coordinate": "coordinate",
    "diameter": "diameter or drill",
    "_point": "point, two coordinates",
    "_size": "two lengths",
    "count": "whole number",
    "angle": "degrees",
    "_start_at": 'direction such as "FWD", or degrees',
    "_efficiency": '"table note", "landmark row" or number up to 1.00',
    "_MadeHole_in_brackets": "[number, X, Y, diameter, u]",
    "_PolarHole_in_brackets": "[number, radius, angle, diameter, u]",
    "_MadeSize_in_brackets": "[number, diameter, u]",
    "_MadeHead_in_brackets": "[number, diameter, height, u]",
    "_MadeCountersink_in_brackets": "[number, diameter, depth, u]",
    "_DimpleCrack_in_brackets": "[number, length, u]",
    "_StrayHole_in_brackets": "[X, Y, diameter, u, rivet]",
    "_LookReading_in_brackets": "[name, value, u]",
    "_CrackAtHole_in_brackets": "[mark, number, length, u]",
    "_CrackAtPlace_in_brackets": "[mark, X, Y, length, u]",
    "_ResolvedCrack_in_brackets": "[mark, by, data]",
    "_day": '"year-month-day"',
    "_hours": "hours",
    "_interval": "hours over 0",
    "_landings": "whole number or 0",
    "_many": "whole number over 0",
    "_on_hand": "whole number or 0",
}

_AMOUNTS = {
    get_args(kind)[1].func: name
    for kind, name in (
        (RunningLoad, "running load"),
        (Pressure, "pressure"),
        (Force, "force"),
        (Allowable, "force"),
        (Weight, "weight"),
        (AircraftWeighs, "weight"),
        (Load, "weight or 0"),
        (Volume, "volume"),
        (Power, "power"),
        (HingeMoment, "moment"),
        (Area, "area"),
        (Speed, "speed"),
        (Factor, "factor"),
        (MarginOfSafety, "number"),
        (HolesPer100Jobs, "number"),
    )
}

_HEAD = f"""# The job file

Made from the models and the catalogue by `python builders/build_job_file_page.py`: a TOML text, schema {SCHEMA}.
`hatchwright new` writes one to begin with, of the kind that `--kind` names, and `examples/` holds complete ones. A file
of an earlier schema is read for ever; whatever changes one writes it in the present schema, comments and all.

A length may be written as `1 3/8`, `1-3/8`, `3/32`, `.032`, `1.375 in`, `35 mm`, `0,8 mm`, `#30` or `F`; put it in
quotes unless it is a plain number. A bare number is in the job's `units`. A comma is the decimal mark where it can mean
nothing else, as in `3,5` or `0,032`; one that could set off thousands is asked about, never guessed. Where a diameter
is asked for, `-30` is drill No. 30, but `-1` to `-12` are refused: they could be a rivet's diameter; elsewhere it is a
negative number. What was typed is kept as it is.
"""

_MACHINE_HEAD = f"""# The machine file

Made from the models by `python builders/build_job_file_page.py`. One TOML text, schema {Machine.SCHEMA}, that
`hatchwright toolpath JOB --machine FILE --out DIR` reads; `examples/machines/machine.toml` is a complete one.

It describes the shop's own machine with a blank on its table. Every number in it is the shop's: its machine, its
tools as measured, feeds from its own trials in the same material. Lengths are written as in the job file; a bare
number is in the machine file's `units`, and so are the toolpath files. A feed is a length a minute.

**Where the zero is.** X 0 Y 0 of every toolpath is the blank's lower left corner, Z 0 its top, set with the tool in
the spindle. Clamps are told from that corner too, `blank_at` from the corner of the travel. The template lies in the
middle of the blank, the face that lies out from the skin up, turned a quarter to the left only when it fits in no
other way.

**What is refused**, and nothing written: a path that leaves the blank or the travel; a tool nearer than 1/8 in to a
clamp, beside it or over it (common practice, no source); a cut through the spoil board; a tool that does not reach; a
template end mill or a pilot drill that the machine has not got; tabs that do not fit round an edge; marks deeper than
half of the blank.

**What is engraved.** All that is lettered on the template's drawing: center lines, check length, arrows, side, job and
what the template is for. The machine needs a tool of the kind "engraver" for it, with the depth that the shop found
good; without one nothing is engraved, every file says so, and the marks are made by hand.

**On the page.** Machine files in the folder `machines` beside the jobs are offered where the papers are made.

**Before it cuts.** Every file has been traced back word by word and compared with the template, see
`docs/theory/toolpath.md`. That does not know your control: run each file in the air first. Files hold one tool each;
begin with number 1.
"""


_FLEET_HEAD = f"""# The fleet file

Made from the models by `python builders/build_job_file_page.py`. One TOML text `NAME.fleet` beside the jobs, schema
{Fleet.SCHEMA}: aircraft that get the same opening, with their times, weights and mandates, and a line for each side.
The page makes one from a pattern job and pasted rows of registration and serial number; `hatchwright due` and
`hatchwright balance` read it. Lengths are written as in the job file; a bare one is in the fleet file's `units`. Hours
are kept as typed and never rounded.

**One pattern, one job a side.** Each line names a job of its own, made from the pattern: the same mandate, opening,
ring, hardware and cutter. The other side is the mirror, its X axis running the other way. Title, aircraft and
revision are the line's own; what was measured, surveyed, answered or accepted on the pattern is asked again on each
side, and the pattern's bay stands there as samples until somebody confirms it there. So each side has its own
verdict.

**A change of the pattern** is compared with what each line was last given, entry by entry. What only the pattern
changed is taken; what only the line says otherwise stays; what both changed is a conflict and stays unless you say
otherwise. A list of rows with more or fewer lines than before counts as one entry. The bay is each line's own: what
the pattern says newly of it is shown, never taken. A job that somebody signed for is named and not touched. Each job
takes it back with Undo. The texts that were given lie in `.earlier/NAME.fleet/given`; without them every difference
is shown as a conflict.

**What to get** is the pull list of all lines, with spares for all together, less what is on hand. A stock counts only
by part number.

**Hours** are those that somebody noted. The next side is expected to take what the last one took; where nobody noted
any, nothing is told.

**The print** holds each template once, with the number that the set list gives each side. Two sides take one template
only where all that is on its sheet is the same.
"""


def kind_of(annotation: Any, metadata: typing.Sequence[Any]) -> str:
    """The kind of value, in words."""
    for mark in metadata:
        reader = getattr(mark, "func", None)
        if name := _AMOUNTS.get(reader) or _NAMED.get(getattr(reader, "__name__", "")):
            return name
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *marks = get_args(annotation)
        return kind_of(inner, marks)
    if origin is Literal:
        return ", ".join(f'"{word}"' for word in get_args(annotation))
    if origin in (Union, types.UnionType):
        parts = [kind_of(part, ()) for part in get_args(annotation) if part is not type(None)]
        return " or ".join(dict.fromkeys(parts))
    if origin is tuple:
        inner = get_args(annotation)
        return (
            f"list of {kind_of(inner[0], ())}"
            if inner[-1] is Ellipsis
            else f"{len(inner)} of {kind_of(inner[0], ())}"
        )
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return f"table, see {annotation.__name__}"
    return {str: "text", bool: "true or false", int: "whole number", float: "number"}.get(annotation, "value")


def models_in(annotation: Any) -> list[type[BaseModel]]:
    """Every model inside an annotation."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for part in get_args(annotation) for model in models_in(part)]


def row(model: type[BaseModel], name: str, field: FieldInfo) -> str:
    """One line of a table."""
    kind = kind_of(field.annotation, field.metadata)
    must = "yes" if field.is_required() else ""
    key = field.alias or name
    return f"| `{key}` | {kind} | {must} | {tell(help_of(model, key))} |"


def section(model: type[BaseModel]) -> list[str]:
    """The page's section of one model."""
    says = tell(about(model))
    head = [f"## {model.__name__}", "", says, "", "| key | value | must | meaning |", "|---|---|---|---|"]
    return [*head, *(row(model, name, field) for name, field in model.model_fields.items()), ""]


def page() -> str:
    """The whole page of the job file."""
    return _page(Job, _HEAD)


def machine_page() -> str:
    """The whole page of the machine file."""
    return _page(Machine, _MACHINE_HEAD)


def fleet_page() -> str:
    """The whole page of the fleet file."""
    return _page(Fleet, _FLEET_HEAD)


def _page(whole: type[BaseModel], head: str) -> str:
    lines, queue, seen = [head], [whole], set()
    while queue:
        model = queue.pop(0)
        if model in seen or issubclass(model, Bracketed) or model is entry.Entered:
            continue
        seen.add(model)
        lines += section(model)
        queue += [inner for field in model.model_fields.values() for inner in models_in(field.annotation)]
    return "\n".join(lines)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    MACHINE_PAGE.write_text(machine_page(), encoding="utf-8")
    FLEET_PAGE.write_text(fleet_page(), encoding="utf-8")
