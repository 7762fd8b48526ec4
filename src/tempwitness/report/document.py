"""The evaluation as one line of JSON."""

from __future__ import annotations

import json
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import lru_cache
from typing import TYPE_CHECKING

from tempwitness.errors import ReportError

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.status import Status

__all__ = ["to_json"]


def to_json(evaluation: Evaluation | Status) -> str:
    """Write an evaluation, or a status, as JSON on one line, keys in the order of the schema.

    Parameters
    ----------
    evaluation : Evaluation or Status

    Returns
    -------
    str
        Text without a line end. Durations are numbers [s], moments are ISO 8601.

    Raises
    ------
    ReportError
        If a number in it is not finite, which JSON cannot hold.
    """
    try:
        return json.dumps(_tree(evaluation), ensure_ascii=False, allow_nan=False)
    except ValueError as error:
        raise ReportError(
            "a duration in the evaluation is infinite or not a number, which JSON cannot hold",
            hint="this is a fault of the program; report it with the record",
        ) from error


@lru_cache(maxsize=64)
def _names(kind: type) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


def _tree(value: object) -> object:
    if isinstance(value, tuple):
        return [_tree(entry) for entry in value]
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value):
        kind: type = type(value)
        return {name: _tree(getattr(value, name)) for name in _names(kind)}
    return value
