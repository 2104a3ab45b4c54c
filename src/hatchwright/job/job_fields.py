"""The fields of a job's sections as its models describe them: read once, so that neither page nor form can miss one."""

from __future__ import annotations

import types
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from msgspec import Struct

from hatchwright.job.bracketed import Bracketed
from hatchwright.job.entry import Diameter, Entered, NotNegative, Positive, Size
from hatchwright.job.entry_words import help_of, label_of
from hatchwright.job.fasteners import SCREW_HEADS, cover_nuts
from hatchwright.tables.materials import known_sheet
from hatchwright.units import Length
from hatchwright.words.tell import tell

Kind = Literal["length", "coordinate", "diameter", "words", "one of", "yes or no", "count", "amount"]
"""What a single value is."""

_PAIR = tuple[Length, Length]


class JobField(Struct, frozen=True):
    """One field of a section.

    Args:
        required: whether the section cannot do without it.
        holds: a single value, a pair of lengths, a section, or a list.
        kind: of a single value, of each length of a pair, or of each value of a list.
        models: of a section or of each line of a list: none for plain values, one, or the forms to choose from.
        is_point: whether a pair, or each line of a list, is a pair of lengths named X and Y.
    """

    name: str
    label: str
    help: str
    required: bool
    holds: Literal["value", "pair", "section", "list"]
    kind: Kind
    choices: tuple[str, ...] = ()
    models: tuple[type[Entered], ...] = ()
    is_point: bool = False

    @property
    def is_bracketed(self) -> bool:
        """Whether each line of a list is bare values in brackets, in the order of the model's fields."""
        return self.holds == "list" and len(self.models) == 1 and issubclass(self.models[0], Bracketed)

    @property
    def discriminator(self) -> str:
        """Name of the field by which the forms of a section are told apart, "" when it has one form."""
        return _own_word(self.models[0])[0] if len(self.models) > 1 else ""

    def form(self, word: object) -> tuple[type[Entered], ...]:
        """The model of the form that a section takes by its word, none when the word is not known."""
        if len(self.models) <= 1:
            return self.models
        return tuple(model for model in self.models if _own_word(model)[1] == word)

    def words(self) -> tuple[str, ...]:
        """The words that the discriminator may say."""
        return tuple(map(self.word_of, self.models))

    def word_of(self, model: type[Entered]) -> str:
        """The word by which one form is told from its sisters."""
        return _own_word(model)[1]


@cache
def fields_of(model: type[Entered]) -> tuple[JobField, ...]:
    """The fields of a model, in its order, without the word that only tells a form from its sisters."""
    return tuple(
        field_of(model, info.alias or name, _marked(info), bool(info.is_required()))
        for name, info in model.model_fields.items()
        if not _is_own_word(info.annotation)
    )


def field_of(model: type[Entered], name: str, annotation: Any, required: bool) -> JobField:
    """Read one field off its annotation."""
    (bare, _), label, help_ = _opened(annotation), tell(label_of(model, name)), tell(help_of(model, name))
    if get_origin(bare) is tuple and get_args(bare)[-1] is Ellipsis:
        item = get_args(bare)[0]
        kind, choices = _kind(item, name)
        is_point = _opened(item)[0] == _PAIR
        return JobField(name, label, help_, required, "list", kind, choices, _models(item), is_point)
    if models := _models(annotation):
        return JobField(name, label, help_, required, "section", "words", models=models)
    if get_origin(bare) is tuple:
        marked = annotation if bare == _PAIR else get_args(bare)[0]
        return JobField(name, label, help_, required, "pair", _kind(marked, name)[0], is_point=bare == _PAIR)
    kind, choices = _kind(annotation, name)
    return JobField(name, label, help_, required, "value", kind, choices)


def fresh(models: tuple[type[Entered], ...]) -> dict[str, Any]:
    """A new section or line: its first form with the required boxes, empty."""
    name, word = _own_word(models[0])
    made: dict[str, Any] = {name: word} if name else {}
    for field in fields_of(models[0]):
        if field.required:
            empty = "" if field.holds == "value" else ["", ""]
            made[field.name] = fresh(field.models) if field.holds == "section" else empty
    return made


def _marked(info: Any) -> Any:
    return Annotated[info.annotation, *info.metadata] if info.metadata else info.annotation


def _is_own_word(annotation: Any) -> bool:
    return get_origin(annotation) is Literal and len(get_args(annotation)) == 1


@cache
def _own_word(model: type[Entered]) -> tuple[str, str]:
    """The field that tells a form from its sisters, and what it says."""
    own = ((info.alias or name, info.annotation) for name, info in model.model_fields.items())
    return next(((name, get_args(word)[0]) for name, word in own if _is_own_word(word)), ("", ""))


def _opened(annotation: Any) -> tuple[Any, list[Any]]:
    """The annotation without None and marks, and every mark that hung on it, below None too."""
    marks: list[Any] = []
    while True:
        if get_origin(annotation) is Annotated:
            annotation, *own = get_args(annotation)
            marks += own
        elif get_origin(annotation) in (Union, types.UnionType) and type(None) in get_args(annotation):
            rest = tuple(arg for arg in get_args(annotation) if arg is not type(None))
            annotation = rest[0] if len(rest) == 1 else Union[rest]  # noqa: UP007  built at run time
        else:
            return annotation, marks


def _models(annotation: Any) -> tuple[type[Entered], ...]:
    bare, _ = _opened(annotation)
    if get_origin(bare) in (Union, types.UnionType):
        return tuple(model for arg in get_args(bare) for model in _models(arg))
    return (bare,) if isinstance(bare, type) and issubclass(bare, Entered) else ()


def _kind(annotation: Any, name: str) -> tuple[Kind, tuple[str, ...]]:
    """What a single value takes, and the words to choose from."""
    bare, marks = _opened(annotation)
    if bare in (Length, _PAIR):
        if get_args(Diameter)[1] in marks:
            return "diameter", ()
        is_size = any(get_args(kind)[1] in marks for kind in (Positive, NotNegative, Size))
        return "length" if is_size else "coordinate", ()
    if get_origin(bare) is Literal:
        return "one of", tuple(str(word) for word in get_args(bare))
    if bare is bool:
        return "yes or no", ("yes", "no")
    if bare is int:
        return "count", ()
    if isinstance(bare, type) and issubclass(bare, float):
        return "amount", ()
    if name in ("alloy", "temper"):
        return "words", tuple(sorted({str(sheet[name == "temper"]) for sheet in known_sheet()}))
    return "words", {"head": SCREW_HEADS, "nut": cover_nuts()}.get(name, ())
