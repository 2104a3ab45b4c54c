"""The making of a job is built once: what follows from it is worked out once, and goes with it where it is sent."""

from __future__ import annotations

import pickle

import pytest

from hatchwright.errors import GeometryError
from hatchwright.layout.lay_out import lay_out
from hatchwright.making.making import cutting_of, making_of, once
from hatchwright.making.pins.pin_layout import planned_pins
from hatchwright.making.template.part import template_part

SIZES = {"cutter__body": "1.75", "template__pin_body": ".25"}


def test_what_follows_is_worked_out_once_for_a_making(layout_of):
    worked = []

    @once
    def count(making):
        worked.append(making)
        return len(worked)

    first, second = making_of(layout_of("alder")), making_of(layout_of("alder"))
    assert [count(first), count(first), count(second), count(first)] == [1, 1, 2, 1]


def test_a_making_travels_between_processes_with_what_was_worked_out(layout_of):
    making = making_of(layout_of("alder", **SIZES))
    pins, part = planned_pins(making), template_part(making)
    again = pickle.loads(pickle.dumps(making))
    assert planned_pins(again).plan == pins.plan
    assert template_part(again).holes == part.holes


def test_without_a_template_the_cutter_alone_is_left(layout_of):
    layout = layout_of("alder")
    bare = layout_of("alder").job.model_copy(update={"template": None})
    assert making_of(layout).chain is not None

    without = lay_out(bare)
    assert making_of(without) is None
    assert cutting_of(without).chain is None


def test_a_cutter_that_does_not_fit_is_refused(layout_of):
    with pytest.raises(GeometryError, match="Use a smaller one"):
        making_of(layout_of("alder", cutter__cut_width="4.0", cutter__guide="4.5"))
