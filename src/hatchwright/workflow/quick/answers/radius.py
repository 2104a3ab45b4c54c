"""Radius from chord and rise: how a skin is curved, and what that does to a flat template and to a rolled sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from hatchwright.finding import Finding, stated
from hatchwright.ground import computed
from hatchwright.job.as_made import AsMade
from hatchwright.job.entry import Entered, NotNegative, Positive, SameAs, Thickness, UncertaintyOrNone
from hatchwright.job.skin import Curvature
from hatchwright.judged import Status
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
    found = (_radius("radius", asked.chord.inch, asked.rise.inch, bench), *_range(asked, bench))
    return Answer(tuple(_findings(asked)), (*found, *_told(asked, skin)), tuple(open_))


def _radius(id: str, chord_in: float, rise_in: float, bench: Bench) -> Told:
    radius_in = radius_from_chord_in(chord_in=chord_in, rise_in=rise_in, unit=bench.unit)
    put_in = {"R": radius_in, "c": chord_in, "h": rise_in}
    return told(f"radius.{id}", inch(radius_in), _CURVED.lengths("R = c^2 / 8h + h / 2", **put_in))


def _is_flat(asked: RadiusAsked) -> bool:
    """Whether no rise is left once its uncertainty is taken off."""
    return asked.uncertainty is not None and asked.uncertainty.inch >= asked.rise.inch


def _findings(asked: RadiusAsked) -> Iterator[Finding]:
    if asked.uncertainty and _is_flat(asked):
        subject = said("quick.radius.may_be_flat", rise=inch(asked.rise.inch), u=inch(asked.uncertainty.inch))
        yield stated("", Status.UNKNOWN, subject, _CURVED, said("quick.radius.measure_finer"))


def _range(asked: RadiusAsked, bench: Bench) -> Iterator[Told]:
    """Both ends of the radius by the uncertainty of the rise; no arc rises more than half its chord."""
    if not asked.uncertainty:
        return
    chord_in, rise_in, u_in = asked.chord.inch, asked.rise.inch, asked.uncertainty.inch
    if _is_flat(asked):
        left = _CURVED.lengths("h - u <= 0", **{"h - u": rise_in - u_in, "h": rise_in, "u": u_in})
        yield told("radius.at_most", said("quick.radius.flat"), left)
    else:
        yield _radius("at_most", chord_in, rise_in - u_in, bench)
    yield _radius("at_least", chord_in, min(rise_in + u_in, chord_in / 2.0), bench)


def _told(asked: RadiusAsked, skin: CurvedSkin) -> Iterator[Told]:
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
