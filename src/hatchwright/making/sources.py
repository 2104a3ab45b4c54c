"""What the making rests on where no document is behind it: our own closed forms, the shop's measurements, practice."""

from __future__ import annotations

from hatchwright.workings import Source

CLOSED_FORM = Source("GEOMETRY", "docs/theory/guide_template.md")
"""Where the closed forms of the template stand."""

SHOP = Source("PRACTICE", "the shop's own measurement of the tool")
"""What a shop measured on its own tool."""
