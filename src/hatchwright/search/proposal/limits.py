"""What one rivet in one sheet is held to, each limit from the tables and by the reading that the job chose."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from hatchwright.errors import GeometryError, TableError
from hatchwright.layout.cut_side import COUNT_RULE, CountReading
from hatchwright.layout.layout import Layout
from hatchwright.layout.row_spacing import FARTHEST_DIAMETERS
from hatchwright.making.making import making_of
from hatchwright.rules.edge_distance import least_edges
from hatchwright.rules.heads_and_edges import HEAD_RATIO
from hatchwright.rules.rivets_per_inch import asked_per_inch, rivets_needed
from hatchwright.rules.spacing import DOUBLE_ROW_READINGS, ROW_SPACING_READINGS
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.risk.errors import Play
from hatchwright.search.risk.margin import kept_for_drilling
from hatchwright.search.risk.play import play_of
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.tables.cited import Cited
from hatchwright.tables.rivet_part import parse_rivet

_CHORD_IN = 1e-4
_LEAST = 1e-9
"""So few short holes are asked for by none [-]."""


class RowLimits(Struct, frozen=True):
    """The limits of rows of one rivet, all lengths without what is kept for drilling.

    Args:
        rivet: part number without its length.
        edge_in: least distance of a hole from either edge.
        begin_in: least distance of a row from the opening's edge, that its heads do not lie under a cover.
        edge_most_in: greatest distance from the opening's edge of the row beside it, from the edge of a lapped
            cover where its screws clamp it there.
        outer_most_in: the same from the doubler's outer edge.
        apart_in: least distance of any two holes.
        pitch_in: least pitch of one row, and of each of two.
        pitch_most_in: greatest pitch.
        between_in: least row spacing, square to the rows.
        overlap_in: least ring of two rows.
        reach_in: rows farther apart than this are no pattern.
        stagger: least share of a pitch from a rivet to the nearest of the other row along it [-].
        needed: rivets asked for on a side toward X, and toward Y.
        by_half: whether all rivets of the half count there, else those ahead of the edge.
        kept_in: what is kept for errors of drilling and filing on every edge and row spacing.
    """

    rivet: str
    diameter_in: float
    is_flush: bool
    edge_in: float
    begin_in: float
    edge_most_in: float
    outer_most_in: float
    apart_in: float
    pitch_in: tuple[float, float]
    pitch_most_in: float
    between_in: float
    overlap_in: float
    reach_in: float
    stagger: float
    needed: tuple[int, int]
    by_half: tuple[bool, bool]
    kept_in: float


def limits_of(layout: Layout, shape: Shape, rivet: str, kept_in: float) -> RowLimits:
    """The limits of rows of one rivet round an opening.

    Args:
        kept_in: see `RowLimits`.
    Raises:
        EntryError: no table lists the rivet.
    """
    part = parse_rivet(rivet)
    d_in, flush = part.diameter_in, part.is_flush
    limit = layout.limit

    def times(key: str) -> float:
        return limit(key).value * d_in

    cover_in = cover_reach_in(layout)
    circular, navy = DOUBLE_ROW_READINGS
    two = {circular: limit("pitch_min_double_row"), navy: limit("pitch_min_absolute")}
    one_row_in, two_rows_in = times("pitch_min_single_row"), _read(layout, "R202", two).value * d_in
    if flush:
        one_row_in = max(one_row_in, times("pitch_min_countersunk_single_row"))
        two_rows_in = max(two_rows_in, times("pitch_min_countersunk_double_row"))
    manual, figure = ROW_SPACING_READINGS
    between = {manual: limit("transverse_pitch_min"), figure: limit("transverse_pitch_min_fig4_5")}
    return RowLimits(
        rivet=rivet,
        diameter_in=d_in,
        is_flush=flush,
        edge_in=_read(layout, "R102" if flush else "R101", least_edges(limit, flush=flush)).value * d_in,
        begin_in=0.0 if flush or not cover_in else cover_in + HEAD_RATIO.value * d_in / 2.0,
        edge_most_in=times("edge_max") + (cover_in if is_clamped(layout) else 0.0),
        outer_most_in=times("edge_max"),
        apart_in=times("pitch_min_single_row"),
        pitch_in=(one_row_in, two_rows_in),
        pitch_most_in=times("pitch_usual_max"),
        between_in=_read(layout, "R204", between).value * d_in,
        overlap_in=times("min_overlap_double_row"),
        reach_in=FARTHEST_DIAMETERS * d_in,
        stagger=limit("stagger_rows").value,
        needed=rivets_asked(layout, shape, d_in),
        by_half=count_by_half(layout, shape),
        kept_in=kept_in,
    )


def _read(layout: Layout, rule: str, readings: Mapping[str, Cited]) -> Cited:
    """The figure of the reading that the job chose, else of the default."""
    choice = layout.job.choice(rule)
    default = next(iter(readings.values()))
    return readings.get(choice.reading, default) if choice else default


def cover_reach_in(layout: Layout) -> float:
    """How far from the opening's edge a lapped cover reaches, that its screws hold down on the skin; 0 without [in]."""
    cover, part = layout.job.cover, layout.part("cover")
    if cover is None or part is None or cover.fit != "lapped":
        return 0.0
    outline = part.edges[0].loop.points(_CHORD_IN)
    return float(distances(Profile((layout.wanted,)), outline).distance_in.max())


