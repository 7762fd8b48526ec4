"""Findings of several pieces that say the same thing, joined so that they are read once."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.report.wording import WORST_FIRST, plain, stage_words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from tempwitness.model.finding import Finding
    from tempwitness.model.vocabulary import Verdict

__all__ = ["Group", "grouped", "probe_of", "why"]

_PROBE = re.compile(r"probe (.+?): ")
_MOST_NAMES = 6


@dataclass(frozen=True, slots=True)
class Group:
    """One requirement in one stage with one answer, for one or more pieces or probes.

    Parameters
    ----------
    findings : tuple of Finding
        At least one, in the order of the evaluation.
    """

    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The finding that stands for what all of them share."""
        return self.findings[0]

    @property
    def verdict(self) -> Verdict:
        """The answer that all of them share."""
        return self.first.verdict

    @property
    def several(self) -> bool:
        """Whether more than one finding is joined."""
        return len(self.findings) > 1

    @property
    def names(self) -> tuple[str, ...]:
        """The pieces, or the probes, of which it speaks."""
        return tuple(name for name in map(_name, self.findings) if name)

    def subject(self, pieces: int) -> str:
        """Say which stage of which pieces it speaks of; `pieces` is how many the lot has."""
        stage = stage_words(self.first.stage)
        names = ", ".join(map(plain, self.names[:_MOST_NAMES]))
        more = len(self.names) - _MOST_NAMES
        names += f" and {more} more" if more > 0 else ""
        plural = "s" if len(self.names) > 1 else ""
        if not stage and names:
            return f"{'probe' if probe_of(self.first) else 'piece'}{plural} {names}"
        if not names or pieces == 1:
            return stage or "the lot"
        if len(self.names) == pieces and pieces > _MOST_NAMES:
            return f"{stage}, all {pieces} pieces"
        return f"{stage}, piece{plural} {names}"

    def one(self, of: Callable[[Finding], str]) -> str:
        """Return what all findings say alike; ``""`` where they differ."""
        said = {of(finding) for finding in self.findings}
        return said.pop() if len(said) == 1 else ""


def probe_of(finding: Finding) -> str:
    """Return the probe of which a finding about the whole lot speaks."""
    found = None if finding.stage or finding.piece else _PROBE.match(finding.reason)
    return found[1] if found else ""


def why(finding: Finding) -> str:
    """Return the reason without the name of the probe, which the subject gives."""
    probe = probe_of(finding)
    return finding.reason.removeprefix(f"probe {probe}: ") if probe else finding.reason


def grouped(findings: Iterable[Finding], pieces: Sequence[str]) -> list[Group]:
    """Join findings that differ in their piece or probe only, the worst answer first.

    A stage that comes again for the same piece is joined with the second such stage of the
    other pieces, never with the first. Within a group the order is that of `pieces`.
    """
    times: Counter[tuple[str, ...]] = Counter()
    made: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        own = (finding.requirement, finding.title, finding.stage, _name(finding))
        times[own] += 1
        key = (*own[:3], times[own], bool(own[3]), *_shared(finding))
        made.setdefault(key, []).append(finding)
    place = {piece: number for number, piece in enumerate(pieces)}
    groups = [
        Group(tuple(sorted(joined, key=lambda f: place.get(f.piece, len(place)))))
        for joined in made.values()
    ]
    return sorted(groups, key=lambda group: WORST_FIRST.index(group.verdict))


def _shared(finding: Finding) -> tuple[object, ...]:
    return (
        finding.verdict,
        finding.limit,
        finding.citation,
        finding.confirmed,
        finding.allowance,
        finding.replaces,
        finding.note,
    )


def _name(finding: Finding) -> str:
    return finding.piece or probe_of(finding)
