"""The sheet to write the readings of a trial in: a readings file, to be filled in, that tells what to do."""

from __future__ import annotations

from hatchwright.job.trial_readings import SCHEMA
from hatchwright.tooling.guide_template import least_corner
from hatchwright.tooling.trial_piece import TrialPiece
from hatchwright.units import decimal_inch

_HEAD = """# Trial cut on scrap: {title}
# Scrap of the same alloy and thickness as the skin: {sheet}.
# {kind} template: make its {edge} {template} along X and Y, corner {corner}; scribe the datum cross on scrap and
# template, align them, pin the template, cut.
# Expected cut: {width} across before filing. Measure at five places or more along X and along Y, in the order of
# the cut, burrs off. Write what the caliper shows; a reading in mm gets mm behind it.
schema = {schema}
units = "in"
piece = "{kind_word}"
size = "{size}"

template_x = ""             # the trial template as made, measured
template_y = ""
template_uncertainty = ""   # standard uncertainty of these two sizes, such as .0005
gauge_limit = ""            # largest error of the caliper by its maker, such as .001

[[cuts]]
turned = false              # true when the template was turned half round from the first cut
x = []                      # such as ["{width}", "{width}", "{width}"]
y = []
# From the datum cross to the edge at the numbered places, or leave the list empty. They show whether the template
# lay off; a second cut with the template turned half round tells that from an eccentric cut.
{places}
edges = []
"""


def trial_sheet(piece: TrialPiece, *, title: str, sheet: str) -> str:
    """Write the sheet of a trial.

    Args:
        piece: the trial piece.
        title: of the job.
        sheet: material and thickness of the skin.
    Returns:
        str: a readings file in TOML, its readings still empty.
    """
    guide = piece.chain.guide
    sides = {
        (1, 0): "right, measured along X",
        (0, 1): "top, along Y",
        (-1, 0): "left, along X",
        (0, -1): "bottom, along Y",
    }
    lines = []
    for number, (place, normal) in enumerate(zip(piece.places, piece.normals, strict=True), start=1):
        heading = (round(float(normal[0])), round(float(normal[1])))
        way = "square to the edge" if piece.kind == "disc" else sides[heading]
        lines.append(f"#   {number:2d}  X {place[0]:+.3f}  Y {place[1]:+.3f}  {way}")
    corner = least_corner(piece.chain.machinable)
    return _HEAD.format(
        title=title.replace("\n", " "),
        sheet=sheet,
        kind="Female" if guide.kind == "female" else "Male",
        edge="window" if guide.kind == "female" else "plug",
        template=decimal_inch(piece.template_in),
        corner=decimal_inch(corner.radius_in) if corner else "none",
        width=decimal_inch(piece.width_in),
        schema=SCHEMA,
        kind_word=piece.kind,
        size=decimal_inch(piece.size_in),
        places="\n".join(lines),
    )
