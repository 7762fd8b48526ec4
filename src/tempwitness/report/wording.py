"""How the terms of an evaluation are worded on every output."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Confirmed, Verdict, Weight

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tempwitness.model.finding import Action, CodeUsed, Evaluation, Finding, LotSummary

__all__ = [
    "BASIS",
    "BOUND",
    "CONFIRMED",
    "CONFIRMED_BRIEFLY",
    "EFFECT",
    "MEANING",
    "WEIGHT",
    "WORST_FIRST",
    "action_words",
    "bound",
    "by_urgency",
    "code_line",
    "code_name",
    "counts",
    "counts_words",
    "duration",
    "duration_span",
    "food_line",
    "left_out",
    "plain",
    "questions",
    "stage_words",
    "subject",
    "titled",
    "verdict_word",
]

BOUND = "\u00a0"
_FIGURE = re.compile(r"(?<=\d) (?=(?:°[FC]|h|min|s|d|lb|kg)\b)")

WORST_FIRST = (
    Verdict.NOT_MET,
    Verdict.NOT_SHOWN,
    Verdict.OPEN,
    Verdict.NEEDS_LIMIT,
    Verdict.MET,
    Verdict.NOT_APPLICABLE,
)

MEANING = {
    Verdict.NOT_MET: "the readings show that a requirement was broken",
    Verdict.NOT_SHOWN: "the readings leave room for both answers",
    Verdict.OPEN: "a stage is still running; nothing is broken so far",
    Verdict.NEEDS_LIMIT: "the code asks for a limit of your own, and none is on record",
    Verdict.MET: "the readings show that the requirements were kept",
    Verdict.NOT_APPLICABLE: "no requirement of this code speaks of what is on record",
}

BASIS = {
    "code": "food code",
    "practice": "common practice, not code text",
    "authority": "ask the authority",
}

CONFIRMED = {
    Confirmed.TEXT: "number checked against the published text",
    Confirmed.SECOND_HAND: "number taken second-hand, not from the text itself",
    Confirmed.MEMORY: "number from memory, not checked against any text",
}

CONFIRMED_BRIEFLY = {
    Confirmed.TEXT: "number checked",
    Confirmed.SECOND_HAND: "number second-hand",
    Confirmed.MEMORY: "number from memory",
}

WEIGHT = {
    Weight.LAW: "law",
    Weight.GUIDANCE: "official guidance",
    Weight.STANDARD: "standard",
    Weight.PLANT: "yardstick of inspected plants",
    Weight.PRACTICE: "common practice, no source",
    Weight.HOUSE: "house rule",
}


EFFECT = {
    "offence": "to break it is an offence",
    "defence": "a defence if it is proved, no permission",
    "condition": "a condition of what else it says",
    "target": "a recommended setting, not the legal limit",
}
"""What the wording of a code makes of a requirement; a plain duty needs no words."""


def titled(finding: Finding) -> str:
    """Return the title of a finding's requirement, the code's own term of art behind it."""
    return f"{finding.title} ({finding.term})" if finding.term else finding.title


def verdict_word(verdict: Verdict) -> str:
    """Return the verdict in capitals, as it stands on paper and screen."""
    if verdict is Verdict.NEEDS_LIMIT:
        return "NEEDS A LIMIT"
    return verdict.words.upper()


def plain(text: str) -> str:
    r"""Make one line of a text and show what would steer a terminal or turn the writing round.

    Examples
    --------
    >>> plain("lamb \x1b[31m\nshoulder")
    'lamb �[31m shoulder'
    """
    joined = " ".join(text.split())
    if joined.isascii() and joined.isprintable():
        return joined
    return "".join(c if _harmless(c) else "\ufffd" for c in joined)


def bound(text: str) -> str:
    """Put a space that does not break between every figure and its unit."""
    return _FIGURE.sub(BOUND, text)


def _harmless(character: str) -> bool:
    return unicodedata.category(character) not in {"Cc", "Cf", "Cs", "Co", "Cn"}


def stage_words(stage: str) -> str:
    """Return a stage as it is printed."""
    return stage.replace("_", " ")


def subject(finding: Finding) -> str:
    """Say which stage of which piece a finding speaks of."""
    stage = stage_words(finding.stage) or "the lot"
    return f"{stage}, piece {plain(finding.piece)}" if finding.piece else stage


def duration(seconds: float) -> str:
    """Write a duration in the way of the rules, without importing their models.

    Examples
    --------
    >>> duration(7500)
    '2 h 5 min'
    >>> duration(0)
    '0 s'
    """
    minutes, secs = divmod(round(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{n} {unit}" for n, unit in ((hours, "h"), (minutes, "min"), (secs, "s")) if n]
    return " ".join(parts) or "0 s"


def duration_span(least: float | None, most: float | None) -> str:
    """Write the bounds of a duration [s]; ``""`` where neither is known."""
    if least is None and most is None:
        return ""
    if most is None:
        return f"at least {duration(least or 0.0)}, how much more is not known"
    if least is None:
        return f"at most {duration(most)}"
    if duration(least) == duration(most):
        return duration(least)
    return f"{duration(least)} to {duration(most)}"


def food_line(lot: LotSummary) -> str:
    """Describe the food in one line."""
    known = (stage_words(lot.species), stage_words(lot.form), lot.weight)
    details = ", ".join(plain(part) for part in known if part)
    return f"{plain(lot.food)} ({details})" if details else plain(lot.food)


def code_name(code: CodeUsed) -> str:
    """Name a code with its edition."""
    edition = f", {code.edition}" if code.edition and code.edition not in code.title else ""
    return plain(f"{code.title}{edition}")


def code_line(code: CodeUsed) -> str:
    """Name a code with its edition and its id."""
    return plain(f"{code_name(code)} [{code.id}]")


def by_urgency(findings: Iterable[Finding]) -> list[Finding]:
    """Put the worst verdicts first and keep the order within each."""
    return sorted(findings, key=lambda f: WORST_FIRST.index(f.verdict))


def left_out(evaluation: Evaluation) -> list[tuple[str, str, str, str]]:
    """Return what does not apply to a stage, once for all pieces: title, where, why, section."""
    places: dict[tuple[str, str, str], dict[str, list[str]]] = {}
    for finding in evaluation.findings:
        if finding.verdict is Verdict.NOT_APPLICABLE and finding.stage:
            stages = places.setdefault((finding.title, finding.reason, finding.citation), {})
            stages.setdefault(stage_words(finding.stage), []).append(finding.piece)
    return [
        (title, "; ".join(_where(s, p) for s, p in stages.items()), reason, citation)
        for (title, reason, citation), stages in places.items()
    ]


def _where(stage: str, pieces: list[str]) -> str:
    named = ", ".join(plain(piece) for piece in dict.fromkeys(pieces) if piece)
    return f"{stage}: {named}" if named else stage


def counts(evaluation: Evaluation) -> list[tuple[Verdict, int]]:
    """Count the binding findings per verdict, the worst first, none left out."""
    number = Counter(f.verdict for f in evaluation.binding)
    return [(v, number[v]) for v in WORST_FIRST if v is not Verdict.NOT_APPLICABLE]


def counts_words(evaluation: Evaluation) -> str:
    """Say how many binding findings have which verdict."""
    found = [f"{n} {verdict_word(v).lower()}" for v, n in counts(evaluation) if n]
    return ", ".join(found) or "none"


def action_words(action: Action) -> str:
    """Return an action with the word it rests on."""
    return f"{plain(action.do)} [{BASIS[action.basis]}]"


def questions(evaluation: Evaluation) -> tuple[str, ...]:
    """Return what must be asked, each once: of the whole lot, then stage by stage."""
    of_stages = (
        f"{stage_words(s.name)}{f', piece {s.piece}' if s.piece else ''}: {s.question}"
        for s in evaluation.stages
        if s.question and s.question not in evaluation.questions
    )
    return tuple(dict.fromkeys((*evaluation.questions, *of_stages)))
