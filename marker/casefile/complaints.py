"""One clear sentence for whatever is wrong with a table: file, key, value, remedy."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from marker.errors import BadInput
from marker.garments.words import shown

Model = TypeVar("Model", bound=BaseModel)

MOST_LISTED = 40
"""Names that a message lists; no table has so many keys."""
WANTED = {
    "int_type": "a whole number",
    "string_type": "text in quotes",
    "bool_type": "true or false",
    "dict_type": "a table",
    "model_type": "a table",
    "list_type": "a list in square brackets",
}


def validate(model: type[Model], table: Any, file: str, at: tuple[str, ...]) -> Model:
    """Read a table into its model; `at` is where it stands in the file.

    Raises `BadInput` for the first thing wrong; an unknown key comes first, since it is
    mostly why another is missing.
    """
    try:
        return model.model_validate(table)
    except ValidationError as error:
        errors = sorted(error.errors(), key=lambda e: e["type"] != "extra_forbidden")
        raise BadInput(f"{file}: {_sentence(model, errors[0], at)}") from None


def nearest(word: str, known: list[str]) -> str:
    """Name the known word most like `word`, or all of them if none is."""
    close = difflib.get_close_matches(word.lower(), known, n=1, cutoff=0.5)
    if close:
        return f"did you mean {close[0]!r}?"
    return f"the keys here are: {listed(known)}"


def listed(names: Iterable[str]) -> str:
    """Names in a row; of very many the first, and how many more there are."""
    every = list(names)
    more = f" and {len(every) - MOST_LISTED} more" if len(every) > MOST_LISTED else ""
    return ", ".join(every[:MOST_LISTED]) + more


def _sentence(model: type[BaseModel], error: Any, at: tuple[str, ...]) -> str:
    places = tuple(str(place) for place in error["loc"])
    key = ".".join(at + tuple(_place(place) for place in error["loc"])).replace(".(", " (")
    key = key or "the file"
    kind, value = error["type"], error["input"]
    if kind == "extra_forbidden":
        parent = _model_at(model, places[:-1])
        known = [name for name in parent.model_fields if name.isascii()]
        return f"{_clean(key)} is not a key; {nearest(places[-1], known)}"
    remedy = _remedy(model, places)
    if kind == "missing":
        return f"{key} is missing{remedy}"
    if kind == "said":
        return f"{key}: {error['ctx']['text']}"
    if kind == "literal_error":
        return f"{key} is {shown(value)}; write {error['ctx']['expected']}"
    if kind == "too_long":
        many, most = error["ctx"]["actual_length"], error["ctx"]["max_length"]
        return f"{key} has {many} entries; {most} are the most"
    if kind in WANTED:
        return f"{key} is {shown(value)}, not {WANTED[kind]}{remedy}"
    # a bound: pydantic says which, such as "should be less than or equal to 1000"
    return f"{key} is {shown(value)}, but {error['msg'].removeprefix('Input ')}{remedy}"


def _place(place: str | int) -> str:
    """A step on the way to a value; those of a list are counted from 1, as people do."""
    return f"(number {place + 1})" if isinstance(place, int) else place


def _remedy(model: type[BaseModel], places: tuple[str, ...]) -> str:
    parent = _model_at(model, places[:-1])
    field = parent.model_fields.get(places[-1]) if places else None
    return f"; give {field.description}" if field and field.description else ""


def _model_at(model: type[BaseModel], places: tuple[str, ...]) -> type[BaseModel]:
    """The model of a table within a table."""
    for place in places:
        field = model.model_fields.get(place)
        inner = next(_models(field.annotation), None) if field else None
        model = inner or model
    return model


def _models(annotation: Any) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for part in get_args(annotation):
        yield from _models(part)


def _clean(key: str) -> str:
    """A key as it may be printed: one the file makes up may hold anything."""
    return key if key.isprintable() and len(key) <= 120 else shown(key)
