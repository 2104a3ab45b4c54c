"""What is told of a scan: the frame, each edge, its bites, the offset of the cutter, the holes."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.inspection.scan.cut_pose import CutPose
from hatchwright.inspection.scan.values import Shape, Traced, Value
from hatchwright.said import Amount, Said, inch, said
from hatchwright.units import signed_figure
from hatchwright.workflow.scan import ScanReport, edges_of

HEADS = (
    "scan.head.number",
    "scan.head.x",
    "scan.head.y",
    "scan.head.place_u",
    "scan.head.diameter",
    "scan.head.diameter_u",
)
"""Of the table of holes."""


def scan_lines(report: ScanReport) -> Iterator[Said]:
    """Each sentence, the edges first."""
    scan = report.scan
    across, down = (round(rate) for rate in scan.dpi)
    card = said("scan.card_unseen") if scan.card is None else said("scan.card", card=scan.card)
    residual = inch(scan.residual_in, fine=True)
    yield said("scan.frame", window=scan.window, card=card, across=across, down=down, residual=residual)
    for part, traced in edges_of(scan):
        yield from _edge(said(f"scan.part.{part}"), traced)
    for x, y, size in scan.odd:
        yield said("scan.odd", x=inch(x), y=inch(y), size=inch(size))
    if report.offset:
        yield said("scan.offset", **_about(report.offset))
        yield _pose(report.pose)


def _pose(pose: CutPose | None) -> Said:
    """Where the cut lies, of which a template was named."""
    if pose is None:
        return said("scan.no_datum")
    x, y = (inch(one.value_in, fine=True) for one in pose.shift)
    u = inch(max(one.expanded_in for one in pose.shift), fine=True)
    turn, turn_u = (
        Amount(round(one, 3), "deg") for one in (pose.turn_deg.value_in, pose.turn_deg.expanded_in)
    )
    return said("scan.cut_pose", x=x, y=y, u=u, turn=turn, turn_u=turn_u)


def _about(value: Value) -> dict[str, Amount]:
    return {"value": inch(value.value_in, fine=True), "u": inch(value.expanded_in, fine=True)}


def _edge(part: Said, traced: Traced) -> Iterator[Said]:
    shape = traced.shape
    if shape is None:
        off = inch(traced.deviation_in, fine=True)
        yield said("scan.lines_and_arcs", part=part, n=len(traced.profile), off=off)
        return
    yield said(f"scan.shape.{shape.kind}", part=part, **_sizes(shape))
    if shape.corners:
        radii = {f"r{number}": inch(one.value_in, fine=True) for number, one in enumerate(shape.corners, 1)}
        u = inch(max(one.expanded_in for one in shape.corners), fine=True)
        yield said("scan.corners", u=u, **radii)
    if bites := traced.scallops:
        yield said(
            "scan.bites",
            n=bites.bites,
            advance=inch(bites.advance_in),
            height=inch(bites.height_in, fine=True),
            deepest=inch(bites.deepest_in, fine=True),
        )
        width, height = (inch(one.value_in, fine=True) for one in (bites.crest.width, bites.crest.height))
        yield said("scan.crest", width=width, height=height)


def _sizes(shape: Shape) -> dict[str, Amount]:
    sizes = {"width": shape.width, "height": shape.height, "radius": shape.radius}
    told = {name: inch(value.value_in, fine=True) for name, value in sizes.items()}
    us = {f"{name}_u": inch(value.expanded_in, fine=True) for name, value in sizes.items()}
    x, y = (inch(one.value_in) for one in shape.center)
    return {**told, **us, "x": x, "y": y, "turn": Amount(round(shape.turn_deg.value_in, 2), "deg")}


def hole_rows(report: ScanReport) -> list[tuple[str, ...]]:
    """The cells of each hole under `HEADS`, lengths without their unit."""
    unit = report.unit
    rows = []
    for number, hole in enumerate(report.scan.holes, start=1):
        x_in, y_in = (one.value_in for one in hole.from_edge)
        sizes = (x_in, y_in, hole.place_u_in, hole.diameter.value_in, hole.diameter.expanded_in)
        rows.append((str(number), *(signed_figure(size, unit) for size in sizes)))
    return rows


def holes_said(report: ScanReport) -> Said:
    """What the table of holes is: from where their places are taken."""
    return said("scan.holes", part=said("scan.part.opening" if report.scan.opening else "scan.part.outline"))
