"""Old beside new: the answers that differ between two states of a job."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator

from msgspec import Struct

from hatchwright.finding import Finding
from hatchwright.judged import FLOAT_NOISE, Status
from hatchwright.said import Said


class ChangedFinding(Struct, frozen=True):
    """One answer in both states, None where a state has none."""

    old: Finding | None
    new: Finding | None

    @property
    def shown(self) -> Finding:
        """The one that is told: the new, where there is one."""
        found = self.new or self.old
        assert found is not None  # one of them is there
        return found

    @property
    def is_of_status(self) -> bool:
        """Whether the answer itself changes, not only its number; one that passes is as good as none."""
        return _status(self.old) is not _status(self.new)


def changed_findings(old: Iterable[Finding], new: Iterable[Finding]) -> tuple[ChangedFinding, ...]:
    """Every answer that differs, paired by code, cause, subject and holes: changed answers first, then numbers."""
    before, after = _by_subject(old), _by_subject(new)
    found = [
        pair
        for key in dict.fromkeys([*after, *before])
        for pair in _pairs(before[key], after[key])
        if _differs(pair)
    ]
    return tuple(sorted(found, key=lambda one: (not one.is_of_status, one.shown.status.severity)))


def _by_subject(findings: Iterable[Finding]) -> dict[Hashable, list[Finding]]:
    found: dict[Hashable, list[Finding]] = defaultdict(list)
    for one in findings:
        found[question_of(one)].append(one)
    return found


def question_of(finding: Finding) -> Hashable:
    """What a finding answers, alike in both states: its code, the names in its subject, its cause and its holes; of
    many holes none, for which of them are told changes with the answer."""
    holes = tuple(sorted(finding.holes)) if len(finding.holes) <= 2 else ()
    return finding.code, names_in(finding.subject), finding.cause, holes


def names_in(subject: Said | str) -> tuple[str, ...]:
    """What names a subject in both states, such as a side or a row; its figures change."""
    if isinstance(subject, str):
        return (subject,)
    return tuple(value for _, value in subject.values if isinstance(value, str))


def _pairs(old: list[Finding], new: list[Finding]) -> Iterator[ChangedFinding]:
    for k in range(max(len(old), len(new))):
        yield ChangedFinding(old[k] if k < len(old) else None, new[k] if k < len(new) else None)


def _differs(pair: ChangedFinding) -> bool:
    if pair.is_of_status:
        return True
    if pair.old is None or pair.new is None:
        return False
    was, now = pair.old.value, pair.new.value
    if was is None or now is None:
        return was is not now
    return abs(was - now) > FLOAT_NOISE


def _status(finding: Finding | None) -> Status:
    return finding.status if finding else Status.PASS
