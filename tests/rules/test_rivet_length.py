"""R501: rivet length.

Grip + 1.5 D: [NAVEDTRA-14018] ch. 13 rule 8; a shop head no less than 1.3 D wide: [MIL-HDBK-5H] sect. 8.1.2, reckoned
by volume at half a diameter high.
"""

from __future__ import annotations

import pytest

from rules.cases import PASS, PLAIN, RING, STOP, Case, cases, judged


def chosen(reading: str) -> list[dict[str, str]]:
    return [{"rule": "R501", "reading": reading, "reason": "as the shop orders"}]


# skin .032 + doubler .998 = 1.030; + .1875 = 1.2175 = 19.48 sixteenths: -19 makes
# sqrt((.125^2 x .1575 - (.1285^2 - .125^2) x 1.03) / (.5 x .125)) = .1573 = 1.26 D
THICK = {"doubler.thickness": ".998"}

FILL_IN2 = 0.1285**2 - 0.125**2
SHORTEST_IN = 0.072 + ((1.3 * 0.125) ** 2 * 0.0625 + FILL_IN2 * 0.072) / 0.125**2
"""Through .032 + .040 a head of 1.3 D half a D high takes so much length: head^2 x 0.5 D = D^2 (L - g) - fill x g."""

CASES = (
    # 1.829 mm + 1.5 x 3.2 = 6.63 mm: 7 mm is the nearest, and the next up
    Case("R501", PASS, RING, {"rows.0.rivet": "3.2 mm universal 2117"}, said="3.2 x 7 mm universal 2117"),
    # grip .072 + 1.5 x .125 = .2595 = 4.15 sixteenths: -4, -4.5 or -5
    Case(
        "R501",
        PASS,
        RING,
        value=SHORTEST_IN,
        limit=4 / 16,
        said="Order MS20470AD4-4, MS20470AD4-4.5 or MS20470AD4-5.",
    ),
    Case("R501", PASS, RING, {"choices": chosen("next sixteenth")}, limit=5 / 16, said="Order MS20470AD4-5."),
    Case("R501", PASS, RING, THICK, said="References differ; nearest dash length is the default."),
    Case("R501", STOP, RING, {**THICK, "choices": chosen("nearest sixteenth")}, said="makes no shop head"),
    Case("R501", PASS, RING, {**THICK, "choices": chosen("next half sixteenth")}, limit=19.5 / 16),
    # skin .032 + doubler .93261 makes a head of 1.300 D with -18 (see below)
    Case("R501", PASS, RING, {"doubler.thickness": ".9322", "choices": chosen("nearest sixteenth")}),
    Case("R501", STOP, RING, {"doubler.thickness": ".9330", "choices": chosen("nearest sixteenth")}),
    # 1/16: No. 51, .067, from memory in the tables
    Case(
        "R501",
        PASS,
        PLAIN,
        {"rows.0.rivet": "MS20470AD2"},
        value=0.032 + 1.3**2 * 0.5 * 0.0625 + (0.067**2 - 0.0625**2) * 0.032 / 0.0625**2,
    ),
)


@cases(*CASES)
def test_rivet_length(case):
    case.holds()


def test_the_head_of_the_thick_stack_is_that_of_the_hand_calculation():
    (finding,) = judged("R501", RING, THICK)
    nearest = next(one for one in finding.working if one.result.symbol == "head/D")
    by_hand = ((0.125**2 * (19 / 16 - 1.03) - (0.1285**2 - 0.125**2) * 1.03) / 0.0625) ** 0.5 / 0.125
    assert nearest.result.value == pytest.approx(by_hand, rel=1e-9)
    assert by_hand < 1.3


def test_the_grip_at_which_the_nearest_length_makes_just_1_3_diameters():
    # head^2 x 0.5 D = D^2 (18/16 - g) - (.1285^2 - D^2) g, with head = 1.3 D
    fill = 0.1285**2 - 0.125**2
    grip = (0.125**2 * 18 / 16 - (1.3 * 0.125) ** 2 * 0.0625) / (0.125**2 + fill)
    assert grip - 0.032 == pytest.approx(0.93261, abs=1e-5)


def test_the_calculated_length_stands_in_the_working():
    # grip .032 + .040, and 1.5 x .125 for the head
    (finding,) = judged("R501", RING)
    (length,) = (one.result.value for one in finding.working if one.result.symbol == "L")
    assert length == pytest.approx(0.072 + 0.1875)
