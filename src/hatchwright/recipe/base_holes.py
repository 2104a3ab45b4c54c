"""What the screw holes of a mounted base take: their drill, and its stop."""

from __future__ import annotations

from hatchwright.errors import TableError
from hatchwright.layout.base_screws import base_screw_holes
from hatchwright.layout.layout import Layout
from hatchwright.recipe.stops import Stop, stops_for
from hatchwright.tables.drills import Drill
from hatchwright.tables.screws import clearance_drill


def base_drill(layout: Layout) -> Drill | None:
    """The drill of the base's screws; None without a mount, and where no table lists one for them."""
    mount = layout.job.mount
    if mount is None or not mount.screw_size:
        return None
    try:
        return clearance_drill(mount.screw_size, shop=layout.shop)
    except TableError:
        return None


def base_stop(layout: Layout) -> Stop | None:
    """The stop of that drill; None while the places of the screws are not entered."""
    holes = base_screw_holes(layout)
    return stops_for(layout, holes, holes[0].stack) if holes else None
