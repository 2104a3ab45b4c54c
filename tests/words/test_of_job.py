"""What a kind of job calls things: whole sentences chosen by their ids, in whatever holds them, and nothing else."""

from __future__ import annotations

from hatchwright.finding import held
from hatchwright.judged import Bound, Judgement, Measure
from hatchwright.remedy import ASK
from hatchwright.said import Listed, inch, said
from hatchwright.words.of_job import finding_of, in_words_of
from hatchwright.words.tell import tell
from hatchwright.workings import Grade, Source


def test_a_patch_has_its_own_words_within_sentences_and_lists():
    edge = said("edge.opening_edge")
    assert tell(in_words_of("patch", edge)) == "cut-out edge"
    corner = in_words_of("patch", said("corner.smallest", edge=edge))
    assert tell(corner) == "smallest corner of the cut-out edge"
    parts = Listed((said("part.skin"), said("part.doubler"), "as typed"))
    assert tell(in_words_of("patch", parts)) == "skin, patch doubler and as typed"


def test_an_opening_keeps_its_words_and_what_has_no_others_is_left():
    edge = said("edge.opening_edge")
    assert in_words_of("", edge) is edge
    assert in_words_of("patch", ASK) == ASK
    assert in_words_of("patch", inch(1.0)) == inch(1.0)


def test_a_finding_changes_its_words_and_no_number():
    judged = Judgement(Measure("R", 0.2), (Bound(0.25, Source("PRACTICE", "corners"), Grade.PRACTICE),))
    found = held("R301", judged, said("corner.smallest", edge=said("edge.opening_edge")), ASK, holes=(3,))
    told = finding_of("patch", found)
    assert tell(told.subject) == "smallest corner of the cut-out edge"
    assert (told.code, told.judged, told.holes, told.advice) == ("R301", judged, (3,), (ASK,))
    assert finding_of("", found) is found
