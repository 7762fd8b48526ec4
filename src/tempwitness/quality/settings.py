"""The figures of the quality tests, read from the rule files."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from tempwitness.errors import RuleError
from tempwitness.model.vocabulary import Place
from tempwitness.rulebook.files import rules_folder

if TYPE_CHECKING:
    from collections.abc import Mapping

__all__ = ["Figures", "Mark", "Span", "figures"]


@dataclass(frozen=True, slots=True)
class Span:
    """Least and greatest plausible value [°F], before doubt and before failure."""

    suspect: tuple[float, float]
    fail: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Mark:
    """A figure that an instrument writes when it has no reading.

    Parameters
    ----------
    value : float
    scale : {"f", "c", "any"}
        On which scale it is such a mark.
    why : str
    """

    value: float
    scale: str
    why: str


@dataclass(frozen=True, slots=True)
class Figures:
    """Figures of the quality tests [°F, s, °F/min]."""

    gap: float
    never: tuple[Mark, ...]
    sometimes: tuple[Mark, ...]
    jump: float
    same: float
    spans: Mapping[Place, Span]
    rate: float
    window: float
    least: float
    back: float
    back_rate: float
    note_within: float
    spike: float
    agree: float
    margin: float
    differ: float
    raw: float
    apart: float


def _table() -> dict[str, Any]:
    """Return the file of figures as it is written.

    Raises
    ------
    RuleError
        If it is missing or not TOML.
    """
    path = rules_folder() / "quality" / "defaults.toml"
    try:
        return tomllib.loads(path.read_text("utf-8"))
    except (OSError, tomllib.TOMLDecodeError) as why:
        raise RuleError(
            f"the figures of the quality tests cannot be read ({why})",
            hint="install the package again; the wheel carries its rule files",
        ) from None


@cache
def figures() -> Figures:
    """Return the figures of the quality tests."""
    read = _table()
    sentinel, step, spike = read["sentinel"], read["step"], read["spike"]
    return Figures(
        gap=read["gap"]["longest"],
        never=_marks(sentinel["never"]),
        sometimes=_marks(sentinel["sometimes"]),
        jump=sentinel["jump"],
        same=sentinel["same"],
        spans={place: _span(read["range"][place.value]) for place in Place},
        rate=step["rate"],
        window=step["window"],
        least=step["least"],
        back=step["back"],
        back_rate=step["back_rate"],
        note_within=step["note_within"],
        spike=spike["least"],
        agree=spike["agree"],
        margin=read["surroundings"]["margin"],
        differ=read["duplicate"]["differ"],
        raw=read["order"]["raw"],
        apart=read["order"]["apart"],
    )


def _span(entry: dict[str, Any]) -> Span:
    (low, high), (lowest, highest) = entry["suspect"], entry["fail"]
    return Span((low, high), (lowest, highest))


def _marks(entries: list[dict[str, Any]]) -> tuple[Mark, ...]:
    return tuple(
        Mark(float(entry[scale]), scale, entry["why"])
        for entry in entries
        for scale in ("f", "c", "any")
        if scale in entry
    )
