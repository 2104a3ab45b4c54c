"""Each scan that cannot be measured is refused, by the reason that is in it and no other.

The pictures are rendered by `tests/scans`, which shares nothing with what measures them. What has to be refused, and at
what limit, is the issue's list; the limits were found on scans of a prototype, not read from the code under test.
"""

from __future__ import annotations

import numpy as np
import pytest

from hatchwright.errors import ScanError
from hatchwright.inspection.scan.scan import measure_scan
from tests.scans.asking import Sheet, square_levels
from tests.scans.pictures import jpeg, one_bit, picture
from tests.scans.setup import Wave
from tests.scans.shapes import disc, either
from tests.scans.truths import Part


def reason(content: bytes, **more: object) -> str:
    """Why a picture is refused; every refusal also says what to do."""
    with pytest.raises(ScanError) as refused:
        measure_scan(content, Sheet().asked(**more))
    return refused.value.what.id


@pytest.mark.parametrize(
    ("why", "changes"),
    [
        ("scan.bright_background", {"black": 0.9}),
        ("scan.residual", {"banding": Wave(0.003, 0.6, 0.0)}),
        ("scan.lost_lines", {"lost": ((600, 2),), "jitter": 0.0002}),
        ("scan.dots", {"dots_lost": 0.3}),
        ("scan.blur", {"blur": 0.006}),
        ("scan.perspective", {"sensor_tilt": (0.004, 0.003)}),
        ("scan.turned", {"card_turn": np.radians(7.0), "card_at": (0.0, 0.0)}),
        ("scan.card_contrast", {"ink": 0.66, "paper": 0.80}),
        ("scan.part_under_card", {"part_at": (0.62, 0.0), "card_over_part": True}),
        ("scan.part_under_card", {"part_at": (0.0, 0.55)}),
    ],
)
def test_a_scan_that_is_no_measure_is_refused_by_its_reason(why, changes):
    sheet = Sheet()
    assert reason(picture(sheet.levels(**changes), 300)) == why


def test_a_part_as_dark_as_what_lies_behind_it_is_refused():
    sheet = Sheet()
    assert reason(picture(sheet.levels(metal=0.07, black=0.05), 300)) == "scan.part_contrast"


def test_a_frame_without_part_and_with_two_are_refused():
    sheet = Sheet()
    two = Part(window="4x4", metal=either(disc(1.2, -0.8, 0.0), disc(1.2, 0.8, 0.1)))
    for part, why in ((None, "scan.no_part"), (two, "scan.two_parts")):
        sheet.part = part
        assert reason(picture(sheet.levels(), 300)) == why


def test_an_outline_that_is_not_the_shape_asked_for_is_refused():
    sheet = Sheet("D")
    assert reason(picture(sheet.levels(), 300), shape="rounded") == "scan.does_not_fit"


def test_a_mirrored_picture_is_refused():
    assert reason(picture(square_levels()[:, ::-1], 300)) == "scan.mirrored"


def test_a_cut_off_frame_is_refused():
    assert reason(picture(square_levels()[:, 320:], 300)) == "scan.markers"


def test_a_picture_without_a_frame_is_refused():
    noise = np.random.default_rng(920_001).uniform(0, 255, (900, 900))
    assert reason(picture(noise, 300)) == "scan.no_card"
    assert reason(picture(np.full((900, 900), 200.0), 300)) == "scan.no_card"


def test_black_and_white_and_few_grays_are_refused():
    assert reason(one_bit(square_levels(), 300)) == "scan.one_bit"
    assert reason(picture(np.where(square_levels() > 150, 255, 0), 300)) == "scan.few_grays"
    assert reason(picture(np.floor(square_levels() / 16) * 16, 300)) == "scan.few_grays"


@pytest.mark.parametrize("stated", [288, 600])
def test_a_resolution_that_is_not_the_frame_s_is_refused(stated):
    assert reason(picture(square_levels(), stated)) == "scan.dpi_differs"


def test_a_slip_in_one_bar_is_refused():
    """Sensor and carriage differ by 1 % at the most where each is off by .5 %; a bar misread by .1 in is 2 % off."""
    right, up = Sheet().asked().bars_in
    assert reason(picture(square_levels(), 300), bars_in=(right + 0.1, up)) == "scan.bar_differs"
    assert reason(picture(square_levels(), 300), bars_in=(right, up - 0.1)) == "scan.bar_differs"


def test_a_photo_is_refused_for_it_states_no_resolution():
    content = jpeg(square_levels(), None, 90)
    assert reason(content) == "scan.no_dpi"
    assert measure_scan(content, Sheet().asked(dpi=300)).window == "4x4"


def test_overexposure_is_refused_or_harmless():
    """Where metal and paper burn out, the edge seems to lie outside of where it is: then it must not be measured."""
    sheet = Sheet()
    for exposure in (1.6, 5.0):
        content = picture(sheet.levels(exposure=exposure), 300)
        try:
            shape = measure_scan(content, sheet.asked()).outline.shape
        except ScanError as refused:
            assert refused.what.id == "scan.clipped"
            assert exposure > 2.0
        else:
            for value, true in (
                (shape.width, sheet.part.outline.width),
                (shape.height, sheet.part.outline.height),
            ):
                assert abs(value.value_in - true) <= value.expanded_in
