"""The ways in of a doubler, step by step: what each step says; the sketches beside them are drawn of the same steps."""

from __future__ import annotations

import math
from collections.abc import Iterator
from enum import StrEnum

from msgspec import Struct

from hatchwright.layout.way_in import WayIn
from hatchwright.said import Amount, Said, inch, missing, said

_NEARLY_SQUARE_DEG = 80.0


class Pose(StrEnum):
    """What a sketch of a step shows."""

    ALONG_CHORD = "along"
    SQUARE = "square"
    TILTED = "tilted"
    BEHIND = "behind"
    BOWED = "bowed"
    HALVES = "halves"
    SLIT = "slit"
    SPRUNG = "sprung"


class WayStep(Struct, frozen=True):
    """One step: what it shows and what it says."""

    pose: Pose
    told: Said


def way_in_steps(way: WayIn) -> tuple[WayStep, ...]:
    """The steps of the way in that is preferred, else of those that need data; none where none was found."""
    if way.flat.fits:
        return tuple(_flat(way))
    if way.can_bow:
        return tuple(_bowed(way))
    return tuple(_cut(way))


def _flat(way: WayIn) -> Iterator[WayStep]:
    flat = way.flat
    angle = Amount(float(round(flat.chord.angle_deg)), "deg")
    yield WayStep(Pose.ALONG_CHORD, said(f"way_in.step.hold.{flat.leads}", angle=angle))
    yield WayStep(Pose.SQUARE, said("way_in.step.slide", deep=missing(flat.behind_in)))
    if flat.tilt_deg < _NEARLY_SQUARE_DEG:
        flattest = Amount(float(math.ceil(flat.tilt_deg)), "deg")
        deep, aside = missing(flat.tilted_behind_in), missing(flat.aside_in)
        yield WayStep(Pose.TILTED, said("way_in.step.tilt", flattest=flattest, deep=deep, aside=aside))
    yield WayStep(Pose.BEHIND, said("way_in.step.turn_flat"))


def _bowed(way: WayIn) -> Iterator[WayStep]:
    bowed = way.bowed
    assert bowed is not None
    curve = bowed.bow
    squeezed = said(
        "way_in.step.squeeze",
        chord=inch(curve.chord_in),
        rise=inch(curve.rise_in),
        radius=missing(curve.least_radius_in),
    )
    yield WayStep(Pose.BOWED, squeezed)
    angle = Amount(float(round(way.flat.chord.angle_deg)), "deg")
    yield WayStep(Pose.SQUARE, said("way_in.step.slide_bowed", angle=angle, deep=missing(way.flat.behind_in)))
    yield WayStep(Pose.BEHIND, said("way_in.step.let_go"))


def _cut(way: WayIn) -> Iterator[WayStep]:
    if way.halves:
        angle = Amount(float(round(way.flat.chord.angle_deg)), "deg")
        yield WayStep(Pose.HALVES, said("way_in.step.halves", angle=angle))
    if way.cut is not None:
        along = way.cut.leg_to_cut
        slit = said("way_in.step.slit_along", along=along.upper()) if along else said("way_in.step.slit")
        yield WayStep(Pose.SLIT, slit)
        apart = inch(math.ceil(16.0 * way.cut.apart_in) / 16.0)
        yield WayStep(Pose.SPRUNG, said("way_in.step.spring", apart=apart))
