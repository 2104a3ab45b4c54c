"""R917, R919 to R923: mounted antennas and other bases.

Bonding: [AVIONICS-MANUAL], seen only restated; joints are not watertight: [FAA-H-8083-31] ch. 4; drag: [AC43.13-2B] ch.
3, from memory. Half an inch from a member, two and three diameters for screws: common practice, no source.
"""

from __future__ import annotations

from rules.cases import CAUTION, PASS, PLAIN, RING, STOP, UNKNOWN, Case, cases, judged


def antenna(**more: object) -> dict:
    return {"mount": {"kind": "antenna", "base": ["3", "3"], **more}}


def frame(x: str) -> dict:
    return {**antenna(), "bay.rows": [{"name": "frame", "member": "frame", "x": x}]}


def screws(x: str) -> dict:
    """Four No. 8 screws at half of X and at Y = 0.5 from the center."""
    return {"mount": {"kind": "other", "base": ["5", "2"], "screw_size": "8-32", "screw_pattern": [x, "1"]}}


CASES = (
    Case("R917", PASS, RING, antenna(bonded=False)),
    Case("R917", CAUTION, RING, antenna(bonded=True), said="bonding against paint"),
    Case("R917", UNKNOWN, RING, antenna(), said="antenna's manual"),
    Case("R919", PASS, RING, antenna(sealed=True), said="drain path"),
    Case("R919", CAUTION, RING, antenna(sealed=False), said="Seal the base"),
    Case("R919", UNKNOWN, RING, antenna()),
    Case("R920", CAUTION, RING, antenna(nearest_antenna="24"), said="both antennas' manuals"),
    Case("R920", PASS, RING, antenna(nearest_antenna="24", least_distance="24"), value=24, limit=24),
    Case("R920", STOP, RING, antenna(nearest_antenna="23.999", least_distance="24"), said=".001 short"),
    Case("R920", UNKNOWN, RING, antenna()),
    Case("R921", PASS, RING, frame("2.9"), said="doubler reaches frame"),
    Case("R921", CAUTION, RING, frame("3.1"), said="Show that the skin carries the drag. Ask"),
    # the doubler's edge lies at X = 3
    Case("R922", PASS, RING, frame("3.5"), value=0.5),
    Case("R922", CAUTION, RING, frame("3.499"), said="Ask the design approval holder"),
    Case("R922", PASS, RING, frame("2.9")),
    # 2 x .164 = .328 from the opening's edge at X = 2 and the doubler's at X = 3
    Case("R923", PASS, RING, screws("4.656"), of="opening edge", value=0.328, limit=0.328),
    Case("R923", CAUTION, RING, screws("4.655"), of="opening edge", said=".001 short"),
    Case("R923", PASS, RING, screws("5.344"), of="outer edge", value=0.328),
    Case("R923", CAUTION, RING, screws("5.345"), of="outer edge"),
    # no metal all round: nearer than half of .164 to an edge, or in the opening; a screw clear of the doubler goes
    # through the skin alone
    Case("R923", CAUTION, RING, screws("4.164"), of="opening edge", value=0.082),
    Case("R923", STOP, RING, screws("4.163"), of="opening edge"),
    Case("R923", STOP, RING, screws("3"), of="opening edge", value=-0.5),
    Case("R923", CAUTION, RING, screws("5.836"), of="outer edge", value=0.082),
    Case("R923", STOP, RING, screws("5.837"), of="outer edge"),
    Case("R923", STOP, RING, screws("6.163"), of="outer edge"),
    Case("R923", CAUTION, RING, screws("6.165"), of="outer edge"),
    Case("R923", UNKNOWN, RING, antenna(), said="Enter the base's screw size"),
    # 3 x .164 = .492 from the rivet at (2.3, 0): screws at Y = .5
    Case("R923", PASS, RING, {**screws("4.6"), "rows.0.points": [["2.3", ".008"]]}, of="rivet", value=0.492),
    Case("R923", CAUTION, RING, {**screws("4.6"), "rows.0.points": [["2.3", ".009"]]}, of="rivet"),
    Case(
        "R923", CAUTION, RING, {**screws("4.6"), "rows.0.points": [["2.3", ".336"]]}, of="rivet", value=0.164
    ),
    Case("R923", STOP, RING, {**screws("4.6"), "rows.0.points": [["2.3", ".337"]]}, of="rivet"),
)


@cases(*CASES)
def test_mount(case):
    case.holds()


def test_without_a_mount_nothing_is_asked():
    for code in ("R917", "R919", "R920", "R921", "R922", "R923", "R924", "R925", "R926"):
        assert judged(code, PLAIN) == []
