"""What the list says of one job: its verdict and worst points, or why it has none; nothing of its file name."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from msgspec import Struct, field
from msgspec.structs import asdict, replace

from hatchwright.errors import JobError
from hatchwright.job.schema import up_to_date
from hatchwright.judged import Status
from hatchwright.page.files_beside import outline_marks
from hatchwright.page.screen import Asked, ScreenView, screen
from hatchwright.said import said
from hatchwright.words.refusals import fault_sentences
from hatchwright.words.tell import tell
from hatchwright.words.verdict import headline, line_text, other_side_said

WORST_LINES = 3
"""Causes that are named below the verdict of a job."""

Head = tuple[Status, str]
"""A verdict in one sentence."""
Point = tuple[Status, str, tuple[str, ...]]
"""A cause or a fault: its words, and its codes."""


class JobLine(Struct, frozen=True):
    """One job of the list, as far as it has been judged.

    Args:
        about: id of the sentence below the title; it may name the file, and the registration, surface and revision.
        title: "" where it has none.
        side: LEFT, RIGHT or CENTER, "" where it is not known.
        heads: the verdict on this side, and on the other where both get the opening; none of a job that is not sound.
        points: the worst.
        more: how many more points there are.
        lacks_strength: whether its strength was asked for and is not analyzed yet.
        beside: content of each file beside it that its text names, see `files_beside.content_mark`.
    """

    about: str
    title: str = ""
    side: str = ""
    registration: str = ""
    surface: str = ""
    revision: str = ""
    heads: tuple[Head, ...] = ()
    points: tuple[Point, ...] = ()
    more: int = 0
    lacks_strength: bool = False
    beside: Mapping[str, str] = field(default_factory=dict)

    def packed(self) -> str:
        """The line as JSON."""
        return json.dumps(asdict(self))

    @classmethod
    def unpacked(cls, text: str) -> JobLine | None:
        """The line of its JSON, None where that is none."""
        try:
            given: dict[str, Any] = json.loads(text)
            heads = tuple((Status(status), str(words)) for status, words in given.pop("heads"))
            points = tuple(
                (Status(status), str(words), tuple(map(str, codes)))
                for status, words, codes in given.pop("points")
            )
            return cls(**given, heads=heads, points=points)
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
            return None


def job_line(asked: Asked, with_strength: bool = True) -> JobLine:
    """Judge a job for the list.

    Args:
        asked: its text of any schema.
        with_strength: whether to analyze its strength too where it names loads, which takes many times as long.
    """
    asked = replace(asked, text=up_to_date(asked.text))
    beside: dict[str, str] = {}
    try:
        beside = outline_marks(asked)  # before they are read: what changes meanwhile is noticed
        line = _line_of(screen(asked, drawn=False, with_other=True, with_strength=with_strength))
    except JobError as error:
        line = refused_line(error)
    return replace(line, beside=beside)


def refused_line(error: JobError) -> JobLine:
    """What the list says of a file that cannot be read as a job."""
    return _with_points(JobLine("page.not_a_job"), [(Status.STOP, str(fault), ()) for fault in error.faults])


def _line_of(view: ScreenView) -> JobLine:
    verdict, unit, title = view.verdict, view.unit, str(view.data.get("title") or "")
    points: list[Point] = []
    if verdict is None:
        for fault in view.faults:
            named = view.sheet.name_of(fault.field)
            told = said("page.label_of_fault", field=named, fault=fault_sentences(fault))
            points.append((Status.STOP, tell(told), ()))
        return _with_points(JobLine("page.not_sound", title, view.side), points)
    points += [(line.status, line_text(line, unit), line.codes) for line in verdict.open_lines]
    if missing := verdict.to_enter:
        codes = tuple(dict.fromkeys(code for one in missing for code in one.codes))
        points.append((missing[0].status, tell(said("page.to_enter", n=len(missing))), codes))
    heads = [(verdict.status, tell(headline(verdict), unit))]
    if view.other:
        heads.append((view.other.status, tell(other_side_said(view.other), unit)))
    points.sort(key=lambda point: point[0].severity)
    aircraft = view.data.get("aircraft", {})
    registration = str(aircraft.get("registration") or "")
    line = JobLine(
        "page.about" if registration else "page.about_unnamed",
        title,
        view.side,
        registration,
        surface=str(aircraft.get("surface", "")),
        revision=str(view.data.get("revision", "A")),
        heads=tuple(heads),
        lacks_strength=verdict.awaits_strength,
    )
    return _with_points(line, points)


def _with_points(line: JobLine, points: Iterable[Point]) -> JobLine:
    told = tuple(points)
    return replace(line, points=told[:WORST_LINES], more=len(told[WORST_LINES:]))
