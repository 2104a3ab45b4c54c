"""What the documents ask for in words."""

from __future__ import annotations

import pytest

from hatchwright.errors import TableError
from hatchwright.tables.instructions import INSTRUCTIONS, instruction
from hatchwright.tables.limits import RULE_LIMITS
from hatchwright.workings import Grade


@pytest.mark.parametrize(
    ("key", "words", "source", "grade"),
    [
        ("self_locking_nut_access_panels", "access panels", "AC43.13-1B", Grade.PUBLISHED),  # par. 7-64d
        ("same_or_stronger_material", "higher strength", "AC43.13-1B", Grade.PUBLISHED),  # par. 4-58b
        ("icebox_rivets", "20 minutes", "NAVEDTRA-14315", Grade.PUBLISHED),  # ch. 3
        ("door_over_structure", "screws", "NAVEDTRA-14018", Grade.PUBLISHED),  # ch. 13, page 567
        ("corrosion_step_5", "dissimilar metals", "TM-1-1500-204-23", Grade.PUBLISHED),
        ("approved_data_conditions", "appropriate", "AC43.13-2B", Grade.PUBLISHED),
        ("hot_dimple_materials", "heated dies", "FAA-H-8083-31", Grade.MEMORY),
        ("bend_across_grain", "grain", "PRACTICE", Grade.PRACTICE),
    ],
)
def test_an_instruction(key: str, words: str, source: str, grade: Grade) -> None:
    found = instruction(key)
    assert words in found.text
    assert (found.source.key, found.grade) == (source, grade)
    assert str(found).startswith(found.text)


def test_no_name_is_both_a_limit_and_an_instruction() -> None:
    assert not {row.key for row in INSTRUCTIONS.all()} & {row.key for row in RULE_LIMITS.all()}


def test_an_unknown_instruction() -> None:
    with pytest.raises(TableError, match=r"listed for 'drain_hole'\. Listed by key: drain_holes, "):
        instruction("drain_hole")
