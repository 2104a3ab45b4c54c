"""Rings round an opening in a square bay, 2024-T3 clad, with rows of rivets at a distance from its edges."""

from __future__ import annotations

from strength.jobs import ANSWERED, SQUARE, running


def box(width: float, height: float, radius: float, center: str = "") -> str:
    """A rounded rectangle as a job writes it."""
    sizes = f'shape = "rounded rectangle"\nwidth = "{width}"\nheight = "{height}"\nradius = "{radius}"\n'
    return sizes + (f"center = {center}\n" if center else "")


def row(name: str, edge: str, distance: float, pitch: float, rivet: str = "MS20470AD4") -> str:
    """A row all round at a distance from the opening's edge or the doubler's."""
    return (
        f'[[rows]]\nname = "{name}"\nlay = "offset"\nrivet = "{rivet}"\nedge = "{edge}"\n'
        f'distance = "{distance}"\npitch = "{pitch}"\n'
    )


def ring_job(
    opening: str, outer: str, *rows: str, skin: float, doubler: float, bay: float, case: dict[str, float]
) -> str:
    """A whole job.

    Args:
        skin: thickness [in].
        doubler: thickness [in].
        bay: half of its side [in].
        case: running loads [lbf/in].
    """
    begins = SQUARE[: SQUARE.index("[opening]")].replace('thickness = ".032"', f'thickness = "{skin}"')
    begins = begins.replace('"-5"', f'"{-bay}"').replace('"5"', f'"{bay}"')
    sheet = (
        f'[doubler]\nalloy = "2024"\ntemper = "T3"\nclad = true\nthickness = "{doubler}"\n[doubler.outer]\n'
    )
    return begins + f"[opening]\n{opening}" + sheet + outer + "".join(rows) + ANSWERED + running(case)