def is_clamped(layout: Layout) -> bool:
    """Whether screws through the skin hold its edge down at the opening."""
    return any("skin" in hole.stack for hole in layout.holes_of("screw"))


def rivets_asked(layout: Layout, shape: Shape, diameter_in: float) -> tuple[int, int]:
    """Rivets that the circular asks for on a side toward X and on one toward Y: by the reading that the job chose, by
    every reading where it chose none; one where there is no table, by which nothing can be shown [-].

    Args:
        diameter_in: of the rivets [in].
    """
    try:
        asked = asked_per_inch(layout, diameter_in)
    except TableError:
        asked = ()
    choice = layout.job.choice("R601")
    chosen = tuple(one for one in asked if choice and one.name == choice.reading)
    x, y = (
        max((int(rivets_needed(cut_in, one.per_inch, one.note)) for one in chosen or asked), default=1)
        for cut_in in shape.cut_in
    )
    return x, y


def count_by_half(layout: Layout, shape: Shape) -> tuple[bool, bool]:
    """Whether all rivets of the half count on a side toward X, and toward Y: the job's choice, else where no straight
    edge lies."""
    choice = layout.job.choice(COUNT_RULE)
    if choice and choice.reading in tuple(CountReading):
        is_half = choice.reading == CountReading.HALF
        return is_half, is_half
    along_x, along_y = shape.has_straight
    return not along_x, not along_y


def kept_in(layout: Layout, shape: Shape, holes: int) -> float:
    """What is kept on every edge for the shop's own scatter, so that no more holes come out short than are accepted;
    0 where none was entered [in].

    Args:
        holes: that may come out short, no fewer than are drilled.
    Method: docs/theory/proposal.md, eq. 7: m = z s, z = Phi^-1(1 - N / (100 holes)).
    """
    scatter = layout.job.scatter
    if scatter is None:
        return 0.0
    lever_in = max(shape.width_in, shape.height_in) / 2.0
    spoilt = max(float(layout.job.wish.short_holes), _LEAST)
    return kept_for_drilling(scatter, spoilt, holes, lever_in=lever_in, play=_play(layout))


def _play(layout: Layout) -> Play | None:
    """Of the template's pins by the job as it is; None where it is not asked for, or not known."""
    scatter, template = layout.job.scatter, layout.job.template
    is_entered = scatter is None or (scatter.placement is not None and scatter.turn is not None)
    if is_entered or template is None or template.pin_clearance is None:
        return None  # a plan of pins takes longer than a whole search
    try:
        return play_of(making_of(layout))
    except GeometryError:
        return None
