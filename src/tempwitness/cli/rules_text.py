"""Texts of the commands that show rules, wrapped to the width of the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.cli.wrapping import wrapped
from tempwitness.rulebook.words import CONFIRMED_WORDS, stage_words, test_words, when_words

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["explain_text", "list_text", "place_text", "show_text"]

Table = dict[str, Any]


def list_text(codes: Sequence[Table]) -> str:
    """Return one entry a code: id, title, edition, how many requirements, and its weight."""
    lines = []
    for code in codes:
        head, requirements = code["head"], code["requirements"]
        weights = ", ".join(sorted({r["weight"] for r in requirements}))
        lines += wrapped(head["id"], 0)
        count = f"{len(requirements)} requirement{'s' if len(requirements) > 1 else ''}"
        lines += wrapped(f"{head['title']}, {head['edition']}: {count} ({weights})", 2)
    return "\n".join(lines)


def place_text(adoption: Table) -> str:
    """Return what is in force in a place: the code, for whom, since when and by which text."""
    dates = [
        f"{word} {adoption[key]}"
        for key, word in (("begins", "from"), ("ends", "until"))
        if adoption[key]
    ]
    business = ", ".join(_plain_word(b) for b in adoption["business"]) or "all businesses"
    lines = wrapped(f"{adoption['code']}: {adoption['name']} ({adoption['place']})", 0)
    lines += wrapped("; ".join([business, *dates, f"by {adoption['by']}"]), 2)
    if adoption["note"]:
        lines += wrapped(adoption["note"], 2)
    lines += wrapped(CONFIRMED_WORDS[adoption["confirmed"]], 2)
    return "\n".join(lines)


def _plain_word(word: str) -> str:
    return word.replace("_", " ")


def show_text(code: Table) -> str:
    """Return a code's head and each requirement with figures, section and confirmation."""
    head = code["head"]
    lines = wrapped(f"{head['title']}, {head['edition']} ({head['issuer']})", 0)
    lines += wrapped(head["authority"], 0)
    if "note" in head:
        lines += wrapped(head["note"], 0)
    for requirement in code["requirements"]:
        lines += ["", *_requirement_lines(requirement)]
    return "\n".join(lines)


def explain_text(head: Table, requirement: Table) -> str:
    """Return everything that is known of one requirement, with invented examples.

    Parameters
    ----------
    head : dict
        Head of its code, as written.
    requirement : dict
    """
    from tempwitness.rulebook.sources import citation  # noqa: PLC0415 - only this text needs it

    lines = wrapped(f"{head['id']}#{requirement['id']}", 0)
    lines += wrapped(f"{head['title']}, {head['edition']}", 0)
    lines += _requirement_lines(requirement)
    lines += _terms_lines(requirement)
    for label, key in (("why", "why"), ("note", "note"), ("to ask", "question")):
        if requirement.get(key):
            lines += wrapped(f"{label}: {requirement[key]}", 2)
    lines += _example_lines(requirement, head.get("unit", "F"))
    for action in requirement.get("actions", []):
        lines += wrapped(_action(action), 2)
    if requirement.get("instrument"):
        lines += wrapped(f"taken over from: {requirement['instrument']}", 2)
    for key in requirement["source"]:
        lines += wrapped(f"source: {citation(key)}", 2)
    lines += wrapped(f"written in {requirement['file']}", 2)
    lines += wrapped(head["authority"], 0)
    return "\n".join(lines)


def _terms_lines(requirement: Table) -> list[str]:
    """Say what the wording makes of a requirement, its own term, its days and who is asked."""
    lines = []
    for label, key in (("effect", "effect"), ("term", "term"), ("from", "begins"), ("to", "ends")):
        if requirement.get(key):
            lines += wrapped(f"{label}: {requirement[key]}", 2)
    for key, words in (
        ("ask_instead", "where it is broken, the authority is asked what follows"),
        ("breaks_only", "the code gives no leave: keeping the figure proves nothing"),
        ("only_if_read", "no reading is asked for; where there is one, it is judged"),
    ):
        if requirement.get(key):
            lines += wrapped(words, 2)
    return lines


def _example_lines(requirement: Table, unit: str) -> list[str]:
    """Give invented situations, each with the verdict that this requirement alone gives."""
    from tempwitness.rulebook.examples import examples  # noqa: PLC0415 - only this text needs it

    found = examples(requirement, unit)
    if not found:
        return []
    other = " and none of the other ways is kept" if requirement.get("alternatives") else ""
    lines = wrapped(f"for example, invented, where it applies{other}:", 2)
    for example in found:
        lines += wrapped(f"{example.words}: {_plain_word(example.verdict)}", 4)
    return lines


def _requirement_lines(requirement: Table) -> list[str]:
    kind = requirement.get("class", "")
    lines = wrapped(f"{requirement['id']}: {requirement['title']}", 0)
    point = f"; {requirement['point']} point" if "point" in requirement else ""
    lines += wrapped(
        f"{requirement['section']}{f' ({kind})' if kind else ''}; {requirement['weight']}; "
        f"{stage_words(requirement.get('stages', []))}{point}",
        2,
    )
    lines += _test_lines(requirement["test"], 2)
    for phrase in when_words(requirement.get("when", {})):
        lines += wrapped(phrase, 4)
    for other in requirement.get("alternatives", []):
        lines += _alternative_lines(other)
    lines += wrapped(CONFIRMED_WORDS[requirement["confirmed"]], 2)
    return lines


def _alternative_lines(other: Table) -> list[str]:
    lines = wrapped(f"or {other['id']}: {other['title']} [{other['section']}]", 2)
    lines += _test_lines(other["test"], 4)
    phrases = when_words(other.get("when", {}))
    for key, word in (("requires", "all of"), ("requires_any", "any of")):
        if other.get(key):
            phrases.append(f"{word} these met: {', '.join(other[key])}")
    for phrase in phrases:
        lines += wrapped(phrase, 6)
    if other.get("question"):
        lines += wrapped(f"to ask: {other['question']}", 6)
    return lines


def _test_lines(test: Table, indent: int) -> list[str]:
    """Give a ladder one line a row; any other test is one sentence."""
    rows = test.get("rows", [])
    if len(rows) < 2:
        return wrapped(test_words(test), indent)
    lines = wrapped("reaches any one row, never mixed:", indent)
    for row in rows:
        lines += wrapped(test_words({"form": "reach", "rows": [row]})[8:], indent + 2)
    return lines


def _action(action: Table) -> str:
    verdicts = " or ".join(v.replace("_", " ") for v in action["on"])
    by = f" (within {action['within']})" if "within" in action else ""
    otherwise = f" Otherwise: {action['otherwise']}" if action.get("otherwise") else ""
    return f"if {verdicts}: {action['do']}{by}{otherwise} [{action.get('basis', 'code')}]"
