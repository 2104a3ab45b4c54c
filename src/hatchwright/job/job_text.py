"""Change the shape of a job's text: add and take away fields, sections and lines of a list; comments stay."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

from hatchwright.errors import JobError
from hatchwright.job.as_typed import number_in_list, raw_data
from hatchwright.job.lines import line_of_each_key

Typed = str | int | bool | list[Any] | dict[str, Any]
"""What may stand in a job's text: typed text, a whole number, yes or no, a list, or a section of these."""

_HEADER = re.compile(r"\s*\[")
_NOTHING = re.compile(r"\s*(#.*)?$")
_COMMENTED_HEADER = re.compile(r"#\s*\[")
_COMMENTED_KEY = re.compile(
    r"""#\s*(?P<name>\w+)\s*=\s*(?:"[^"]*"|\[[^]]*\]|[\w.+-]+)\s*(?P<about>\#.*)?""", re.ASCII
)
_LONGEST_LINE = 10_000
"""What stands in a longer line is changed like everything that takes more than its line [characters]."""

_QUOTED = re.compile(r'"(?:[^"\\]|\\.)*"')


NO_PLACE = (KeyError, IndexError, ValueError, TypeError)
"""What is raised where a document has no such place."""


def holder_of(document: Any, field: str) -> tuple[Any, Any]:
    """The section or list that holds a dotted field, and its name or number there; raises one of `NO_PLACE`."""
    *way, last = field.split(".")
    for part in way:
        document = document[int(part)] if isinstance(document, list) else document[part]
    return document, int(last) if isinstance(document, list) else last


def retyped(text: str, field: str, value: str) -> str | None:
    """Change one typed text where that takes no more than its own line; quick, so that a drawing can follow the typing.

    Args:
        field: dotted field that is there, such as ``opening.radius`` or ``rows.0.start.1``.
        value: its new text.
    Returns:
        str | None: the changed document, None when it takes more than that (then see `job.file.edited`).
    """
    parent, _, place = field.rpartition(".")
    at = line_of_each_key(text)
    line, nth = (at[field], 0) if field in at else (at.get(parent), number_in_list(place) or 0)
    if line is None:
        return None
    lines = text.splitlines(keepends=True)
    key, equals, rest = lines[line - 1].partition("=")
    if len(rest) > _LONGEST_LINE:
        return None
    found = list(_QUOTED.finditer(rest))
    if nth >= len(found):
        return None
    quoted = found[nth]
    rest = rest[: quoted.start()] + json.dumps(value, ensure_ascii=False) + rest[quoted.end() :]
    changed = "".join([*lines[: line - 1], key + equals + rest, *lines[line:]])
    try:
        wanted, got = _with(raw_data(text), field.split("."), value), raw_data(changed)
    except JobError:
        return None
    return changed if got == wanted else None


def _with(node: Any, way: Sequence[str], value: Typed) -> Any:
    """The same data with another value at the end of the way."""
    if not way:
        return value
    if isinstance(node, list):
        at = int(way[0])
        return [*node[:at], _with(node[at], way[1:], value), *node[at + 1 :]]
    return {**node, way[0]: _with(node.get(way[0]), way[1:], value)}


def added(text: str, things: Mapping[str, Typed]) -> str:
    """Add fields, sections or lines of a list that are not there yet.

    Args:
        things: dotted place (``skin.measured``, ``doubler``, ``rows.8`` one past the last) to what goes there.
    Raises:
        JobError: a place cannot take it.
    """
    for field, thing in things.items():
        placed = _in_its_place(text, field, thing)
        text = _at_the_end(text, field, thing) if placed is None else placed
    return text


def _in_its_place(text: str, field: str, thing: Typed) -> str | None:
    """A plain value on a line of its own: that on which its key is commented out, else after the last of its section,
    before the comments that may belong to the next; None where that does not do."""
    parent, _, name = field.rpartition(".")
    lines, at = text.splitlines(keepends=True), line_of_each_key(text)
    head = at.get(parent)
    if isinstance(thing, dict) or head is None or not _HEADER.match(lines[head - 1]):
        return None
    end = min((n for n in at.values() if n > head and _HEADER.match(lines[n - 1])), default=len(lines) + 1)
    written = f"{name} = {json.dumps(thing, ensure_ascii=False)}"
    last, is_ours = head - 1, True
    for index in range(head, end - 1):
        if _COMMENTED_HEADER.match(lines[index]):
            is_ours = False
        elif found := _COMMENTED_KEY.fullmatch(lines[index].rstrip()):
            if is_ours and found["name"] == name:
                lines[index] = f"{written}  {found['about'] or ''}".rstrip() + "\n"
                break
        elif not _NOTHING.match(lines[index]):
            last = index
    else:
        lines[last] = f"{lines[last].rstrip()}\n{written}\n"
    changed = "".join(lines)
    try:
        return changed if raw_data(changed) == _with(raw_data(text), field.split("."), thing) else None
    except (JobError, AttributeError, IndexError, ValueError):
        return None


def _at_the_end(text: str, field: str, thing: Typed) -> str:
    import tomlkit

    document = tomlkit.parse(text)
    try:
        _put(document, field.split("."), thing)
    except NO_PLACE:
        raise JobError.about(field, "job.no_place") from None
    return tomlkit.dumps(document)


