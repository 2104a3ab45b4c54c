"""Radius from chord and rise: how a skin is curved, and what that does to a flat template and to a rolled sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from hatchwright.ground import computed
from hatchwright.job.as_made import AsMade
from hatchwright.job.entry import Entered, NotNegative, Positive, SameAs, Thickness, UncertaintyOrNone
from hatchwright.job.skin import Curvature
from hatchwright.layout.curved import CurvedSkin, Face, curved_skin, radius_from_chord_in
from hatchwright.said import inch, said
from hatchwright.workflow.quick.answer import Answer, Bench, Quick, Told, told

_CURVED = computed("docs/theory/curved.md")
_FACES: tuple[Face, ...] = ("inside", "outside")


class RadiusAsked(Entered):
    """A straightedge across a curved skin, and what is to lie on it."""

    chord: Annotated[Positive, SameAs(Curvature, "chord")]
    rise: Annotated[Positive, SameAs(Curvature, "rise")]
    other_rise: Annotated[NotNegative | None, SameAs(Curvature, "other_rise")] = None
    uncertainty: Annotated[UncertaintyOrNone | None, SameAs(AsMade, "uncertainty")] = None
    skin: Thickness | None = None
    sheet: Thickness | None = None
    reach: Positive | None = None


def _answer(asked: RadiusAsked, bench: Bench) -> Answer:
    curvature = Curvature.model_construct(
        along="x", chord=asked.chord, rise=asked.rise, other_rise=asked.other_rise
    )
    skin_in = asked.skin.inch if asked.skin else 0.0
    skin = curved_skin(curvature, thickness_in=skin_in, unit=bench.unit)
    open_ = [] if asked.other_rise else [said("quick.radius.open.other_way")]
    if not asked.sheet or not asked.skin:
        open_.append(said("quick.radius.open.sheet"))
    found = (_radius(asked, skin.radius_in), *_told(asked, skin, bench))
    return Answer((), found, tuple(open_))


def _radius(asked: RadiusAsked, radius_in: float) -> Told:
    put_in = {"R": radius_in, "c": asked.chord.inch, "h": asked.rise.inch}
    return told("radius.radius", inch(radius_in), _CURVED.lengths("R = c^2 / 8h + h / 2", **put_in))


def _told(asked: RadiusAsked, skin: CurvedSkin, bench: Bench) -> Iterator[Told]:
    chord_in, rise_in = asked.chord.inch, asked.rise.inch
    if asked.uncertainty and asked.uncertainty.inch < rise_in:
        for id, rise in (
            ("at_most", rise_in - asked.uncertainty.inch),
            ("at_least", rise_in + asked.uncertainty.inch),
        ):
            if rise > chord_in / 2.0:
                continue
            radius_in = radius_from_chord_in(chord_in=chord_in, rise_in=rise, unit=bench.unit)
            put_in = {"R": radius_in, "c": chord_in, "h": rise}
            yield told(f"radius.{id}", inch(radius_in), _CURVED.lengths("R = c^2 / 8h + h / 2", **put_in))
    if asked.reach:
        reach = {"s": asked.reach.inch, "R": skin.radius_in}
        off_in, stands_in = skin.rigid_error_in(asked.reach.inch), skin.stand_off_in(asked.reach.inch)
        off = _CURVED.lengths("off = s - R sin(s / R)", off=off_in, **reach)
        yield told("radius.rigid_off", inch(off_in, fine=True), off)
        stands = _CURVED.lengths("gap = R (1 - cos(s / R))", gap=stands_in, **reach)
        yield told("radius.stands_off", inch(stands_in), stands)
    if asked.sheet and asked.skin:
        for face in _FACES:
            _, inner_in = skin.roll_radii_in(sheet_in=asked.sheet.inch, face=face)
            put_in = {"R": skin.radius_in, "skin": asked.skin.inch, "sheet": asked.sheet.inch}
            formula = "R - skin - sheet" if face == "inside" else "R"
            rolled = _CURVED.lengths(f"inner face = {formula}", **{"inner face": inner_in}, **put_in)
            yield told(f"radius.roll_{face}", inch(inner_in), rolled)


QUICK = Quick("radius", RadiusAsked, _answer)
