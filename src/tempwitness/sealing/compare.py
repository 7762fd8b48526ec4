"""Two evaluations of one lot, and how they differ."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

__all__ = ["Differences", "differences"]

Tree = dict[str, Any]

#: Of a finding: what makes another answer of it. All else is how it is told.
_WEIGHTY = ("verdict", "limit", "weight", "deadline", "figures")
_TOLD_APART = ("schema", "tool", "findings", "verdict")
_NOT_APPLICABLE = "not_applicable"
_NEAR = 1e-9
_NEAR_ZERO = 1e-6


@dataclass(frozen=True, slots=True)
class Differences:
    """How a second evaluation differs from the first.

    Parameters
    ----------
    answers : tuple of str
        Other answers, one line each.
    words : tuple of str
        The same answers, otherwise told or measured.
    """

    answers: tuple[str, ...]
    words: tuple[str, ...]


def differences(sealed: Tree, now: Tree) -> Differences:
    """Compare two evaluations, each as the tree of its JSON document.

    Keys that only one of them has are left out, so that documents of two versions can be compared.
    """
    answers: list[str] = []
    words: list[str] = []
    if sealed.get("verdict") != now.get("verdict"):
        answers.append(
            f"the answer was sealed as {_word(sealed.get('verdict'))}, now it is "
            f"{_word(now.get('verdict'))}"
        )
    first, second = _keyed(sealed), _keyed(now)
    for key in dict.fromkeys((*first, *second)):
        if key not in second:
            answers += _lone(key, first[key], "was sealed as {}, now there is none")
        elif key not in first:
            answers += _lone(key, second[key], "was not there, now it is {}")
        else:
            _one(key, (first[key], second[key]), answers, words)
    words += _parts(sealed, now)
    return Differences(tuple(answers), tuple(words))


def _keyed(tree: Tree) -> dict[str, Tree]:
    """Findings by a name that a person can follow; a second one of that name is counted."""
    found: dict[str, Tree] = {}
    for finding in tree.get("findings", ()):
        where = " ".join(str(finding.get(k) or "") for k in ("stage", "stage_number", "piece"))
        name = f"{finding.get('requirement')} ({' '.join(where.split())})"
        count = 1
        key = name
        while key in found:
            count += 1
            key = f"{name}, no. {count}"
        found[key] = finding
    return found


def _lone(key: str, finding: Tree, words: str) -> list[str]:
    """Say that a finding is only in one of two; one that does not apply says nothing."""
    verdict = finding.get("verdict")
    return [] if verdict == _NOT_APPLICABLE else [f"{key} {words.format(_word(verdict))}"]


def _one(key: str, pair: tuple[Tree, Tree], answers: list[str], words: list[str]) -> None:
    sealed, now = pair
    names = [n for n in sealed if n in now and not _same(sealed[n], now[n])]
    weighty = [name for name in _WEIGHTY if name in names]
    if "verdict" in weighty:
        was, is_now = (_word(finding.get("verdict")) for finding in pair)
        answers.append(f"{key} was sealed as {was}, now it is {is_now}")
    elif weighty:
        answers.append(f"{key} is {_word(now.get('verdict'))} as before, by another {weighty[0]}")
    elif names:
        words.append(f"{key}: {', '.join(names)}")


def _parts(sealed: Tree, now: Tree) -> list[str]:
    return [
        f"the part '{name}' of the evaluation"
        for name in sealed
        if name in now and name not in _TOLD_APART and not _same(sealed[name], now[name])
    ]


def _same(one: object, other: object) -> bool:
    """Whether two trees say the same; figures may differ by what machines round differently."""
    if isinstance(one, dict) and isinstance(other, dict):
        return all(_same(one[key], other[key]) for key in one.keys() & other.keys())
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(_same, one, other))
    if isinstance(one, float) or isinstance(other, float):
        numbers = isinstance(one, int | float) and isinstance(other, int | float)
        return numbers and math.isclose(one, other, rel_tol=_NEAR, abs_tol=_NEAR_ZERO)  # type: ignore[arg-type]
    return one == other


def _word(verdict: object) -> str:
    return str(verdict).replace("_", " ")
