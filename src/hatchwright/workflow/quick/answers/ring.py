"""Will the ring go through: a ring, or one piece of it, through an opening."""

from __future__ import annotations

from hatchwright.ground import Ground
from hatchwright.job.entry import NotNegative, Positive
from hatchwright.judged import Status
from hatchwright.layout.way_in import flat_way
from hatchwright.rules.passage import through
from hatchwright.said import inch, said
from hatchwright.shapes.outlines import rounded_rectangle
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, at, told
from hatchwright.workflow.quick.rectangle import RectangleAsked
from hatchwright.workings import Source

_WIDTHS = Ground(Source("GEOMETRY", "longest chord of the opening"))


class RingAsked(RectangleAsked):
    """An opening, and the ring that is to go in through it."""

    ring_width: Positive
    ring_height: Positive
    ring_radius: NotNegative
    thickness: Positive | None = None


def _answer(asked: RingAsked, bench: Bench) -> Answer:
    opening = asked.loop
    with at("ring_radius"):
        ring = rounded_rectangle(
            width_in=asked.ring_width.inch, height_in=asked.ring_height.inch, radius_in=asked.ring_radius.inch
        )
    thick_in = asked.thickness.inch if asked.thickness else 0.0
    flat = flat_way(opening, ring, thickness_in=thick_in)
    fails = (
        ()
        if flat.fits
        else (said("passage.cut_nothing"), said("way_in.not_whole"), said("passage.ring_way_in"))
    )
    finding = through(flat, *fails).of("R304")
    chord_in, width_in = flat.room_in, flat.width_in
    leads = said(f"passage.leads.{flat.leads}")
    goes, across = finding.status is Status.PASS, inch(width_in, beside_in=chord_in)
    put_in = {
        "chord": chord_in,
        "width": asked.width.inch,
        "height": asked.height.inch,
        "r": asked.radius.inch,
        "t": thick_in,
    }
    sizes = {"ring": width_in, "width": asked.ring_width.inch, "height": asked.ring_height.inch}
    found: list[Told] = [
        told(
            "ring.goes" if goes else "ring.goes_not",
            said(
                "quick.ring.leads" if goes else "quick.ring.no_leg",
                leads=leads,
                across=across,
            ),
            _WIDTHS.lengths("least width of the ring < longest chord", ring=width_in, chord=chord_in),
        ),
        told("ring.chord", inch(chord_in, beside_in=width_in), _WIDTHS.lengths("longest chord", **put_in)),
        told("ring.width", across, _WIDTHS.lengths("least width", **sizes)),
    ]
    open_ = (said("quick.ring.open.behind"), said("quick.ring.open.pieces"), said("quick.ring.open.curved"))
    return Answer((finding,), tuple(found), open_)


QUICK = Quick("ring", RingAsked, _answer)
