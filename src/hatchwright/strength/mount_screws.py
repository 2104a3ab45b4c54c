"""S901, S902: screws of a mounted part, and the sheets that they bear on, under each load that the part must hold."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from msgspec import Struct
from msgspec.structs import replace

from hatchwright.errors import HatchwrightError
from hatchwright.finding import Finding, held
from hatchwright.ground import Ground
from hatchwright.job.frame import Frame
from hatchwright.job.mount import Mount
from hatchwright.judged import FLOAT_NOISE, Bound, Judgement, Measure, Status
from hatchwright.layout.base_screws import base_screw_points
from hatchwright.layout.layout import Layout
from hatchwright.layout.mount_loads import MountLoad, drag_load, static_loads
from hatchwright.register import Entry, Shelf, enter
from hatchwright.remedy import ASK
from hatchwright.said import Amount, Said, said
from hatchwright.shapes.distance import distances
from hatchwright.shapes.profile import Profile
from hatchwright.strength.bearing import bearing_strength
from hatchwright.strength.comparison import told
from hatchwright.strength.factors import factors_of
from hatchwright.strength.family import Family, Refusal, told_of, worked_out
from hatchwright.strength.screw_group import Array, screw_loads
from hatchwright.strength.site import SheetPart, sheet_part
from hatchwright.strength.worked import Worked, inputs, work_out
from hatchwright.tables.screws import screw_size
from hatchwright.workings import Grade, Source

_THEORY = "docs/theory/mount.md"
_READS = ("bay", "frame", "loads", "mount", "opening", "parts")
S901 = enter(Entry("S901", Shelf.HOLDS, reads=_READS, theory=_THEORY, cause="mount_loads")).code
S902 = enter(Entry("S902", Shelf.HOLDS, reads=_READS, theory=_THEORY, cause="mount_loads")).code

_ENTERED = Ground(Source("JOB-FILE", "mount"), Grade.SHOP)

_ALONG = {
    "FWD": (1.0, 0.0, 0.0),
    "AFT": (-1.0, 0.0, 0.0),
    "LEFT": (0.0, 1.0, 0.0),
    "RIGHT": (0.0, -1.0, 0.0),
    "UP": (0.0, 0.0, 1.0),
    "DOWN": (0.0, 0.0, -1.0),
}
"""Directions of the aircraft: forward, to the left, up [-]."""

_WAYS = {"down": ("DOWN",), "up": ("UP",), "forward": ("FWD",), "side": ("LEFT", "RIGHT"), "aft": ("AFT",)}


class _Hardest(Struct, frozen=True):
    """What one load asks of the screws, by one way that it may act.

    Args:
        shear: of the screw that it works hardest [lbf].
        tension: of the same screw [lbf].
        most_shear: the greatest of all screws [lbf].
    """

    load: MountLoad
    shear: Worked
    tension: Worked
    most_shear: Worked


def mount_screw_findings(layout: Layout) -> tuple[Finding, ...]:
    """Judge the screws of a mounted part and the sheets under them; nothing without a mount or while it has no loads.

    Method: docs/theory/mount.md.
    """
    found, refused = worked_out(layout, [Family("mount", lambda: _findings(layout))])
    return (*found, *refused)


def _findings(layout: Layout) -> Iterator[Finding]:
    mount = layout.job.mount
    loads = _to_show(layout, mount) if mount else ()
    if mount is None or not loads:
        return
    if missing := tuple(_missing(mount, loads)):
        subject = said("S901.not_entered")
        yield told(S901, Status.UNKNOWN, subject, _ENTERED, said("S901.enter"), unit="lbf", enter=missing)
        return
    points = base_screw_points(layout)
    assert points is not None  # asked for before
    hardest = [one for load in loads for one in _hardest(layout, mount, load, points)]
    yield _screws(layout, mount, hardest)
    yield _sheets(layout, mount, hardest, points)


def _to_show(layout: Layout, mount: Mount) -> tuple[MountLoad, ...]:
    """The loads that no static test has shown."""
    drag = drag_load(mount, layout.shop) if mount.kind == "antenna" else None
    loads = (*static_loads(mount, layout.shop), *((drag,) if drag else ()))
    return tuple(one for one in loads if one.held_lbf is None or one.held_lbf < one.load_lbf - FLOAT_NOISE)


def _missing(mount: Mount, loads: tuple[MountLoad, ...]) -> Iterator[str]:
    has_drag = any(load.direction == "aft" for load in loads)
    has_weight = any(load.direction != "aft" for load in loads)
    asked = ["screw_size", "screw_pattern", "offset", "screw_shear", "screw_tension"]
    asked += ["height"] * has_weight + ["drag_height"] * has_drag
    yield from (f"mount.{name}" for name in asked if not getattr(mount, name))


def _axes(frame: Frame, where: str | None) -> tuple[Array, ...]:
    """X, Y and away from the skin in the aircraft, shape (3, 3); both ways where the face is not known."""
    outboard = "LEFT" if frame.side == "left" else "RIGHT"
    ways = dict(_ALONG)
    ways["OUTBD"] = ways[outboard]
    ways["INBD"] = ways["RIGHT" if outboard == "LEFT" else "LEFT"]
    out = {"upper": "UP", "lower": "DOWN", "side": "OUTBD"}[frame.surface]
    faces = {"outside": (1.0,), "inside": (-1.0,), "cabin": (-1.0,)}.get(where or "", (1.0, -1.0))
    rows = np.array([ways[frame.x], ways[frame.y], ways[out]])
    return tuple(rows * np.array([[1.0], [1.0], [face]]) for face in faces)


def _hardest(layout: Layout, mount: Mount, load: MountLoad, points: Array) -> Iterator[_Hardest]:
    """For each way that a load may act, what it asks of the screws."""
    height = mount.drag_height if load.direction == "aft" else mount.height
    offset, shear_lbf, tension_lbf = mount.offset, mount.screw_shear, mount.screw_tension
    assert height is not None  # each of them was asked for before
    assert offset is not None
    assert shear_lbf is not None
    assert tension_lbf is not None
    offset_in = [one.inch for one in offset]
    for axes in _axes(layout.job.frame, mount.where):
        for way in _WAYS[load.direction]:
            force = axes @ np.array(_ALONG[way]) * load.load_lbf
            loads = screw_loads(points, force_lbf=force, offset_in=offset_in, height_in=height.inch)
            each_lbf = np.hypot(loads.shear_lbf[:, 0], loads.shear_lbf[:, 1])
            at = int(np.argmax(each_lbf / shear_lbf + loads.pull_lbf / tension_lbf))
            put_in = (
                *inputs("lbf", Px=float(force[0]), Py=float(force[1]), Pz=float(force[2])),
                *inputs("in", h=height.inch, ex=offset_in[0], ey=offset_in[1]),
                *inputs("", n=float(len(points))),
            )
            by = Worked(load.load_lbf, "lbf", (load.working,))
            equation = "V = |P / n + (ex Py - ey Px) r / sum r^2| [lbf]"
            yield _Hardest(
                load,
                work_out(float(each_lbf[at]), equation, by, *put_in),
                work_out(float(loads.pull_lbf[at]), "T = Pz / n + a x + b y [lbf]", by, *put_in),
                work_out(float(each_lbf.max()), equation, by, *put_in),
            )


def _screws(layout: Layout, mount: Mount, hardest: list[_Hardest]) -> Finding:
    """The hardest worked screw of all loads."""
    judged = [(_of_screw(layout, mount, one), one) for one in hardest]
    most, of = max(judged, key=lambda both: (both[0].status.rank, both[0].value))
    subject = said("S901.subject", **_told(of))
    return held(S901, most, subject, _advice(of, most), enter=_open(of, most))


def _of_screw(layout: Layout, mount: Mount, of: _Hardest) -> Judgement:
    factor = factors_of(layout.job.loads, layout.shop).screws
    assert mount.screw_shear is not None  # both were asked for before
    assert mount.screw_tension is not None
    shear = work_out(float(mount.screw_shear), "V screw [lbf]", by=_ENTERED)
    tension = work_out(float(mount.screw_tension), "T screw [lbf]", by=_ENTERED)
    parts = of.shear.value / shear.value, of.tension.value / tension.value
    used = work_out(
        factor.value * sum(parts),
        "U = FF (V / V screw + T / T screw)",
        factor,
        of.shear,
        of.tension,
        shear,
        tension,
    )
    # Two parts that together use up more than the screw, and neither alone: a rule for both may still pass it.
    surely = factor.value * max(parts) * of.load.least_lbf / of.load.load_lbf > 1.0 + FLOAT_NOISE
    return _judged(used, 1.0, of, surely=surely)


def _judged(used: Worked, most: float, of: _Hardest, *, surely: bool) -> Judgement:
    grade = used.grade
    source = of.load.working.source if not grade.may_stop else used.source
    return Judgement(
        Measure(used.symbol, used.value, unit=used.unit),
        (Bound(most, source, grade),),
        at_least=False,
        fails_as=Status.STOP if surely else Status.UNKNOWN,
        more=used.working,
        doubtful_as=Status.UNKNOWN,
    )


def _sheets(layout: Layout, mount: Mount, hardest: list[_Hardest], points: Array) -> Finding:
    """The sheets under the screws: the greatest shear against the weakest place."""
    factor = factors_of(layout.job.loads, layout.shop).screws
    try:
        allowed = min((_bearing(layout, mount, point) for point in points), key=lambda one: one.value)
    except HatchwrightError as error:
        return told(S902, Status.UNKNOWN, said("S902.not_shown"), _ENTERED, *told_of(error), ASK, unit="lbf")
    found: list[tuple[Judgement, _Hardest]] = []
    for of in hardest:
        used = work_out(of.most_shear.value * factor.value, "V FF [lbf]", of.most_shear, factor)
        surely = used.value * of.load.least_lbf / of.load.load_lbf > allowed.value + FLOAT_NOISE
        both = replace(used, working=(*allowed.working, *used.working))
        found.append((_judged(both, allowed.value, of, surely=surely), of))
    most, of = max(found, key=lambda both: (both[0].status.rank, both[0].value))
    return held(S902, most, said("S902.subject", **_told(of)), _advice(of, most), enter=_open(of, most))


def _bearing(layout: Layout, mount: Mount, point: Array) -> Worked:
    """What the sheets at one screw carry together, shared by their thickness [lbf].

    Raises:
        Refusal: no published value covers any of them.
    """
    diameter_in = screw_size(mount.screw_size, layout.shop).major_diameter_in
    counted: list[tuple[SheetPart, Worked]] = []
    refused: list[Said | str] = []
    for part in layout.parts:
        if part.name == "cover":
            continue
        edges = [(edge, distances(Profile((edge.loop,)), point[None, :])) for edge in part.edges]
        inside_in = min(
            float((far.inward_in if edge.metal_inside else -far.inward_in)[0]) for edge, far in edges
        )
        if inside_in <= 0.0:
            continue
        sheet = sheet_part(part, layout, layout.shop)
        try:
            strength = bearing_strength(
                sheet.allowed,
                sheet=part.name,
                thickness_in=part.thickness_in,
                hole_in=diameter_in,
                diameter_in=diameter_in,
                edge_in=inside_in,
                shop=layout.shop,
            )
        except HatchwrightError as error:
            refused += told_of(error)
            continue
        counted.append((sheet, strength))
    if not counted:
        raise Refusal(
            *[one for one in refused if isinstance(one, Said)] or [said("S902.no_sheet")], where="mount"
        )
    together_in = sum(sheet.thickness_in for sheet, _ in counted)
    weak = min(counted, key=lambda one: one[1].value * together_in / one[0].thickness_in)
    sheet, strength = weak
    return work_out(
        strength.value * together_in / sheet.thickness_in,
        "P sheets = min of P bearing (sum t / t) [lbf]",
        strength,
        *inputs("in", sum_t=together_in, t=sheet.thickness_in),
    )


def _told(of: _Hardest) -> dict[str, Said | Amount]:
    return {
        "load": Amount(of.load.load_lbf, "lbf", toward="up"),
        "direction": said(f"direction.{of.load.direction}"),
    }


def _advice(of: _Hardest, judged: Judgement) -> Said:
    if _open(of, judged):
        return said("mount_load.settle_where")
    return said("mount_load.confirm") if judged.status is Status.CAUTION else ASK


def _open(of: _Hardest, judged: Judgement) -> tuple[str, ...]:
    """What to enter where the greater of two loads is what can't be shown."""
    is_open = of.load.is_open and judged.status is Status.UNKNOWN
    return ("mount.where", "mount.certification") if is_open else ()
