"""R104, R105, R214: rows too far from an edge, and whether edge and spacing still hold with the next rivet size."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from hatchwright.errors import TableError
from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status, judge_at_least, judge_at_most
from hatchwright.layout.layout import Hole, Spacing
from hatchwright.layout.survey import EdgeDistances, Survey
from hatchwright.register import Shelf
from hatchwright.rules.answer import against, in_words
from hatchwright.rules.rule import rule
from hatchwright.rules.wording import holes_named, inch, is_flush, short_text
from hatchwright.rules.worst import least_sure, worst
from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction
from hatchwright.tables.rivets import next_rivet_diameter
from hatchwright.workings import Grade, Quantity, Source


def _riveted_edges(survey: Survey) -> Iterator[tuple[EdgeDistances, npt.NDArray[np.intp]]]:
    """Edges with the rivets through their part."""
    for row in survey.distinct_edges():
        rivets = np.flatnonzero([hole.kind == "rivet" for hole in row.holes])
        if len(rivets):
            yield row, rivets


@rule("R104", Shelf.KNOW, limits=("edge_max",), reads=("distinct_edges", "mount"), marks_holes=True)
def longest_edge_distance(survey: Survey) -> Iterator[Finding]:
    """R104: edge distance, longest."""
    if survey.layout.job.mount:
        return
    most = survey.limit("edge_max")
    for row, rivets in _riveted_edges(survey):
        if row.edge.name == "doubler inner edge":
            continue
        closest = int(rivets[np.argmin(row.distance_in[rivets])])
        hole, distance_in = row.holes[closest], float(row.distance_in[closest])
        limit_in, u_in = most.value * hole.diameter_in, float(row.uncertainty_in[closest])
        status = judge_at_most(distance_in, limit_in, uncertainty=u_in, over=Status.CAUTION)
        yield against(
            "R104",
            status,
            f"nearest row to the {row.edge.name} ({row.part.name}), closest at {holes_named(hole)}",
            value=distance_in,
            limit=limit_in,
            unit="in",
            cited=most,
            formula=f"e <= {most.value:g} D",
            values=(Quantity("D", hole.diameter_in, "in"), Quantity("e", distance_in, "in")),
            advice="" if status is Status.PASS else "The edge may lift: move the row out, or trim the part.",
            holes=(hole.number,),
            place=(hole.x_in, hole.y_in),
            shortfall=distance_in - limit_in,
            uncertainty=u_in,
        )


def next_sizes(survey: Survey) -> dict[str, float]:
    """The next standard size for each rivet of a layout.

    Returns:
        dict: part number to diameter [in]; without rivets that have no larger size.
    """
    found: dict[str, float] = {}
    for hole in {hole.fastener: hole for hole in survey.layout.holes_of("rivet")}.values():
        try:
            found[hole.fastener] = next_rivet_diameter(hole.diameter_in, above=True).value
        except TableError:
            continue
    return found


_NO_LARGER = Instruction(
    "a spoilt hole takes the next size of rivet only where there is one",
    Source("PRACTICE", "the next size of rivet"),
    Grade.PRACTICE,
)


@rule(
    "R105",
    Shelf.KNOW,
    limits=("edge_min_single_row_protruding", "edge_min_countersunk"),
    rests_on=(_NO_LARGER,),
    reads=("distinct_edges", "holes"),
    marks_holes=True,
    step="drill",
)
def edge_distance_at_next_size(survey: Survey) -> Iterator[Finding]:
    """R105: edge distance at the next rivet size."""
    sizes = next_sizes(survey)
    protruding = survey.limit("edge_min_single_row_protruding")
    flush = survey.limit("edge_min_countersunk")

    def least(hole: Hole) -> float:
        ratio = flush.value if is_flush(hole) else protruding.value
        return ratio * sizes[hole.fastener]

    def judged(row: EdgeDistances, i: int, margins_in: npt.NDArray[np.float64]) -> Finding:
        hole, distance_in, u_in = row.holes[i], float(row.distance_in[i]), float(row.uncertainty_in[i])
        cited, next_in = flush if is_flush(hole) else protruding, sizes[hole.fastener]
        status = judge_at_least(distance_in, least(hole), uncertainty=u_in, short=Status.CAUTION)
        missing_in, short_of = least(hole) - distance_in, int(np.sum(margins_in < -FLOAT_NOISE))
        return against(
            "R105",
            status,
            f"{holes_named(hole)} to {row.edge.name} ({row.part.name}) with the next size, {inch(next_in)} in",
            value=distance_in,
            limit=least(hole),
            unit="in",
            cited=cited,
            formula=f"e >= {cited.value:g} D of the next size",
            values=(Quantity("D next", next_in, "in"), Quantity("e", distance_in, "in")),
            advice=""
            if status is Status.PASS
            else f"{short_text(missing_in, u_in)} {short_of} of {len(margins_in)} holes here could not take the next "
            "size: if one is spoilt, ask for data.",
            holes=(hole.number,),
            place=(hole.x_in, hole.y_in),
            shortfall=missing_in,
            uncertainty=u_in,
        )

    largest = [hole for hole in survey.layout.holes_of("rivet") if hole.fastener not in sizes]
    if largest:
        yield in_words(
            "R105",
            Status.CAUTION,
            f"{holes_named(*largest)}: no larger rivet is in the tables",
            _NO_LARGER,
            advice="A spoilt hole there cannot take the next size: ask for data.",
            holes=tuple(hole.number for hole in largest),
        )
    for row, all_rivets in _riveted_edges(survey):
        rivets = [i for i in all_rivets.tolist() if row.holes[i].fastener in sizes]
        if rivets:
            margins_in = row.distance_in[rivets] - np.array([least(row.holes[i]) for i in rivets])
            chosen = least_sure(margins_in, row.uncertainty_in[rivets])
            yield worst(judged(row, rivets[k], margins_in) for k in chosen)


@rule(
    "R214",
    Shelf.KNOW,
    limits=("pitch_min_single_row",),
    reads=("holes", "near"),
    marks_holes=True,
    step="drill",
)
def spacing_at_next_size(survey: Survey) -> Iterator[Finding]:
    """R214: spacing at the next rivet size."""
    sizes, least = next_sizes(survey), survey.limit("pitch_min_single_row")
    pairs = [
        (pair, least.value * max(sizes[pair.first.fastener], sizes[pair.second.fastener]))
        for pair in survey.near
        if pair.first.fastener in sizes and pair.second.fastener in sizes
    ]
    if not pairs:
        return
    short_of = sum(found.distance_in < needed_in - FLOAT_NOISE for found, needed_in in pairs)
    chosen = least_sure(
        [found.distance_in - needed_in for found, needed_in in pairs],
        [found.uncertainty_in for found, _ in pairs],
    )
    yield worst(_at_next_size(*pairs[k], least, short_of) for k in chosen)


def _at_next_size(pair: Spacing, limit_in: float, least: Cited, short_of: int) -> Finding:
    status = judge_at_least(pair.distance_in, limit_in, uncertainty=pair.uncertainty_in, short=Status.CAUTION)
    return against(
        "R214",
        status,
        f"{holes_named(pair.first, pair.second)} with the next size",
        value=pair.distance_in,
        limit=limit_in,
        unit="in",
        cited=least,
        formula=f"p >= {least.value:g} D of the next size",
        values=(
            Quantity("D next", limit_in / least.value, "in"),
            Quantity("p", pair.distance_in, "in"),
        ),
        advice=""
        if status is Status.PASS
        else f"{short_text(limit_in - pair.distance_in, pair.uncertainty_in)} {short_of} pairs could not take the "
        "next size: if a hole is spoilt, ask for data.",
        holes=(pair.first.number, pair.second.number),
        place=pair.middle,
        shortfall=limit_in - pair.distance_in,
        uncertainty=pair.uncertainty_in,
    )
