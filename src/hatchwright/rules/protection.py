"""R912, R913, R917: dissimilar metals, drains, and what a mounted antenna needs."""

from __future__ import annotations

from collections.abc import Iterator

from hatchwright.finding import Finding, Grade, Source, Status
from hatchwright.job.bay import Region
from hatchwright.layout.gaps import gap_to_region
from hatchwright.layout.survey import Survey
from hatchwright.rules.answer import stated
from hatchwright.rules.rule import rule
from hatchwright.tables.instructions import Instruction, instruction

NEAR_FRAME_IN = 0.5
"""A doubler that ends nearer to a frame or stringer than this makes a hard edge; common practice, no source [in]."""


def _practice(text: str, place: str) -> Instruction:
    return Instruction(text, Source("PRACTICE", place), Grade.PRACTICE)


@rule("R912", "Dissimilar metals")
def dissimilar_metals(survey: Survey) -> Iterator[Finding]:
    """Steel screws and nuts in aluminium have at least two coats of primer on each surface and a barrier or sealant
    between; they are put in wet."""
    cover = survey.layout.job.cover
    if cover and cover.screws and cover.screws.steel:
        yield stated(
            "R912",
            Status.CAUTION,
            "steel screws in aluminium",
            instruction("corrosion_step_5"),
            advice="Two coats of primer on each faying surface, and put the screws and nuts in wet.",
        )


@rule("R913", "Drain paths")
def drains(survey: Survey) -> Iterator[Finding]:
    """Drain holes are kept or replaced, and the new parts leave no pocket that holds water."""
    if survey.layout.job.gate.drain_covered:
        yield stated(
            "R913",
            Status.STOP,
            "a new part covers a drain hole",
            instruction("drain_holes"),
            advice="Move the part, or make a drain of the same size through it; ask where the maker puts it.",
        )


@rule("R917", "Mounted antenna")
def antenna(survey: Survey) -> Iterator[Finding]:
    """An antenna's base is bonded to the skin electrically where it must be, which paint prevents; it is sealed,
    drained, kept away from other antennas, and its doubler does not end hard against a frame or stringer."""
    layout = survey.layout
    mount = layout.job.mount
    if mount is None or mount.kind != "antenna":
        return
    avionics = Source("AVIONICS-MANUAL", "bonding")
    if mount.bonded is None:
        subject, advice = (
            "it is not said whether the base is bonded",
            "Look in the antenna's manual, and enter it.",
        )
        status = Status.UNKNOWN
    elif mount.bonded:
        subject, status = "bonding against paint", Status.CAUTION
        advice = (
            "Bonding needs bare or conversion-coated metal under the base, protection needs paint: mask the "
        )
        advice += "contact, seal round it, and measure (under 3 milliohm in one manual)."
    else:
        subject, status, advice = "the base is not bonded", Status.PASS, ""
    yield stated("R917", status, subject, Instruction("bonding", avionics, Grade.RESTATED), advice=advice)
    if not mount.sealed:
        yield stated(
            "R917",
            Status.CAUTION if mount.sealed is False else Status.UNKNOWN,
            "the base is not sealed"
            if mount.sealed is False
            else "it is not said whether the base is sealed",
            instruction("rivets_not_watertight"),
        )
    if mount.nearest_antenna is None:
        yield stated(
            "R917",
            Status.UNKNOWN,
            "the distance to the next antenna is not given",
            _practice("distance between antennas", "antennas"),
            advice="Take the least distance from the manuals of both.",
        )
    yield stated(
        "R917",
        Status.CAUTION,
        "drain, and drag load into the structure",
        instruction("antenna_doubler"),
        advice="Leave a drain path at the low point, and let the drag load reach a frame or stringer.",
    )
    yield from _hard_edges(survey)


def _hard_edges(survey: Survey) -> Iterator[Finding]:
    layout = survey.layout
    doubler = layout.part("doubler")
    if doubler is None:
        return
    for row in layout.job.bay.rows:
        line = Region(name=row.name, x_from=row.x, x_to=row.x, y_from=row.y, y_to=row.y)
        gap_in, _ = gap_to_region(doubler.edges[0].loop, line)
        near = 0.0 < gap_in < NEAR_FRAME_IN
        yield stated(
            "R917",
            Status.CAUTION if near else Status.PASS,
            f"doubler edge {gap_in:.2f} from {row.name}",
            _practice("hard edge beside a frame", "doubler edges"),
            advice="Take the doubler to the member and pick up its row, or end it well clear."
            if near
            else "",
        )
