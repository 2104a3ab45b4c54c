"""Exhibit 1 of the figures for the airframe knowledge test: the part-number structure of a solid rivet.

FAA-CT-8080-8D, exhibit 1: MS20470AD4-7 is head style MS20470, alloy AD, diameter 4/32, length 7/16. Exact.
"""

from __future__ import annotations

from hatchwright.tables.rivet_part import parse_rivet


def test_the_breakdown_of_a_part_number() -> None:
    part = parse_rivet("MS20470AD4-7")
    assert (part.family, part.letters, part.diameter, part.length) == ("MS20470", "AD", 4, 7.0)
    assert (part.diameter_in, part.length) == (0.125, 0.4375 * 16)
