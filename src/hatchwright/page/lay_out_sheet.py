"""Lay out the boxes of a job in the order of the work, each with its echo and its faults."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any, Literal

from msgspec.structs import replace

from hatchwright.errors import EntryError, Fault
from hatchwright.job.as_typed import raw_data
from hatchwright.job.entry_words import about
from hatchwright.job.job import Job
from hatchwright.job.job_fields import JobField, Kind, fields_of, fresh
from hatchwright.job.pasted_rows import columns_of
from hatchwright.job.rivet_rows import LineRow
from hatchwright.page.entry_sheet import Box, EntrySheet, Section
from hatchwright.said import said
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import parse_length
from hatchwright.words.catalog import names_under
from hatchwright.words.tell import tell

HEAD = ("title", "revision", "units")
"""Fields of the job itself, which stand before its first section."""

STAGES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("page.stage.mandate", ("mandate", "aircraft", "gate", "departures")),
    ("page.stage.site", ("frame", "site", "skin", "bay")),
    (
        "page.stage.layout",
        (
            *("opening", "doubler", "rows", "cover", "mount", "patch", "plain_hole", "wish"),
            *("choices", "acknowledged", "samples"),
        ),
    ),
    ("page.stage.strength", ("loads",)),
    ("page.stage.template", ("cutter", "hand_tool", "template", "scatter")),
    ("page.stage.measure", ("as_made", "looks")),
)
"""Stages in the order of the work, by the id of their name, and the sections of the job file that are filled in at
each; a section that is named nowhere stands at the last."""

READINGS = "as_made"
"""The section that takes readings of all kinds, each row of a paste beginning with what it is."""

_IN_LINE: Mapping[str, tuple[str, ...]] = {
    "rows": (
        *("name", "edge", "distance", "start", "end", "center", "radius", "bolt_circle"),
        *("step", "pitch", "count", "points"),
    ),
    "bay.keep_outs": ("name", "x_from", "x_to", "y_from", "y_to", "depth"),
    "site.rows": ("name", "x", "y", "at", "second", "second_at"),
    "site.flanges": ("name", "x_from", "x_to", "y_from", "y_to", "at", "second", "second_at"),
    "site.hazards": ("name", "found_from", "x_from", "x_to", "y_from", "y_to", "depth", "moves", "photo"),
    "site.routes": ("name", "x_from", "x", "y_from", "y", "a", "b", "c", "d"),
}
"""Lists whose lines have many boxes, and the fields of a line that stand in its one line; the rest is folded."""


def entry_sheet(data: Mapping[str, Any], faults: Iterable[Fault] = ()) -> EntrySheet:
    """Lay out the boxes of a job, each with its echo and its faults.

    Args:
        data: the job file's data as typed; it need not be sound.
    """
    writer = _Writer("mm" if data.get("units") == "mm" else "in", faults, data.get("samples"))
    fields = {field.name: field for field in fields_of(Job) if field.name not in (*HEAD, "schema")}
    placed = {name for _, names in STAGES for name in names}
    others = tuple(name for name in fields if name not in placed)
    stages: dict[str, tuple[Section, ...]] = {}
    for title, names in (*STAGES[:-1], (STAGES[-1][0], STAGES[-1][1] + others)):
        parts = [writer.head(data)] if title == STAGES[0][0] else []
        for name in names:
            part = writer.part(name, fields[name], data.get(name))
            parts += (replace(part, parts=()), *part.parts) if name == "bay" else (part,)
        stages[tell(said(title))] = tuple(parts)
    return EntrySheet(stages, tuple(fault for faults in writer.faults.values() for fault in faults))


@lru_cache(maxsize=8)
def sheet_of(text: str) -> EntrySheet:
    """The boxes of a job's text, each with its echo, without looking for faults.

    Raises:
        JobError: it is not TOML.
    """
    return entry_sheet(raw_data(text))


@lru_cache(maxsize=5000)
def echo_of(value: str, kind: Kind, unit: str) -> str:
    """Say a typed length back: inch, nearest 1/64 with its error, and mm; "" when the text is no length.

    Args:
        kind: "coordinate" takes a sign, "length" does not; in a "diameter" a leading dash means a drill.
        unit: of a bare number.
    """
    if not value.strip():
        return ""
    try:
        length = parse_length(value, unit=unit, drills=drill_sizes(), signed=kind != "diameter")
    except EntryError:
        return ""
    if length.exact_in < 0 and kind != "coordinate":
        return ""
    needs_four = (length.exact_in * 1000).denominator != 1 and (length.exact_in * 10_000).denominator == 1
    return length.echo(places=4 if needs_four else 3)


class _Writer:
    """Writes boxes, and hands each fault out once, to the box or section that it belongs to."""

    def __init__(self, unit: str, faults: Iterable[Fault], samples: object = None) -> None:
        self.unit = unit
        self.samples = (
            {name for name in samples if isinstance(name, str)} if isinstance(samples, list) else set()
        )
        self.faults: dict[str, list[Fault]] = {}
        for fault in faults:
            self.faults.setdefault(fault.field, []).append(fault)

    def take(self, path: str) -> tuple[Fault, ...]:
        """The faults that name exactly this place, each handed out once."""
        return tuple(self.faults.pop(path, ())) if self.faults else ()

    def head(self, data: Mapping[str, Any]) -> Section:
        """The job's own fields."""
        fields = {field.name: field for field in fields_of(Job)}
        boxes = [box for name in HEAD for box in self.boxes(name, fields[name], data.get(name))]
        units = boxes.pop()
        boxes.append(
            replace(units, kind="one of", value=units.value or "in", choices=("in", "mm"), required=True)
        )
        return Section("", tell(said("page.part.job")), boxes=tuple(boxes))

    def part(self, path: str, field: JobField, raw: Any) -> Section:
        """A section, or a list of them."""
        has_heading = path in names_under("page.part.")  # else its heading is the name of the section
        title = tell(said(f"page.part.{path}")) if has_heading else field.label
        if field.holds == "list":
            return self.listing(path, title, field, raw)
        may_go = not field.required and any(inner.required for inner in fields_of(field.models[0]))
        if raw is None and may_go:
            new, faults = fresh(field.models), self.take(path)
            absent = Section(path, title, field.help, is_present=False, may_go=True, faults=faults, new=new)
            return replace(absent, takes_paste=path == READINGS)
        section = self.section(path, field, raw)
        return replace(section, title=title, may_go=may_go, takes_paste=path == READINGS)

    def section(self, path: str, field: JobField, raw: Any) -> Section:
        """One section in the form that it takes."""
        values: Mapping[str, Any] = raw if isinstance(raw, Mapping) else {}
        variant, forms = None, field.models
        if name := field.discriminator:
            value, at = str(values.get(name, "")), f"{path}.{name}"
            forms = field.form(value)
            label, faults = name.capitalize(), self.take(at)
            variant = Box(at, label, "", "one of", value, True, field.words(), faults=faults)
        boxes: list[Box] = []
        parts: list[Section] = []
        for inner in fields_of(forms[0]) if forms else ():
            at, held = f"{path}.{inner.name}", values.get(inner.name)
            if inner.holds in ("section", "list"):
                parts.append(self.part(at, inner, held))
            else:
                boxes += self.boxes(at, inner, held)
        holds = tell(about(forms[0])) if forms else ""
        return Section(path, "", holds, tuple(boxes), tuple(parts), variant=variant, faults=self.take(path))

    def listing(self, path: str, title: str, field: JobField, raw: Any) -> Section:
        """A list: of sections, of points, or of single values."""
        lines = []
        for index, entry in enumerate(raw if isinstance(raw, list) else ()):
            at = f"{path}.{index}"
            if field.is_bracketed:
                lines.append(self.flat(at, field, entry))
            elif field.models:
                lines.append(replace(self.section(at, field, entry), in_line=_IN_LINE.get(path, ())))
            else:
                of_line: Literal["pair", "value"] = "pair" if field.is_point else "value"
                inner = replace(field, holds=of_line, label="", help="", required=True)
                lines.append(Section(at, "", boxes=tuple(self.boxes(at, inner, entry)), faults=self.take(at)))
        new, faults = _fresh_line(field), self.take(path)
        takes = any(columns_of(field))
        listing = Section(path, title, field.help, parts=tuple(lines), is_list=True, faults=faults, new=new)
        return replace(listing, takes_paste=takes)

    def flat(self, path: str, field: JobField, entry: Any) -> Section:
        """A line of bare values in brackets."""
        values = entry if isinstance(entry, list) else []
        boxes: list[Box] = []
        for index, inner in enumerate(fields_of(field.models[0])):
            held, named = values[index] if index < len(values) else None, self.take(f"{path}.{inner.name}")
            box = self.box(f"{path}.{index}", inner.label, inner, held)
            boxes.append(replace(box, faults=(*box.faults, *named)))
        return Section(path, "", boxes=tuple(boxes), faults=self.take(path))

    def boxes(self, path: str, field: JobField, raw: Any) -> list[Box]:
        """The boxes of one field: two for a point or a size, else one."""
        if field.holds == "value":
            return [self.box(path, field.label, field, raw)]
        pair = raw if isinstance(raw, list) else ()
        names = ("X", "Y") if field.is_point else ("1", "2")
        boxes = []
        for i, name in enumerate(names):
            held = pair[i] if i < len(pair) else None
            boxes.append(self.box(f"{path}.{i}", f"{field.label} {name}".strip(), field, held))
        if whole := self.take(path):
            wrong = [box for box in boxes if not box.echo] or boxes[:1]
            boxes = [replace(box, faults=(*box.faults, *whole)) if box in wrong else box for box in boxes]
        return boxes

    def box(self, path: str, label: str, field: JobField, raw: Any) -> Box:
        """One box with its echo and faults."""
        value = "" if raw is None else {True: "yes", False: "no"}[raw] if isinstance(raw, bool) else str(raw)
        is_length = field.kind in ("length", "coordinate", "diameter")
        echo = echo_of(value, field.kind, self.unit) if is_length else ""
        is_sample = bool(self.samples) and any(name in self.samples for name in _path_and_above(path))
        about = field.help, field.kind, value, field.required, field.choices
        return Box(path, label, *about, echo, self.take(path), is_sample)


def _path_and_above(path: str) -> Iterator[str]:
    while path:
        yield path
        path = path.rpartition(".")[0]


def _fresh_line(field: JobField) -> Any:
    """What a new line holds to begin with."""
    if field.is_bracketed:
        return ["" for inner in fields_of(field.models[0]) if inner.required]
    if not field.models:
        return ["", ""] if field.is_point else ""
    return fresh(tuple(model for model in field.models if model is LineRow) or field.models)