def _put(node: Any, way: list[str], thing: Typed) -> None:
    """Walk down the way, making the containers that are missing, and put the thing at its end."""
    import tomlkit

    name, rest = way[0], way[1:]
    if isinstance(node, list):
        if rest:
            _put(node[int(name)], rest, thing)
        elif int(name) >= len(node):
            _hold_places(node, int(name), thing)
            in_brackets = isinstance(node, tomlkit.items.Array)
            held = (_within_a_line if in_brackets else _section)(thing) if isinstance(thing, dict) else thing
            node.append(held)
        else:
            node[int(name)] = thing
    elif not rest:
        node[name] = _section(thing) if isinstance(thing, dict) else thing
    elif name in node:
        _put(node[name], rest, thing)
    elif rest == ["0"]:
        lines = tomlkit.aot()
        lines.append(_section(thing))
        node[name] = lines if isinstance(thing, dict) else [thing]
    else:
        node[name] = tomlkit.table(is_super_table=True)
        _put(node[name], rest, thing)


def _hold_places(node: Any, before: int, thing: Typed) -> None:
    """Put empty texts where values of a line are left out before one that is given; sections are never left out."""
    if before > len(node) and (
        isinstance(thing, dict | list) or not node or isinstance(node[0], dict | list)
    ):
        raise IndexError(before)
    while len(node) < before:
        node.append("")


def with_values_at(text: str, values: Mapping[str, Typed]) -> str:
    """Change values that are there, whatever their kind, all at once; comments stay.

    Args:
        values: dotted place, such as ``as_made.holes.3``, to what stands there from now on.
    Raises:
        JobError: there is no such place.
    """
    import tomlkit

    if not values:
        return text
    document = tomlkit.parse(text)
    for field, value in values.items():
        try:
            node, at = holder_of(document, field)
            node[at] = value
        except NO_PLACE:
            raise JobError.about(field, "job.no_place") from None
    return tomlkit.dumps(document)


def _within_a_line(thing: Typed) -> Any:
    """A section in braces, for a list in brackets."""
    import tomlkit

    if not isinstance(thing, dict):
        return thing
    section = tomlkit.inline_table()
    for name, value in thing.items():
        section[name] = _within_a_line(value)
    return section


def _section(thing: Typed) -> Any:
    """A section that ends with an empty line."""
    import tomlkit

    section = tomlkit.table()
    if isinstance(thing, dict):
        plain = {name: value for name, value in thing.items() if not isinstance(value, dict)}
        for name, value in plain.items():
            section[name] = value
        section.add(tomlkit.nl())
        for name, value in thing.items():
            if name not in plain:
                section[name] = _section(value)
    return section


def taken(text: str, fields: Iterable[str]) -> str:
    """Take away fields, sections or lines of a list; what is not there is left alone.

    Comments after a section stay, as they may belong to the next.

    Args:
        fields: dotted places such as ``skin.measured``, ``doubler`` or ``rows.3``.
    """
    for field in fields:
        cut = _without_headed(text, field)
        text = _without_key(text, field) if cut is None else cut
    return text


def _without_headed(text: str, field: str) -> str | None:
    """Cut every block under a header of that name; None when no header has it."""
    lines = text.splitlines(keepends=True)
    headers = {at: key for key, at in line_of_each_key(text).items() if _HEADER.match(lines[at - 1])}
    starts = sorted(headers)
    going: set[int] = set()
    for index, start in enumerate(starts):
        key = headers[start]
        if key != field and not key.startswith(f"{field}."):
            continue
        end = starts[index + 1] - 1 if index + 1 < len(starts) else len(lines)
        while end > start and (not lines[end - 1].strip() or lines[end - 1].lstrip().startswith("#")):
            end -= 1
        if end < len(lines) and not lines[end].strip():
            end += 1
        going.update(range(start, end + 1))
    if not going:
        return None
    return "".join(line for at, line in enumerate(lines, start=1) if at not in going)


def _without_key(text: str, field: str) -> str:
    import tomlkit

    document = tomlkit.parse(text)
    try:
        node, at = holder_of(document, field)
        del node[at]
    except NO_PLACE:
        return text
    return tomlkit.dumps(document)


def without_lines(text: str, field: str, places: Collection[int]) -> str:
    """Take lines of a list away, each by its place in it; comments stay."""
    import tomlkit

    if not places:
        return text
    document = tomlkit.parse(text)
    section, name = holder_of(document, field)
    for place in sorted(places, reverse=True):
        del section[name][place]
    return tomlkit.dumps(document)


def relisted(text: str, field: str, values: Sequence[str | None]) -> str:
    """Change a list of texts at the top of the document value by value; it goes when none is left.

    Args:
        values: what each of its values becomes, None for one that goes.
    """
    import tomlkit

    document = tomlkit.parse(text)
    listed: Any = document[field]
    for index in reversed(range(len(values))):
        if values[index] is None:
            del listed[index]
        elif values[index] != listed[index]:
            listed[index] = values[index]
    if not listed:
        del document[field]
    return tomlkit.dumps(document)
