"""Put what was typed into the boxes into the job's text: sound or not, nothing that was typed is lost."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import Any

from hatchwright.errors import EntryError, JobError
from hatchwright.job.as_typed import number_in_list, raw_data, standing_at
from hatchwright.job.file import edited
from hatchwright.job.job_text import Typed, added, retyped, taken
from hatchwright.job.samples import confirmed, without_line
from hatchwright.page.entry_sheet import Box, EntrySheet, Section
from hatchwright.page.lay_out_sheet import sheet_of
from hatchwright.tables.drills import drill_sizes
from hatchwright.units import Unit, parse_length


def changed_boxes(text: str, typed: Mapping[str, str]) -> dict[str, Box]:
    """The boxes, as the text has them, in which something else was typed than stands in the text, by path.

    Args:
        typed: path of a box to what stands in it on the page; paths that are no boxes are left out.
    """
    boxes = sheet_of(text).boxes
    return {
        path: boxes[path] for path, value in typed.items() if path in boxes and value != boxes[path].value
    }


def fill_in(text: str, typed: Mapping[str, str]) -> str:
    """Put what was typed into the job's text; comments and all other text stay.

    Args:
        typed: path of a box to what stands in it; only what differs from the text is written.
    Raises:
        JobError: the text is not TOML, or a box cannot be written.
    """
    data = raw_data(text)
    held = sheet_of(text).boxes
    texts: dict[str, str] = {}
    values: dict[str, Typed] = {}
    gone: list[str] = []
    for path, box in changed_boxes(text, typed).items():
        value, pair = typed[path], _pair_of(path, data)
        ends = [typed.get(end, held[end].value) for end in (f"{pair}.0", f"{pair}.1")] if pair else []
        if pair and not box.required and not any(ends):
            gone.append(pair)
        elif pair and standing_at(data, pair) is None:
            values[pair] = list(ends)
        elif _is_left_away(box, value, is_there=standing_at(data, path) is not None) and not pair:
            if _stands_before_others(path, data):
                texts[path] = ""
            else:
                gone.append(path)
        elif isinstance(meant := _meant(box, value), str) and standing_at(data, path) is not None:
            texts[path] = meant
        else:
            values[path] = meant
    forms = sheet_of(text).forms()
    for path, meant in texts.items():
        text = retyped(text, path, meant) or edited(text, {path: meant})
    if values:
        text = added(text, values)
    text = taken(text, gone)
    text = _without_leftovers(text, forms & {*texts, *values})
    return confirmed(text, {*texts, *values, *gone})


def _is_left_away(box: Box, value: str, *, is_there: bool) -> bool:
    """Whether an empty box means that the job does without the field; words that are there may well be empty."""
    return not value.strip() and not box.required and (box.kind != "words" or not is_there)


def _stands_before_others(path: str, data: Mapping[str, Any]) -> bool:
    """Whether a value stands in a line before further ones, so that its place is held by an empty text."""
    parent, _, place = path.rpartition(".")
    line, at = standing_at(data, parent), number_in_list(place)
    return isinstance(line, list) and at is not None and at + 1 < len(line)


def _pair_of(path: str, data: Mapping[str, Any]) -> str:
    """The point or size that a box is one end of, "" when it is not: a list of two, or one that is still to be made."""
    parent, _, end = path.rpartition(".")
    above = standing_at(data, parent.rpartition(".")[0]) if "." in parent else data
    is_key = isinstance(above, Mapping) and not parent.rpartition(".")[2].isdigit()
    there = standing_at(data, parent)
    is_pair = there is None or (isinstance(there, list) and len(there) == 2)
    return parent if end in ("0", "1") and is_key and is_pair else ""


def _meant(box: Box, value: str) -> Typed:
    if box.kind == "yes or no" and value in ("yes", "no"):
        return value == "yes"
    if box.kind == "count" and value.isascii() and value.isdigit():
        return int(value)
    return value


def _without_leftovers(text: str, reformed: set[str]) -> str:
    """Take away what belonged to a form that a section no longer has, such as the width of what is now a circle."""
    if not reformed:
        return text
    data, gone = raw_data(text), list[str]()
    for part in sheet_of(text).sections.values():
        if part.variant and part.variant.path in reformed:
            entered = standing_at(data, part.path)
            inside: list[Box | Section] = [*part.boxes, *part.parts, part.variant]
            known = {one.path.removeprefix(f"{part.path}.").split(".")[0] for one in inside}
            if part.variant.value in part.variant.choices and isinstance(entered, Mapping):
                gone += [f"{part.path}.{name}" for name in entered if name not in known]
    return taken(text, gone)


def with_part(text: str, path: str) -> tuple[str, str]:
    """Add a section that the job does not have yet, or a line to a list, its boxes empty; the text and the new path.

    Raises:
        JobError: the job has no place of that name, or it has the section already.
    """
    part = _part(sheet_of(text), path)
    if part.is_list:
        path = f"{path}.{len(part.parts)}"
    elif part.is_present:
        raise JobError.about(path, "page.fault.there_already")
    return added(text, {path: part.new}), path


def without_part(text: str, path: str) -> str:
    """Take away a section that the job can do without, or a line of a list.

    Raises:
        JobError: the job has no such part, or cannot do without it.
    """
    part = _part(sheet_of(text), path)
    is_line = path.rpartition(".")[2].isdigit()
    if part.is_list or not (part.may_go or is_line):
        raise JobError.about(path, "page.fault.needed")
    return confirmed(taken(without_line(text, path), [path]), ())


def _part(sheet: EntrySheet, path: str) -> Section:
    part = sheet.sections.get(path)
    if part is None or not path:
        raise JobError.about(path[:80] or "part", "page.fault.no_such_part")
    return part


def with_confirmed(text: str, path: str) -> str:
    """Confirm the sample values in a box, a section or a line, as they stand.

    Raises:
        JobError: none stands there.
    """
    names = raw_data(text).get("samples")
    held = [name for name in names if isinstance(name, str)] if isinstance(names, list) else []
    there = [name for name in held if f"{name}.".startswith(f"{path}.") or f"{path}.".startswith(f"{name}.")]
    if not there:
        raise JobError.about(path[:80] or "part", "page.fault.no_sample")
    return confirmed(text, there)


def with_choice(text: str, *, rule: str, reading: str, reason: str) -> str:
    """Write down which reading was chosen where documents differ, and why, in place of an earlier choice for the rule.

    The job is not sound without a reason.
    """
    return _noted(text, "choices", {"rule": rule}, {"reading": reading, "reason": reason})


def with_acknowledged(text: str, numbers: Iterable[tuple[str, str]], *, reason: str, initials: str) -> str:
    """Write down that cautions were read and may stand, and why; each is open again when its number changes.

    Args:
        numbers: code of each caution and its number, as `verdict.acknowledged_number` tells it; what was said of
            both before is replaced.
    """
    why = {"reason": reason, "initials": initials}
    for code, number in numbers:
        text = _noted(text, "acknowledged", {"code": code, "number": number}, why)
    return text


def _noted(text: str, name: str, key: Mapping[str, str], told: Mapping[str, str]) -> str:
    """One more entry of a list of the job, or what it says in place of an earlier one of the same key."""
    held = raw_data(text).get(name)
    held = held if isinstance(held, list) else []
    for index, one in enumerate(held):
        if isinstance(one, Mapping) and all(one.get(part) == value for part, value in key.items()):
            return edited(text, {f"{name}.{index}.{part}": value for part, value in {**key, **told}.items()})
    return added(text, {f"{name}.{len(held)}": {**key, **told}})


def with_unit(text: str, unit: Unit) -> str:
    """Make another unit that of bare numbers; beside each that was bare the old unit is written, so no length changes.

    Raises:
        JobError: the text is not TOML.
    """
    data = raw_data(text)
    old: Unit = "mm" if data.get("units") == "mm" else "in"
    if unit == old:
        return text
    marked = {
        path: f"{box.value.strip()} {old}"
        for path, box in sheet_of(text).boxes.items()
        if box.kind in ("length", "coordinate", "diameter")
        and (before := _exact(box, old)) is not None
        and before != _exact(box, unit)  # another length in the new unit, or none
    }
    text = edited(text, marked) if marked else text
    return edited(text, {"units": unit}) if "units" in data else added(text, {"units": unit})


def _exact(box: Box, unit: Unit) -> object:
    is_signed = box.kind != "diameter"
    with suppress(EntryError):
        return parse_length(box.value, unit=unit, drills=drill_sizes(), signed=is_signed).exact_in
    return None
