"""The limits of a proposal that may be moved: whose each is, how far it makes sense, and how it is told and entered.

None is moved out of sense: a clearance ends at nothing, an edge distance at 1.5D, a pitch at 3D, rivets at half of
those asked for, an opening at half its size. A published limit that is moved is no limit that is met: it is what an
engineer or the design approval holder would have to show.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.layout.layout import Layout
from hatchwright.remedy import EntryChange, PartChange
from hatchwright.rules.rivets_per_inch import asked_per_inch
from hatchwright.said import Amount, Said, inch, missing, room, said
from hatchwright.search.proposal.conflict_asked import Asked, Question, Scope
from hatchwright.search.proposal.conflict_sets import Movable
from hatchwright.search.proposal.ring import Shape
from hatchwright.search.proposal.values import Whose
from hatchwright.tables.rivet_part import RivetPart, parse_rivet
from hatchwright.units import MM_PER_IN

LEAST_EDGE_D = 1.5
"""An edge distance under it is no proposal to an engineer either [D]. Common practice, no source."""

LEAST_PITCH_D = 3.0
"""No reading asks for less [D]. Source: [NAVEDTRA-14018], ch. 13; [TM-10-5410-229-13P], par. 5-6(3)(b)."""

MOST_SHORT_HOLES = 10.0
"""Short holes in a hundred jobs that a shop might still accept [-]. Own choice, no source."""

_CLEAR_STEP_IN = 0.001
_RATIO_STEP_D = 0.01
_LOOKED_THROUGH = 20
"""A ring may need a little less at a larger opening, where its rows divide better: so many steps above the opening that
halving finds are asked one by one [-]."""

_FARTHEST_IN = 1.0
"""A center is not moved farther than this from where it was wanted [in]. Own choice, no source."""


class Limit(Struct, frozen=True):
    """One limit that may be moved.

    Args:
        name: a noun phrase of it.
        from_: where it stands.
        to: where it stands so many stops on.
        entered: what is typed to move it there, None where nothing that can be typed does.
    """

    whose: Whose
    name: Said
    movable: Movable[Asked]
    from_: Amount
    to: Callable[[int], Amount]
    entered: Callable[[int], EntryChange | PartChange | None]

    @property
    def key(self) -> str:
        """For programs."""
        return self.movable.key


def limits_for(question: Question, asked: Asked, scope: Scope) -> tuple[Limit, ...]:
    """Every limit that has to do with a scope, what is hardest to move first."""
    return tuple(_limits(question, asked, scope))


def _limits(question: Question, asked: Asked, scope: Scope) -> Iterator[Limit]:
    layout = question.layout
    is_placed = scope in (Scope.X, Scope.Y, Scope.ALL)
    if is_placed:
        yield from _clearance(layout)
    yield from _edge(question, asked)
    yield from _pitch(question, asked)
    yield from _count(question, asked)
    yield from _shelf(layout, asked)
    yield from _rows(asked)
    yield from _kept(layout, asked)
    if asked.is_through and scope in (Scope.THROUGH, Scope.ALL):
        yield from _through(question, asked)
    if is_placed:
        yield from _place(question, asked)
    if scope is not Scope.ROWS:
        yield from _size(question, asked, scope)


def is_mandated(layout: Layout) -> bool:
    """Whether somebody else gave size and place of the opening."""
    mandate = layout.job.mandate
    return mandate.kind != "owner" or bool(mandate.opening_x or mandate.opening_y)


def _clearance(layout: Layout) -> Iterator[Limit]:
    clear_in = layout.limit("clearance_to_adjacent_structure").value
    stops = math.floor(clear_in / _CLEAR_STEP_IN + 1e-9)
    if stops and layout.job.bay.flanges:
        yield Limit(
            "published",
            said("conflict.limit.clearance"),
            Movable(
                "clearance", stops, lambda asked, stop: replace(asked, clear_cut_in=stop * _CLEAR_STEP_IN)
            ),
            inch(clear_in),
            lambda stop: room(max(0.0, clear_in - stop * _CLEAR_STEP_IN)),
            _nothing,
        )


def _edge(question: Question, asked: Asked) -> Iterator[Limit]:
    limits = question.problem(asked).asked[0].kind.limits
    least_d = limits.edge_in / limits.diameter_in
    stops = math.floor((least_d - LEAST_EDGE_D) / _RATIO_STEP_D + 1e-9)
    if stops > 0:
        yield Limit(
            "published",
            said("conflict.limit.edge"),
            Movable("edge", stops, lambda asked, stop: replace(asked, edge_cut_d=stop * _RATIO_STEP_D)),
            Amount(least_d, "D"),
            lambda stop: Amount(least_d - stop * _RATIO_STEP_D, "D"),
            _nothing,
        )


def _pitch(question: Question, asked: Asked) -> Iterator[Limit]:
    limits = question.problem(asked).asked[0].kind.limits
    least_d = limits.pitch_in[1] / limits.diameter_in
    stops = math.floor((least_d - LEAST_PITCH_D) / _RATIO_STEP_D + 1e-9)
    if stops > 0 and asked.most_rows > 1:
        yield Limit(
            "published",
            said("conflict.limit.pitch"),
            Movable("pitch", stops, lambda asked, stop: replace(asked, pitch_cut_d=stop * _RATIO_STEP_D)),
            Amount(least_d, "D"),
            lambda stop: Amount(least_d - stop * _RATIO_STEP_D, "D"),
            _nothing,
        )


def _count(question: Question, asked: Asked) -> Iterator[Limit]:
    needed = max(max(one.kind.limits.needed) for one in question.problem(asked).asked)
    if stops := needed // 2:
        yield Limit(
            "published",
            said("conflict.limit.count"),
            Movable("count", stops, lambda asked, stop: replace(asked, fewer=stop)),
            Amount(needed, ""),
            lambda stop: Amount(needed - stop, ""),
            _nothing,
        )


def _shelf(layout: Layout, asked: Asked) -> Iterator[Limit]:
    """Each next size of the rivets there are, one at a time: it would have to be got."""
    parts = [parse_rivet(rivet) for rivet in asked.rivets]
    for part in parts[:1]:
        for steps in (-1, 1):
            other = _next_size(layout, part, steps)
            if other is None or other in asked.rivets:
                continue
            more = (*asked.rivets, other)
            yield Limit(
                "shop",
                said("conflict.limit.shelf", rivet=other),
                Movable(f"shelf {other}", 1, _with_rivets(more)),
                Amount(len(asked.rivets), ""),
                lambda stop, more=more: Amount(len(more), ""),  # type: ignore[misc]
                lambda stop, more=more: PartChange("wish.rivets", list(more)),  # type: ignore[misc]
            )


def _with_rivets(rivets: tuple[str, ...]) -> Callable[[Asked, int], Asked]:
    return lambda asked, stop: replace(asked, rivets=rivets)


def _next_size(layout: Layout, part: RivetPart, steps: int) -> str | None:
    """The next smaller or larger rivet that the tables count and that bears in the skin; None where there is none."""
    sizes = part.series.diameters
    at = sizes.index(part.diameter) + steps
    if not 0 <= at < len(sizes):
        return None
    other = replace(part, diameter=sizes[at])
    share = layout.job.skin.thickness.inch / other.diameter_in
    if share < layout.limit("t_over_d_min_for_bearing_allowables").value:
        return None
    if other.diameter_in < layout.limit("diameter_min_structural").value - 1e-9:
        return None
    try:
        return str(other) if asked_per_inch(layout, other.diameter_in) else None
    except HatchwrightError:
        return None


def _rows(asked: Asked) -> Iterator[Limit]:
    if asked.most_rows == 1:
        yield Limit(
            "shop",
            said("conflict.limit.rows"),
            Movable("rows", 1, lambda asked, stop: replace(asked, most_rows=2)),
            Amount(1, ""),
            lambda stop: Amount(2, ""),
            lambda stop: EntryChange("wish.most_rows", "1", "2"),
        )


def _kept(layout: Layout, asked: Asked) -> Iterator[Limit]:
    own = asked.short_holes
    stops = math.floor(MOST_SHORT_HOLES - own)
    if layout.job.scatter is None or stops < 1:
        return
    yield Limit(
        "shop",
        said("conflict.limit.short_holes"),
        Movable("short_holes", stops, lambda asked, stop: replace(asked, short_holes=own + stop)),
        Amount(own, ""),
        lambda stop: Amount(own + stop, ""),
        lambda stop: EntryChange("wish.short_holes", layout.job.wish.short_holes.text, f"{own + stop:g}"),
    )


def _through(question: Question, asked: Asked) -> Iterator[Limit]:
    left = [
        {name: getattr(size, "text", size) for name, size in one.model_dump(exclude_none=True).items()}
        for one in question.layout.job.wish.passes
        if one.what != "ring"
    ]
    shape, narrowest = asked.shape, question.narrowest(asked)
    ring_in = narrowest.width_in if narrowest is not None else 0.0
    across_in = min(shape.width_in, shape.height_in) + 2.0 * ring_in
    yield Limit(
        "shop",
        said("conflict.limit.through"),
        Movable("through", 1, lambda asked, stop: replace(asked, is_through=False)),
        room(shape.longest_chord_in),
        lambda stop: missing(across_in),
        lambda stop: PartChange("wish.passes", left or None),
    )


def _place(question: Question, asked: Asked) -> Iterator[Limit]:
    layout, step_in = question.layout, question.problem(asked).step_in
    stops = math.floor((_FARTHEST_IN - asked.shift_in) / step_in + 1e-9)
    if stops < 1:
        return
    own_in, wish = asked.shift_in, layout.job.wish
    mandated = is_mandated(layout)
    yield Limit(
        "mandate" if mandated else "drawing",
        said("conflict.limit.place"),
        Movable("place", stops, lambda asked, stop: replace(asked, shift_in=own_in + stop * step_in)),
        inch(own_in),
        lambda stop: inch(own_in + stop * step_in),
        lambda stop: (
            None
            if mandated
            else EntryChange(
                "wish.shift", wish.shift.text if wish.shift else "", typed(layout, own_in + stop * step_in)
            )
        ),
    )


def _size(question: Question, asked: Asked, scope: Scope) -> Iterator[Limit]:
    """Along the axis that a conflict lies on: the smaller size for a way through, both in the same shape for all."""
    shape = asked.shape
    axes = {Scope.X: (0,), Scope.Y: (1,), Scope.ALL: (0, 1)}.get(
        scope, (0,) if shape.width_in <= shape.height_in else (1,)
    )
    if shape.is_round:
        axes = (0, 1)
    yield from size_limits(question, asked, axes)


def size_limits(question: Question, asked: Asked, axes: tuple[int, ...]) -> Iterator[Limit]:
    """The size along one axis, or along both in the same shape.

    Args:
        axes: 0 for X, 1 for Y.
    """
    layout, shape, step_in = question.layout, asked.shape, question.problem(asked).step_in
    sizes = (shape.width_in, shape.height_in)
    lead = max(axes, key=lambda axis: sizes[axis])
    least_in = max(
        sizes[lead] / 2.0, 0.0 if shape.is_round else 2.0 * shape.radius_in * sizes[lead] / min(sizes)
    )
    stops = math.floor((sizes[lead] - least_in) / step_in - 1e-9)
    if stops < 1:
        return

    def at(asked: Asked, stop: int) -> Asked:
        return replace(asked, shape=smaller(shape, axes, stop, step_in))

    def size(stop: int, axis: int) -> float:
        made = smaller(shape, axes, stop, step_in)
        return (made.width_in, made.height_in)[axis]

    mandated = is_mandated(layout)
    names = ("width", "height")
    for axis in axes:
        key = "size" if len(axes) > 1 else names[axis]
        yield Limit(
            "mandate" if mandated else "drawing",
            said(f"conflict.limit.{names[axis]}"),
            Movable(key, stops, at, _LOOKED_THROUGH),
            inch(sizes[axis]),
            lambda stop, axis=axis: room(size(stop, axis)),  # type: ignore[misc]
            lambda stop, axis=axis: None if mandated else sized(layout, axis, size(stop, axis), "from"),  # type: ignore[misc]
        )


def smaller(shape: Shape, axes: tuple[int, ...], stop: int, step_in: float) -> Shape:
    """An opening so many steps smaller along the greater of some axes, along the other in the same shape and on the
    step below it."""
    sizes = [shape.width_in, shape.height_in]
    lead = max(axes, key=lambda axis: sizes[axis])
    share = (sizes[lead] - stop * step_in) / sizes[lead]
    for axis in axes:
        sizes[axis] = math.floor(sizes[axis] * share / step_in + 1e-6) * step_in
    radius_in = sizes[0] / 2.0 if shape.is_round else shape.radius_in
    return replace(shape, width_in=sizes[0], height_in=sizes[1], radius_in=radius_in)


def sized(layout: Layout, axis: int, size_in: float, end: Literal["from", "to"]) -> EntryChange:
    """Another size of the opening: of its range where the wish gives that end of one, else as drawn.

    Args:
        axis: 0 for its width, 1 for its height; of a circle either is its diameter.
        end: which end of a range.
    """
    name, new = ("width", "height")[axis], typed(layout, size_in)
    wished = getattr(layout.job.wish, f"{name}_{end}")
    if wished is not None:
        return EntryChange(f"wish.{name}_{end}", wished.text, new)
    opening = layout.job.opening
    field = name if hasattr(opening, name) else "diameter"
    return EntryChange(f"opening.{field}", getattr(opening, field).text, new)


def typed(layout: Layout, length_in: float) -> str:
    """A length as it is typed into the job."""
    of_unit = MM_PER_IN if layout.job.unit == "mm" else 1.0
    return f"{length_in * of_unit:.4f}".rstrip("0").rstrip(".")


def _nothing(stop: int) -> None:
    """Nothing that can be typed moves it."""
