"""What a kind of job calls things: where an entry `<id>@patch` stands, a flush patch says that in the place of `<id>`.

The choice is made here alone, of whole sentences: rules, drawings and papers name the same ids for every kind of job.
"""

from __future__ import annotations

from msgspec.structs import replace

from hatchwright.finding import Finding
from hatchwright.said import Listed, Said, Value
from hatchwright.words.catalog import HOME, language


def in_words_of(kind: str, what: Value) -> Value:
    """The same as a kind of job says it, in whatever it holds too.

    Args:
        kind: of the job, such as "patch"; "" for an opening, which has no words of its own.

    >>> from hatchwright.said import said
    >>> in_words_of("patch", said("edge.opening_edge")).id
    'edge.opening_edge@patch'
    """
    if not kind:
        return what
    match what:
        case Said():
            own = f"{what.id}@{kind}"
            values = tuple((name, in_words_of(kind, value)) for name, value in what.values)
            return Said(own if own in language(HOME) else what.id, values)
        case Listed():
            return Listed(tuple(in_words_of(kind, item) for item in what.items), what.joined)
        case _:
            return what


def said_of(kind: str, what: Said) -> Said:
    """The same of one sentence or name."""
    told = in_words_of(kind, what)
    assert isinstance(told, Said)  # what is said stays so
    return told


def finding_of(kind: str, finding: Finding) -> Finding:
    """A finding as a kind of job says it."""
    if not kind:
        return finding
    subject, *advice = (
        said_of(kind, one) if isinstance(one, Said) else one for one in (finding.subject, *finding.advice)
    )
    return replace(finding, subject=subject, advice=tuple(advice))
