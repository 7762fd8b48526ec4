"""Short words for what a finding measured, and what may be left out where room is short."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Confirmed, Verdict
from tempwitness.report.groups import probe_of
from tempwitness.report.wording import (
    CONFIRMED_BRIEFLY,
    WEIGHT,
    duration,
    duration_span,
    plain,
)
from tempwitness.units import Unit, format_degrees

if TYPE_CHECKING:
    from tempwitness.model.finding import (
        ChangeMade,
        CorrectionMade,
        Evaluation,
        Finding,
        SourceFile,
    )
    from tempwitness.report.groups import Group
    from tempwitness.report.localtime import LocalTime

__all__ = [
    "change_where",
    "change_words",
    "changes",
    "check_words",
    "close_call",
    "how_long",
    "kept_words",
    "measure",
    "measured_words",
    "nothing_to_do",
    "section",
    "short_citation",
    "understood",
    "unsettled",
    "whose",
]

_EXTREME = re.compile(r"(lowest|highest) (-?\d+(?:\.\d+)?) °([FC])\b")
_OF_DEGREES = re.compile(r"(at least|at most|above|below) -?\d+(\.\d+)? °[FC]")
_OFF = re.compile(r"(off by \S+ °[FC])$")
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_LONGEST_LIMIT = 66
_MOST_NAMED = 2


def how_long(finding: Finding) -> str:
    """Say how long what lasted; ``""`` if nothing lasted or the measure says it already."""
    least, most = finding.evidence.least_s, finding.evidence.most_s
    lasted = duration_span(least, most)
    told = finding.measured.endswith(" in all") or finding.measured.startswith("kept from ")
    if not lasted or told or (most is None and not least):
        return ""
    if finding.verdict is Verdict.OPEN and most is None:
        return f"at least {duration(least or 0.0)} so far"
    if finding.verdict is Verdict.MET and most is None:
        # What was kept long enough need not be known to its end.
        lasted = f"at least {duration(least or 0.0)}"
    return f"{_what_lasted(finding)} {lasted}"


def measure(finding: Finding) -> str:
    """Say what was measured and how long what lasted, the time once."""
    lasted, least = how_long(finding), finding.evidence.least_s
    if least is not None and finding.measured.endswith(f"at least {duration(least)}"):
        return finding.measured
    span = duration_span(least, finding.evidence.most_s)
    measured = finding.measured
    if lasted and measured.endswith(span):
        measured = measured.removesuffix(span).removesuffix(": ")
    return "; ".join(part for part in (measured, lasted) if part)


def _what_lasted(finding: Finding) -> str:
    if _is_passage(finding):
        return "took"
    if _OF_DEGREES.match(finding.limit):
        return "beyond the limit for"
    # A row of a table begins with its figure: "145 °F (63 °C) for 4 min".
    return "held for" if finding.limit[:1].isdigit() else "lasted"


def _is_passage(finding: Finding) -> bool:
    """Whether it speaks of the way from one temperature to another."""
    return finding.measured.startswith("clock from ") or " → " in finding.limit


def measured_words(group: Group) -> str:
    """Say in a few words what was measured, of several pieces the one nearest the limit."""
    worst = _longest(group) or _extreme(group) or _errors(group)
    if worst:
        return worst
    shared = group.one(lambda finding: finding.measured)
    if shared or not group.several:
        return shared
    said = [
        f"{plain(name)}: {finding.measured}"
        for name, finding in zip(group.names, group.findings, strict=True)
    ]
    more = len(said) - _MOST_NAMED
    return "; ".join(said[:_MOST_NAMED]) + (f"; and {more} more" if more > 0 else "")


def _longest(group: Group) -> str:
    """Return the longest time that a kept passage or sum of times may have taken."""
    times = [f.evidence.most_s for f in group.findings if f.evidence.most_s is not None]
    if group.verdict is not Verdict.MET or len(times) < len(group.findings):
        return ""
    if all(_is_passage(f) for f in group.findings):
        return f"took at most {duration(max(times))}"
    if all(f.measured.endswith(" in all") for f in group.findings):
        return f"at most {duration(max(times))} in all"
    return ""


def _extreme(group: Group) -> str:
    found = [(_EXTREME.match(f.measured), f) for f in group.findings]
    kinds = {(m[1], m[3]) for m, _ in found if m}
    if not group.several or len(kinds) != 1 or not all(m for m, _ in found):
        return ""
    degrees = [float(m[2]) for m, _ in found if m]
    lowest = kinds.pop()[0] == "lowest"
    worst = group.findings[degrees.index(min(degrees) if lowest else max(degrees))]
    piece = f" ({plain(worst.piece)})" if worst.piece else ""
    return worst.measured + piece


def _errors(group: Group) -> str:
    """Return by how much each of several probes was off."""
    found = [_OFF.search(f.measured) for f in group.findings]
    if not group.several or not all(found):
        return ""
    pairs = zip(group.names, found, strict=True)
    return "; ".join(f"{plain(name)} {off[1]}" for name, off in pairs if off)


def kept_words(group: Group, evaluation: Evaluation) -> str:
    """Say in one line what was measured, the limit and the section of what was kept."""
    limit = group.first.limit
    if limit.startswith("one of") or len(limit) > _LONGEST_LIMIT or probe_of(group.first):
        # The title of a thermometer's requirement names its tolerance.
        limit = ""
    inferred = any(f.evidence.inference for f in group.findings)
    parts = (
        measured_words(group) + (", inferred in part" if inferred else ""),
        f"limit {limit}" if limit else "",
        whose(group.first, evaluation),
    )
    return " | ".join(part for part in parts if part)


def close_call(group: Group) -> str:
    """Say what makes the answer doubtful, of several pieces with their names where it differs."""
    shared = group.one(_close)
    if shared or not group.several:
        return shared
    return "; ".join(
        f"{plain(name)}: {_close(finding).rstrip('.')}"
        for name, finding in zip(group.names, group.findings, strict=True)
        if finding.evidence.doubt
    )


def _close(finding: Finding) -> str:
    """Say in short how close a reading stands to the limit beside what its probe can tell."""
    guard = finding.evidence.guard
    if guard is None or not finding.evidence.doubt:
        return finding.evidence.doubt
    unit = Unit(guard.unit)
    away = f"{format_degrees(abs(guard.margin), unit)} {'from' if guard.margin > 0 else 'beyond'}"
    away = f"{away} the limit" if guard.margin else "right on the limit"
    return f"{away}, the probe is good to ±{guard.expanded:.1f} {unit.symbol}"


def section(finding: Finding, evaluation: Evaluation) -> str:
    """Return the citation without the name of the code that stands at the head."""
    return short_citation(finding.citation, evaluation)


def short_citation(citation: str, evaluation: Evaluation) -> str:
    """Return a citation without the name of the code that stands at the head."""
    code = evaluation.code
    return citation.removeprefix(f"{code.title} {code.edition}, ")


def whose(finding: Finding, evaluation: Evaluation) -> str:
    """Say on whose word it stands and how its number was confirmed, each once."""
    cited = section(finding, evaluation)
    parts = [] if finding.weight.binds else [WEIGHT[finding.weight]]
    if finding.confirmed is not Confirmed.TEXT:
        parts.append(CONFIRMED_BRIEFLY[finding.confirmed])
    told = ", ".join(part for part in parts if part not in cited)
    return f"{cited} ({told})" if told else cited


def changes(correction: CorrectionMade) -> bool:
    """Whether a correction changes any reading."""
    numbers = _NUMBER.findall(correction.added)
    return not numbers or any(float(number) for number in numbers)


def check_words(check: str, clock: LocalTime) -> str:
    """Return a check of a probe with its moment in local time."""
    moment, _, rest = check.partition(" ")
    return f"{clock.full(moment)} {rest}" if rest else check


def change_where(change: ChangeMade) -> str:
    """Name the place of what was not taken as it stands."""
    lines = f", line{'s' if '-' in change.lines else ''} {change.lines}" if change.lines else ""
    return f"{change.source}{lines}{f', {change.column}' if change.column else ''}"


def change_words(change: ChangeMade) -> str:
    """Say what in a file was not taken as it stands, what was taken instead, and why."""
    written = f"'{change.written}'" if change.written else "the row"
    used = f"taken as '{change.used}'" if change.used else "left out"
    return f"{change_where(change)}: {written} {used}: {change.reason}"


def understood(source: SourceFile) -> str:
    """Say in one sentence how a file was understood."""
    return "; ".join(sentence.rstrip(".") for sentence in source.understood)


def unsettled(evaluation: Evaluation) -> tuple[str, ...]:
    """Return what could not be determined and is not already said by a finding."""
    said = [(f.title, f.reason) for f in evaluation.binding if f.verdict is Verdict.NOT_SHOWN]
    return tuple(
        line
        for line in evaluation.unsettled
        if not any(line.startswith(title) and line.endswith(reason) for title, reason in said)
    )


def nothing_to_do(evaluation: Evaluation, clock: LocalTime) -> list[str]:
    """Say what stands where the list of actions would, if there is none."""
    if evaluation.verdict is Verdict.NOT_APPLICABLE:
        return ["No action follows from this record."]
    if evaluation.verdict is not Verdict.MET:
        return ["No action is written for this answer. Ask the local health authority."]
    running = [f for f in evaluation.findings if f.verdict is Verdict.OPEN and f.deadline]
    coming = min(running, key=lambda f: clock.seconds(f.deadline), default=None)
    if coming is None:
        return ["Nothing to do."]
    by = clock.full(coming.deadline)
    return ["Nothing to do now.", f"What comes next, by {by}: {coming.title}."]
