"""R806, R811: clip nuts.

Spring nuts are not structural: [AC43.13-1B] par. 7-72. Clip nuts by what was measured on the part: common practice, no
source.
"""

from __future__ import annotations

from rules.cases import LAPPED, PASS, STOP, UNKNOWN, Case, cases

SCREWS = "cover.screws."


def filed(x_to: str, *, radius: str = "1", u: str = ".002") -> dict:
    """The edge at X = 2, or all the corners, filed otherwise than drawn."""
    edges = {"shape": "edges", "x_from": "-2", "x_to": x_to, "y_from": "-2", "y_to": "2", "radius": radius}
    return {"as_made": {"uncertainty": u, "opening": edges}}


CASES = (
    Case("R806", PASS, LAPPED, said="8 clip nuts"),
    Case(
        "R806",
        STOP,
        LAPPED,
        {
            SCREWS + "straights_only": False,
            SCREWS + "pitch": None,
            SCREWS + "count": 8,
            SCREWS + "from_tangent": None,
        },
        of="arc",
    ),
    Case("R806", PASS, LAPPED, {"skin.thickness": ".025"}, of="grip"),
    Case("R806", STOP, LAPPED, {"skin.thickness": ".0249"}, of="grip", said="Ask the design"),
    Case("R806", PASS, LAPPED, {"skin.thickness": ".051"}, of="grip"),
    Case("R806", STOP, LAPPED, {"skin.thickness": ".0511"}, of="grip"),
    Case("R806", PASS, LAPPED, {SCREWS + "clip_reach": ".38"}, of="reach"),
    Case("R806", STOP, LAPPED, {SCREWS + "clip_reach": ".3801"}, of="reach", said="misses the nut"),
    # the edge at X = 2 filed .002 back, measured within .002: .003 to .007 off
    Case("R806", PASS, LAPPED, filed("2.002", u=".002"), of="reach"),
    Case(
        "R806",
        UNKNOWN,
        LAPPED,
        filed("2.004", u=".002"),
        of="reach",
        said="can't be shown to pass",
    ),
    Case("R806", STOP, LAPPED, filed("2.0071", u=".002"), of="reach", said="misses the nut"),
    Case("R806", STOP, LAPPED, filed("2.5", u=".002"), of="reach", value=-0.125),
    # the straight side reaches from -1 to 1; filed to another radius it ends elsewhere
    Case("R806", PASS, LAPPED, filed("2", radius=".998"), of="width", value=0.252),
    Case("R806", UNKNOWN, LAPPED, filed("2", radius=".999"), of="width"),
    Case("R806", STOP, LAPPED, filed("2", radius="1.01"), of="width"),
    Case("R806", UNKNOWN, LAPPED, {SCREWS + "clip_reach": None}, said="Measure the reach of the clip nut"),
    Case(
        "R806",
        UNKNOWN,
        LAPPED,
        {SCREWS + "clip_reach": None, SCREWS + "clip_grip": None, SCREWS + "clip_width": None},
        said="clip nut grip, reach and width, not entered",
    ),
    # half of .50 to the end of the straight side
    Case("R806", PASS, LAPPED, {SCREWS + "from_tangent": ".25"}, of="width", value=0.25),
    Case("R806", STOP, LAPPED, {SCREWS + "from_tangent": ".249"}, of="width", said="runs onto the arc"),
    Case("R811", PASS, LAPPED),
    Case("R811", STOP, LAPPED, {"skin.stressed": True}, said="Clip nuts are not structural. Ask"),
)


@cases(*CASES)
def test_clip_nuts(case):
    case.holds()
