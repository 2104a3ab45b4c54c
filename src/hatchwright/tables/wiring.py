"""Wires and controls behind the skin: what must be clear of what once they are tied back."""

from __future__ import annotations

from msgspec import Struct

from hatchwright.tables.cited import Cited
from hatchwright.tables.instructions import Instruction, instruction
from hatchwright.tables.limits import limit
from hatchwright.tables.table import ShopTables


class WireClearances(Struct, frozen=True):
    """What a wire bundle keeps clear of, and how it is held, each with its source.

    Args:
        hole_edge_in: from the edge of a hole in structure; nearer, a grommet is required [in].
        flammable_line_in: from a line or tank of fuel or oxygen [in].
        flammable_line_clamped_in: from the same where the first can't be had, closely clamped and rigidly held [in].
        movable_control_in: from a control that moves [in].
        support_ft: greatest distance between supports [ft].
        slack_in: greatest deflection between supports by hand [in].
        near_controls: how a wire near a control is fastened.
        cable_run: what is looked at along every cable run after work near it.
    """

    hole_edge_in: Cited
    flammable_line_in: Cited
    flammable_line_clamped_in: Cited
    movable_control_in: Cited
    support_ft: Cited
    slack_in: Cited
    near_controls: Instruction
    cable_run: Instruction


def wire_clearances(shop: ShopTables | None = None) -> WireClearances:
    """What a wire bundle that was moved for an opening must be clear of afterwards.

    Source: [AC43.13-1B], chapter 11 and par. 7-149j; the clearance to a control [AS50881], seen only restated.

    >>> wire_clearances().hole_edge_in.value
    0.375
    """
    return WireClearances(
        hole_edge_in=limit("wire_to_hole_edge_min", shop),
        flammable_line_in=limit("wire_to_flammable_line_min", shop),
        flammable_line_clamped_in=limit("wire_to_flammable_line_clamped_min", shop),
        movable_control_in=limit("wire_to_movable_control_min", shop),
        support_ft=limit("wire_support_spacing_max", shop),
        slack_in=limit("wire_slack_max", shop),
        near_controls=instruction("wire_near_controls"),
        cable_run=instruction("cable_run_inspection"),
    )
