"""What a way out does to everything else: answers that change, holes and metal, weight."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE
from hatchwright.layout.layout import Hole, Layout, PartName
from hatchwright.layout.mass import weight_change
from hatchwright.search.changed_findings import ChangedFinding
from hatchwright.search.no_worse import Key
from hatchwright.search.trial import Passed


class HoleChange(Struct, frozen=True):
    """One hole: the fastener and the place that it gets, or had; None where it is new, or gone.

    Args:
        old: fastener, x, y and measured diameter [in].
        new: the same.
    """

    number: int
    old: tuple[str, float, float, float | None] | None
    new: tuple[str, float, float, float | None] | None


class SheetChange(Struct, frozen=True):
    """Metal of one sheet that comes to it, negative where it goes [sq in]."""

    part: PartName
    area_sq_in: float


class Effects(Struct, frozen=True):
    """What changes.

    Args:
        answers: causes whose worst answer is another, what does not pass first.
        weight_lb: on this side, negative where it gets lighter; None where something can't be weighed [lb].
        weight_u_lb: by how much that may be out [lb].
    """

    answers: tuple[ChangedFinding, ...]
    holes: tuple[HoleChange, ...]
    sheets: tuple[SheetChange, ...]
    weight_lb: float | None
    weight_u_lb: float


def effects_of(layout: Layout, judged: Iterable[Finding], passed: Passed) -> Effects:
    """Hold a job with a change against the job as it is.

    Args:
        judged: every answer on the job as it is.
    """
    new = passed.layout
    weight_lb, u_lb = _weight(layout, new)
    return Effects(
        _answers(judged, passed.judged), _holes(layout, new), _sheets(layout, new), weight_lb, u_lb
    )


def _answers(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[ChangedFinding, ...]:
    old, new = _worst(before), _worst(after)
    changed = [
        ChangedFinding(old.get(key), new.get(key))
        for key in dict.fromkeys((*old, *new))
        if _figures(old.get(key)) != _figures(new.get(key))
    ]
    return tuple(
        sorted(changed, key=lambda one: (min(_severity(one.old), _severity(one.new)), one.shown.code))
    )


def _severity(finding: Finding | None) -> int:
    return 9 if finding is None else finding.status.severity


def _worst(found: Iterable[Finding]) -> dict[Key, Finding]:
    """The worst answer of each cause that is a number."""
    worst: dict[Key, Finding] = {}
    for finding in found:
        if finding.value is None:
            continue
        key = finding.code, finding.cause
        if key not in worst or _rank(finding) > _rank(worst[key]):
            worst[key] = finding
    return worst


def _rank(finding: Finding) -> tuple[int, float]:
    missed = finding.judged.shortfall / abs(finding.limit or 1.0)
    room = abs((finding.value or 0.0) - (finding.limit or 0.0)) / abs(finding.limit or 1.0)
    return finding.status.rank, missed if missed > 0.0 else -room


def _figures(finding: Finding | None) -> tuple[object, ...] | None:
    if finding is None:
        return None
    return finding.status, round(finding.value or 0.0, 6), round(finding.limit or 0.0, 6)


def _holes(layout: Layout, new: Layout) -> tuple[HoleChange, ...]:
    was, now = ({hole.number: _hole(hole) for hole in one.holes} for one in (layout, new))
    every = sorted({*was, *now})
    return tuple(
        HoleChange(number, was.get(number), now.get(number))
        for number in every
        if was.get(number) != now.get(number)
    )


def _hole(hole: Hole) -> tuple[str, float, float, float | None]:
    fastener = hole.fastener if hole.is_fitted else ""
    return fastener, round(hole.x_in, 6), round(hole.y_in, 6), hole.hole_in


def _sheets(layout: Layout, new: Layout) -> tuple[SheetChange, ...]:
    was, now = (_areas(one) for one in (layout, new))
    changed = ((name, now.get(name, 0.0) - was.get(name, 0.0)) for name in dict.fromkeys((*was, *now)))
    return tuple(SheetChange(name, area) for name, area in changed if abs(area) > FLOAT_NOISE)


def _areas(layout: Layout) -> dict[PartName, float]:
    """Of each sheet, its cut edges alone: that of the skin is what the opening takes away, negative [sq in]."""
    return {
        part.name: sum(
            (1.0 if edge.metal_inside else -1.0) * abs(edge.loop.area_sq_in) for edge in part.edges
        )
        for part in layout.parts
    }


def _weight(layout: Layout, new: Layout) -> tuple[float | None, float]:
    """The difference of both weights, out by what each item that changes may be out."""
    was, now = weight_change(layout), weight_change(new)
    if was.not_weighed != now.not_weighed:
        return None, 0.0
    old = {one.name: one for one in was.masses}
    own = {one.name: one for one in now.masses}
    u_lb = sum(
        abs(
            (own[name].uncertainty_lb if name in own else 0.0)
            - (old[name].uncertainty_lb if name in old else 0.0)
        )
        for name in {*old, *own}
    )
    return now.total_lb - was.total_lb, u_lb
