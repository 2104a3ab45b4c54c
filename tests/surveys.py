"""Site surveys of the two invented bays of the examples, as a mechanic would enter them.

Facts: the examples alder and birch as their own comments tell them; what no example says (stations, u, which route) is
added here and invented like the rest.
"""

from __future__ import annotations

from pathlib import Path

EXAMPLES = Path(__file__).parents[1] / "examples"

ALDER = """
[site]
u = ".01"
seen_from = "outside"
up = "FWD"
thickness = [".0315"]

[[site.rows]]
name = "rib 3"
member = "rib"
x = "0"
diameter = "1/8"

[[site.rows]]
name = "rib 4"
member = "rib"
x = "10.997"
at = "1"
second = "11.004"
second_at = "8"
diameter = "1/8"

[[site.rows]]
name = "spar, aft row"
member = "spar"
y = "0"
diameter = "1/8"

[[site.rows]]
name = "stringer"
member = "stringer"
y = "9.005"
diameter = "1/8"

[[site.flanges]]
name = "rib 3 flange"
x_to = ".34"

[[site.flanges]]
name = "rib 4 flange"
x_from = "10.605"

[[site.flanges]]
name = "spar cap flange"
y_to = ".545"

[[site.flanges]]
name = "stringer flange"
y_from = "8.45"

[[site.hazards]]
name = "aileron push-pull tube"
found_from = "inside"
x_from = "8.2"
x_to = "8.2"
depth = "2.07"
moves = true
photo = "3"

[site.corners]
ab = "11.003"
bc = "9.00"
cd = "10.998"
da = "9.004"
ac = "14.213"
bd = "14.212"

[[site.routes]]
name = "from rib 3"
x_from = "rib 3"
x = "5.503"
y_from = "spar, aft row"
y = "4.498"
u = ".008"

[[site.routes]]
name = "from rib 4"
x_from = "rib 4"
x = "5.497"
y_from = "stringer"
y = "4.503"
u = ".008"
"""

BIRCH = """
[site]
u = ".03"
seen_from = "outside"
up = "FWD"
thickness = [".024"]

[[site.rows]]
name = "rib 5"
member = "rib"
x = "0"
diameter = "1/8"

[[site.rows]]
name = "rib 6"
member = "rib"
x = "5.99"
diameter = "1/8"

[[site.flanges]]
name = "rib 5 flange"
x_to = ".31"

[[site.flanges]]
name = "rib 6 flange"
x_from = "5.69"

[[site.flanges]]
name = "spar flange"
y_to = ".45"

[[site.flanges]]
name = "rear stringer flange"
y_from = "7.12"

[[site.existing]]
at = ["6.00", "3.10"]
diameter = "5/32"

[site.corners]
da = "6.60"
bc = "6.72"
ac = "8.93"
bd = "9.06"

[[site.routes]]
name = "from rib 5"
x_from = "rib 5"
x = "3.01"
y_from = "spar flange"
y = "3.35"

[[site.routes]]
name = "from rib 6"
x_from = "rib 6"
x = "2.99"
y_from = "rear stringer flange"
y = "3.31"
"""


def with_survey(name: str, survey: str, *, without: tuple[str, ...] = ("bay.",)) -> str:
    """An example's text with a survey, and without the entries that the survey is to give back.

    Args:
        without: dotted beginnings of sections that are left out.
    """
    kept, going = [], False
    for line in (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8").splitlines():
        if line.startswith("["):
            section = line.strip("[] ") + "."
            going = any(section.startswith(one) for one in without)
        if not going and not line.startswith("measured ="):
            kept.append(line)
    return "\n".join(kept) + "\n" + survey
