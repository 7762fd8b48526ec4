"""Texts of the commands that show rules, wrapped to the width of the terminal."""

from __future__ import annotations

import os
import textwrap
from functools import cache
from typing import TYPE_CHECKING, Any

from tempwitness.rulebook.words import CONFIRMED_WORDS, stage_words, test_words, when_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["compare_text", "explain_text", "list_text", "place_text", "show_text"]

Table = dict[str, Any]

_NARROWEST, _USUAL, _WIDEST = 40, 80, 100
_GLUE = "\N{NO-BREAK SPACE}"  # keeps a figure and its degree sign on one line
_NO_STAGE = "equipment and papers"


def list_text(codes: Sequence[Table]) -> str:
    """Return one entry a code: id, title, edition, how many requirements, and its weight."""
    lines = []
    for code in codes:
        head, requirements = code["head"], code["requirements"]
        weights = ", ".join(sorted({r["weight"] for r in requirements}))
        lines += _wrapped(head["id"], 0)
        count = f"{len(requirements)} requirement{'s' if len(requirements) > 1 else ''}"
        lines += _wrapped(f"{head['title']}, {head['edition']}: {count} ({weights})", 2)
    return "\n".join(lines)


def place_text(adoption: Table) -> str:
    """Return what is in force in a place: the code, for whom, since when and by which text."""
    dates = [
        f"{word} {adoption[key]}"
        for key, word in (("begins", "from"), ("ends", "until"))
        if adoption[key]
    ]
    business = ", ".join(_plain_word(b) for b in adoption["business"]) or "all businesses"
    lines = _wrapped(f"{adoption['code']}: {adoption['name']} ({adoption['place']})", 0)
    lines += _wrapped("; ".join([business, *dates, f"by {adoption['by']}"]), 2)
    if adoption["note"]:
        lines += _wrapped(adoption["note"], 2)
    lines += _wrapped(CONFIRMED_WORDS[adoption["confirmed"]], 2)
    return "\n".join(lines)


def _plain_word(word: str) -> str:
    return word.replace("_", " ")


def show_text(code: Table) -> str:
    """Return a code's head and each requirement with figures, section and confirmation."""
    head = code["head"]
    lines = _wrapped(f"{head['title']}, {head['edition']} ({head['issuer']})", 0)
    lines += _wrapped(head["authority"], 0)
    if "note" in head:
        lines += _wrapped(head["note"], 0)
    for requirement in code["requirements"]:
        lines += ["", *_requirement_lines(requirement)]
    return "\n".join(lines)


def explain_text(code_id: str, requirement: Table) -> str:
    """Return everything that is known of one requirement."""
    from tempwitness.rulebook.sources import citation  # noqa: PLC0415 - only this text needs it

    lines = _wrapped(f"{code_id}#{requirement['id']}", 0)
    lines += _requirement_lines(requirement)
    for label, key in (("why", "why"), ("note", "note"), ("to ask", "question")):
        if requirement.get(key):
            lines += _wrapped(f"{label}: {requirement[key]}", 2)
    for action in requirement.get("actions", []):
        lines += _wrapped(_action(action), 2)
    for key in requirement["source"]:
        lines += _wrapped(f"source: {citation(key)}", 2)
    lines += _wrapped(f"written in {requirement['file']}", 2)
    return "\n".join(lines)


def compare_text(codes: Sequence[Table]) -> str:
    """Return, for each stage, what each code asks of it."""
    lines: list[str] = []
    for stage in _stages(codes):
        lines += [""] if lines else []
        lines.append(stage.replace("_", " "))
        for code in codes:
            lines += _wrapped(code["head"]["id"], 2)
            asked = [r for r in code["requirements"] if stage in _stages_of(r)]
            for requirement in asked:
                lines += _wrapped(
                    f"{requirement['title']}: {test_words(requirement['test'])}"
                    f" [{requirement['section']}]{_doubt(requirement)}",
                    4,
                )
            if not asked:
                lines += _wrapped("nothing", 4)
    return "\n".join(lines)


def _requirement_lines(requirement: Table) -> list[str]:
    kind = requirement.get("class", "")
    lines = _wrapped(f"{requirement['id']}: {requirement['title']}", 0)
    point = f"; {requirement['point']} point" if "point" in requirement else ""
    lines += _wrapped(
        f"{requirement['section']}{f' ({kind})' if kind else ''}; {requirement['weight']}; "
        f"{stage_words(requirement.get('stages', []))}{point}",
        2,
    )
    lines += _test_lines(requirement["test"], 2)
    for phrase in when_words(requirement.get("when", {})):
        lines += _wrapped(phrase, 4)
    for other in requirement.get("alternatives", []):
        lines += _alternative_lines(other)
    lines += _wrapped(CONFIRMED_WORDS[requirement["confirmed"]], 2)
    return lines


def _alternative_lines(other: Table) -> list[str]:
    lines = _wrapped(f"or {other['id']}: {other['title']} [{other['section']}]", 2)
    lines += _test_lines(other["test"], 4)
    phrases = when_words(other.get("when", {}))
    for key, word in (("requires", "all of"), ("requires_any", "any of")):
        if other.get(key):
            phrases.append(f"{word} these met: {', '.join(other[key])}")
    for phrase in phrases:
        lines += _wrapped(phrase, 6)
    if other.get("question"):
        lines += _wrapped(f"to ask: {other['question']}", 6)
    return lines


def _test_lines(test: Table, indent: int) -> list[str]:
    """Give a ladder one line a row; any other test is one sentence."""
    rows = test.get("rows", [])
    if len(rows) < 2:
        return _wrapped(test_words(test), indent)
    lines = _wrapped("reaches any one row, never mixed:", indent)
    for row in rows:
        lines += _wrapped(test_words({"form": "reach", "rows": [row]})[8:], indent + 2)
    return lines


def _action(action: Table) -> str:
    verdicts = " or ".join(v.replace("_", " ") for v in action["on"])
    by = f" (within {action['within']})" if "within" in action else ""
    otherwise = f" Otherwise: {action['otherwise']}" if action.get("otherwise") else ""
    return f"if {verdicts}: {action['do']}{by}{otherwise} [{action.get('basis', 'code')}]"


def _doubt(requirement: Table) -> str:
    confirmed = requirement["confirmed"]
    return "" if confirmed == "text" else f" ({CONFIRMED_WORDS[confirmed]})"


def _stages(codes: Sequence[Table]) -> Iterable[str]:
    return dict.fromkeys(s for c in codes for r in c["requirements"] for s in _stages_of(r))


def _stages_of(requirement: Table) -> list[str]:
    return requirement.get("stages") or [_NO_STAGE]


def _wrapped(text: str, indent: int) -> list[str]:
    pad, width = " " * indent, _width()
    if indent + len(text) <= width:
        return [pad + text]
    lines = textwrap.wrap(
        text.replace(" °", _GLUE + "°"),
        width,
        initial_indent=pad,
        subsequent_indent=pad + "  ",
        break_on_hyphens=False,
        break_long_words=False,
    )
    return [line.replace(_GLUE, " ") for line in lines]


@cache
def _width() -> int:
    """Return the width to wrap to: ``COLUMNS``, the terminal's own, or the usual 80."""
    asked = os.environ.get("COLUMNS", "")
    try:
        columns = int(asked) if asked.isdigit() else os.get_terminal_size().columns
    except OSError:
        columns = _USUAL
    return min(max(columns, _NARROWEST), _WIDEST)
