"""Items of the FAA airframe knowledge test, as public question banks keep them, answered from the tables.

Tolerance: none; every answer is an exact fraction.
"""

from __future__ import annotations

from hatchwright.layout.cut_side import sides_of_cut
from hatchwright.tables.limits import limit
from hatchwright.tables.rivet_part import parse_rivet
from tests.strength.jobs import SQUARE, layout_of


def test_a_flush_rivet_is_measured_over_all() -> None:
    """MS20426AD-6-5: overall length 5/16."""
    part = parse_rivet("MS20426AD-6-5")
    assert (part.length, part.head.length_measured) == (5, "overall")


def test_a_round_head_rivet() -> None:
    """MS20430AD-4-8: diameter 1/8, length 1/2."""
    part = parse_rivet("MS20430AD-4-8")
    assert (part.diameter_in, part.length) == (1 / 8, 8)


def test_least_overlap_of_a_double_row() -> None:
    """Least overlap with 1/8 rivets in two rows: 13/16, that is 2D + 2.5D + 2D."""
    diameter_in = 1 / 8
    edge_in = limit("edge_min_single_row_protruding").value * diameter_in
    between_in = limit("transverse_pitch_min").value * diameter_in
    assert edge_in + between_in + edge_in == 13 / 16
    assert limit("min_overlap_double_row").value * diameter_in == 13 / 16


def test_rivets_round_a_plate() -> None:
    """A plate of 10 by 5 with one row of 1/8 rivets at 2D from the edge and 4D apart: 56 rivets.

    The line of rivets is 9.5 by 4.5, 28 inches round; at half an inch that is 56.
    """
    diameter_in = 1 / 8
    edge_in = limit("edge_min_single_row_protruding").value * diameter_in
    pitch_in = 4 * diameter_in
    around_in = 2 * (10 - 2 * edge_in) + 2 * (5 - 2 * edge_in)
    assert around_in / pitch_in == 56


def test_each_half_of_the_plate_has_half_of_the_rivets() -> None:
    """The same plate of 10 by 5 round an opening: of the 56 rivets 28 hold each half, whichever way the load runs."""
    line = [(-4.75 + 0.5 * k, y) for k in range(20) for y in (-2.25, 2.25)]
    line += [(x, -1.75 + 0.5 * k) for k in range(8) for x in (-4.75, 4.75)]
    assert len(line) == 56
    points = ", ".join(f'["{x}", "{y}"]' for x, y in line)
    opening = '[opening]\nshape = "obround"\nlength = "8"\nwidth = "3"\ncenter = ["0", "0"]\n'
    plate = '[doubler.outer]\nshape = "rounded rectangle"\nwidth = "10"\nheight = "5"\nradius = ".25"\n'
    base = SQUARE[: SQUARE.index("[opening]")] + opening + SQUARE[SQUARE.index("[doubler]\n") :]
    base = base[: base.index("[doubler.outer]")] + plate
    row = f'[[rows]]\nname = "line"\nlay = "points"\nrivet = "MS20470AD4"\npoints = [{points}]\n'
    assert [len(side.half) for side in sides_of_cut(layout_of(base=base + row))] == [28, 28, 28, 28]
