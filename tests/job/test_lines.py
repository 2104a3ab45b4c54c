"""Lines of keys, with multi-line arrays and strings between them."""

from __future__ import annotations

from hatchwright.job.lines import line_of_each_key

TEXT = '''a = 1
b = [
  1, # ] not the end
  "c = 2",
]
s = """
x = 5
"""
[t]
y = 1
[[r]]
z = "#"
[[r]]
z = 2
[r.inner]
w = 1
[t.u]
"odd key" = 3
'''


def test_every_key_has_its_line_and_nothing_inside_values_counts():
    assert line_of_each_key(TEXT) == {
        "a": 1,
        "b": 2,
        "s": 6,
        "t": 9,
        "t.y": 10,
        "r": 11,
        "r.0": 11,
        "r.0.z": 12,
        "r.1": 13,
        "r.1.z": 14,
        "r.1.inner": 15,
        "r.1.inner.w": 16,
        "t.u": 17,
        "t.u.odd key": 18,
    }
