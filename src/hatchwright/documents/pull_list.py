"""The pull list: what the store gives out for a set of jobs, alike parts added up, with spares for all together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.documents.csv_table import Cell, csv_from
from hatchwright.documents.lists import COLUMNS, Lists, plain_length
from hatchwright.documents.paper_head import head_without_job
from hatchwright.documents.typst_pdf import Part
from hatchwright.drawings.page_frame import aircraft_words, side_word
from hatchwright.recipe.spares import Ordered, spares_for
from hatchwright.said import Listed, Value, inch, said
from hatchwright.tables.table import ShopTables
from hatchwright.units import Unit
from hatchwright.words.of_job import in_words_of
from hatchwright.words.tell import tell

_HEADINGS = {
    "hardware": (
        "hardware", "item", "number", "description", "need", "spare", "order", "on_hand", "to_get", "for_jobs",
    ),
    "blanks": ("blanks", "part", "sheet", "along_x", "along_y", "grain", "need", "for_jobs"),
    "tools": ("tools_at_once", "tool", "count", "for_jobs"),
}  # fmt: skip


_JOBS_ON_PAPER = 12
"""More jobs than this are counted on the line of a part. Own choice, no source [-]."""


class PulledJob(Struct, frozen=True):
    """One side of one job, by a short name."""

    name: str
    lists: Lists


class Pulled(Ordered, frozen=True):
    """What several jobs take of one thing.

    Args:
        cells: what tells it from others, in words.
        sizes_in: gauge, and size along X and Y, of a blank [in].
        jobs: which take it, and how many each.
        on_hand: how many are on hand; None where nobody counted.
    """

    cells: tuple[str, ...]
    sizes_in: tuple[float | None, ...]
    jobs: tuple[tuple[str, int | None], ...]
    on_hand: int | None = None

    @property
    def for_jobs(self) -> tuple[str, ...]:
        """The jobs with their counts."""
        return tuple(name if count is None else f"{name} {count}" for name, count in self.jobs)

    @property
    def to_get(self) -> int:
        """What is to be got beside what is on hand; all of it where nobody counted."""
        return max(0, self.order - (self.on_hand or 0))


class PullList(Struct, frozen=True):
    """What a set of jobs takes.

    Args:
        unit: that all lengths are told in, of the first job.
        tools: the most that one job takes, for jobs that are done one after the other.
        is_counted: whether somebody counted what is on hand.
        unused: part numbers on hand that no job takes, as they were entered.
    """

    jobs: tuple[PulledJob, ...]
    unit: Unit
    hardware: tuple[Pulled, ...]
    blanks: tuple[Pulled, ...]
    tools: tuple[Pulled, ...]
    is_counted: bool = False
    unused: tuple[str, ...] = ()


class _Taken(NamedTuple):
    """What one job takes of one thing; `has_spares` says whether spares of it are kept."""

    cells: tuple[str, ...]
    job: str
    number: int | None
    sizes_in: tuple[float | None, ...] = ()
    has_spares: bool = False


def pull_list(
    jobs: Sequence[PulledJob], shop: ShopTables | None = None, *, on_hand: Mapping[str, int] | None = None
) -> PullList:
    """Add up what a set of jobs takes; one or more jobs.

    Args:
        on_hand: what is there already, by part number; None where nobody counted.
    """
    unit = jobs[0].lists.layout.job.unit
    hardware = sorted(_added(_hardware(jobs, unit), shop), key=lambda one: one.cells[0])
    there = {number.strip().upper(): count for number, count in (on_hand or {}).items()}
    there.pop(tell(said("lists.not_known")).upper(), None)  # nobody can tell whether it is that part
    used = {one.cells[1].upper() for one in hardware}
    return PullList(
        jobs=tuple(jobs),
        unit=unit,
        hardware=tuple(_with_stock(hardware, there)),
        is_counted=on_hand is not None,
        unused=tuple(
            number for number in (on_hand or {}) if number.strip().upper() not in used & there.keys()
        ),
        blanks=tuple(_added(_blanks(jobs, unit), shop)),
        tools=tuple(_added(_tools(jobs, unit), shop)),
    )


def _with_stock(hardware: Iterable[Pulled], there: Mapping[str, int]) -> Iterator[Pulled]:
    """Each line with what is on hand of its number: a second line of it has what the first leaves."""
    left = dict(there)
    for one in hardware:
        number = one.cells[1].upper()
        yield replace(one, on_hand=left.get(number))
        if number in left:
            left[number] = max(0, left[number] - one.order)


def _added(taken: Iterable[_Taken], shop: ShopTables | None) -> Iterator[Pulled]:
    """Alike things together, in the order in which they come first."""
    groups: dict[tuple[str, ...], list[_Taken]] = {}
    for one in taken:
        groups.setdefault(one.cells, []).append(one)
    for cells, each in groups.items():
        count = sum(one.number or 0 for one in each)
        spares = spares_for(count, shop) if any(one.has_spares for one in each) else 0
        yield Pulled(count, spares, cells, each[0].sizes_in, tuple((one.job, one.number) for one in each))


def _teller(lists: Lists, unit: Unit) -> Callable[[Value], str]:
    """What tells in the words of one job, and in the unit of the list."""
    kind = lists.layout.job.kind
    return lambda what: tell(in_words_of(kind, what), unit)


def _hardware(jobs: Sequence[PulledJob], unit: Unit) -> Iterator[_Taken]:
    """Parts of one number are one part, whatever else is said of them; where it is not known the words decide."""
    described: dict[str, dict[str, None]] = {}
    for job in jobs:
        for line in job.lists.hardware:
            if line.number:
                described.setdefault(line.number, {})[_teller(job.lists, unit)(line.description)] = None
    for job in jobs:
        told = _teller(job.lists, unit)
        for line in job.lists.hardware:
            words = told(line.description)
            if line.number and len(described[line.number]) > 1:
                words = ""  # told differently by the jobs, as by the grip: the number says it all
            number = line.number or told(said("lists.not_known"))
            yield _Taken((told(line.item), number, words), job.name, line.count, (), line.spares > 0)


def _blanks(jobs: Sequence[PulledJob], unit: Unit) -> Iterator[_Taken]:
    for job in jobs:
        told = _teller(job.lists, unit)
        for line in job.lists.blanks:
            sizes = (told(inch(one) if one is not None else said("lists.not_known")) for one in line.size_in)
            cells = (told(line.part), told(line.sheet), *sizes, told(line.grain))
            yield _Taken(cells, job.name, 1, (line.thickness_in, *line.size_in))


def _tools(jobs: Sequence[PulledJob], unit: Unit) -> Iterator[_Taken]:
    for job in jobs:
        told = _teller(job.lists, unit)
        for line in job.lists.counted:
            if line.group != "cut_out":
                yield _Taken((told(line.name),), job.name, line.count)


def _at_once(tool: Pulled) -> int | None:
    """The most that one job takes; None where nobody knows beforehand."""
    return max((count for _, count in tool.jobs if count is not None), default=None)


def pull_part(pulled: PullList, *, date: str) -> Part:
    """The pull list as a paper."""

    def told(what: Value) -> str:
        return tell(what, pulled.unit)

    uncounted = () if pulled.is_counted else ("on_hand", "to_get")
    names = [
        name
        for of, names in _HEADINGS.items()
        if getattr(pulled, of)
        for name in names
        if name not in uncounted
    ]
    return Part(
        "pull_list",
        {
            "head": head_without_job(
                side=said("pull.sides", n=len(pulled.jobs)),
                title=said("pull.title"),
                what=said("pull.of"),
                more=said("pull.not_judged"),
                date=date,
            ),
            "words": {name: told(said(f"lists.heading.{name}")) for name in ("job", "aircraft", *names)},
            "jobs": [[one.name, one.lists.layout.job.title, _aircraft(one)] for one in pulled.jobs],
            "is_counted": pulled.is_counted,
            "unused": _unused(pulled),
            "hardware": [[*one.cells, *_numbers(one, pulled), _on_paper(one)] for one in pulled.hardware],
            "blanks": [[*one.cells, str(one.count), _on_paper(one)] for one in pulled.blanks],
            "tools": [
                [*one.cells, "" if (most := _at_once(one)) is None else str(most), str(len(one.jobs))]
                for one in pulled.tools
            ],
        },
    )


def _numbers(one: Pulled, pulled: PullList) -> Iterator[str]:
    """Need, spare and order; what is on hand and what is to be got where somebody counted."""
    yield from map(str, (one.count, one.spares, one.order))
    if pulled.is_counted:
        yield "" if one.on_hand is None else str(one.on_hand)
        yield str(one.to_get)


def _unused(pulled: PullList) -> str:
    return tell(said("pull.unused", numbers=Listed(pulled.unused, ","))) if pulled.unused else ""


def _on_paper(one: Pulled) -> str:
    """The jobs as far as a line on paper takes them; the table has all."""
    shown = "; ".join(one.for_jobs[:_JOBS_ON_PAPER])
    more = len(one.jobs) - _JOBS_ON_PAPER
    return tell(said("pull.more", jobs=shown, n=more)) if more > 0 else shown


def _aircraft(one: PulledJob) -> str:
    job = one.lists.layout.job
    return f"{aircraft_words(job)} {side_word(job)}".strip()


def pull_csv(pulled: PullList) -> bytes:
    """The same as a table, for which jobs behind the prices; ExportError where it did not read back."""
    more = ("on_hand", "to_get") if pulled.is_counted else ()
    names = (*COLUMNS, "for_jobs", *more)
    headings = (tell(said(f"lists.column.{name}", unit=pulled.unit)) for name in names)
    return csv_from(tuple(headings), (row[: len(names)] for row in _csv_rows(pulled)))


def _csv_rows(pulled: PullList) -> Iterator[tuple[Cell, ...]]:
    hardware, blanks, tools = (tell(said(f"lists.of.{name}")) for name in ("hardware", "blanks", "tools"))
    for one in pulled.hardware:
        none = (None, None, None, "")
        yield (
            hardware,
            *one.cells,
            *none,
            one.count,
            one.spares,
            one.order,
            None,
            "; ".join(one.for_jobs),
            one.on_hand,
            one.to_get,
        )
    for one in pulled.blanks:
        part, sheet, *_, grain = one.cells
        sizes = (plain_length(size_in, pulled.unit) for size_in in one.sizes_in)
        yield (
            blanks,
            part,
            "",
            sheet,
            *sizes,
            grain,
            one.count,
            0,
            one.count,
            None,
            "; ".join(one.for_jobs),
            None,
            one.count,
        )
    for one in pulled.tools:
        counts = _at_once(one), None, None, None
        yield tools, *one.cells, "", "", None, None, None, "", *counts, "; ".join(one.for_jobs), None, None
