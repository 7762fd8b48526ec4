"""What came out: findings, and the evaluation that holds them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from tempwitness.model.advice import Action, Rescue, SettlingReading
from tempwitness.model.on_record import (
    ChangeMade,
    CorrectionMade,
    DoubtfulReading,
    NoteMade,
    ProbeSummary,
    SourceFile,
)
from tempwitness.model.under import UnderCode  # noqa: TC001 - the schema is made from it
from tempwitness.model.vocabulary import Clock, Confirmed, Verdict, Weight

__all__ = [
    "SCHEMA",
    "Action",
    "ChangeMade",
    "CitedReading",
    "CodeUsed",
    "CorrectionMade",
    "DoubtfulReading",
    "Evaluation",
    "Evidence",
    "Figure",
    "Finding",
    "Guard",
    "LotSummary",
    "NoteMade",
    "OverrideUsed",
    "ProbeSummary",
    "Reference",
    "Rescue",
    "SettlingReading",
    "SourceFile",
    "StageSummary",
    "Strict",
    "Unread",
]

SCHEMA = "tempwitness/evaluation/1"


@dataclass(frozen=True, slots=True)
class CitedReading:
    """A reading that a finding rests on: moment (ISO 8601), text, and where it stands."""

    at: str
    reading: str
    source: str
    line: int
    probe: str


@dataclass(frozen=True, slots=True)
class Unread:
    """A stretch in which nothing is known, and why."""

    start: str
    end: str
    why: str


@dataclass(frozen=True, slots=True)
class Guard:
    """How far a reading stands from a limit, beside the uncertainty of its probe.

    It never changes a verdict: codes print limits for readings.

    Parameters
    ----------
    probe : str
    unit : str
        Scale of all figures, ``F`` or ``C``.
    margin : float
        From the limit, positive on the side that keeps it; of a range its less favourable end.
    u, expanded : float
        Standard and expanded uncertainty (k = 2) of what is known.
    accepted : float
        Figure from which on, or up to which, a reading keeps the limit with a chance of 95 %.
    chance : float
        That the true temperature keeps the limit.
    parts : tuple of str
        Parts of the uncertainty, each with its own.
    unknown : tuple of str
        What the record does not give, and the figures therefore leave out.
    """

    probe: str
    unit: str
    margin: float
    u: float
    expanded: float
    accepted: float
    chance: float
    parts: tuple[str, ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a verdict rests on.

    Parameters
    ----------
    readings : tuple of CitedReading
        The readings that decide.
    least_s, most_s : float, optional
        Bounds of the duration in question [s]; ``None`` where unbounded or no duration matters.
    unread : tuple of Unread
        Stretches that stay unknown.
    inference : str
        What passive physics adds to the readings; ``""`` if nothing was inferred.
    doubt : str
        Whether the verdict stands within the probe's own uncertainty or rests on doubted rows.
    guard : Guard, optional
        The guard band of the deciding reading; ``None`` where no single reading decides.
    """

    readings: tuple[CitedReading, ...] = ()
    least_s: float | None = None
    most_s: float | None = None
    unread: tuple[Unread, ...] = ()
    inference: str = ""
    doubt: str = ""
    guard: Guard | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of a limit in both units, as the code prints it."""

    f: float
    c: float


@dataclass(frozen=True, slots=True)
class Reference:
    """A text on which a requirement's numbers rest, and how it was read."""

    key: str
    text: str


@dataclass(frozen=True, slots=True)
class Strict:
    """The answer for every temperature history that agrees with the readings.

    It assumes nothing of the time between two readings but how fast the food can change, and takes
    each reading with its error.

    Parameters
    ----------
    verdict : Verdict
    reason : str
        One sentence.
    least_s, most_s : float, optional
        Bounds of the duration in question [s].
    margin : float, optional
        How far the least favourable history stays within the limit, negative beyond it [`unit`];
        of a limit that is broken, how far even the most favourable one goes beyond it.
    unit : str
        Scale of the margin, ``F`` or ``C``; ``""`` without one.
    """

    verdict: Verdict
    reason: str
    least_s: float | None = None
    most_s: float | None = None
    margin: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """One requirement applied to one stage of one piece.

    Parameters
    ----------
    settle, against : SettlingReading, optional
        Of what is not shown: the one reading that would have shown that it was kept, and the one
        that it was broken.
    strict : Strict, optional
        The second answer; ``None`` where no reading is judged.
    effect : str
        Legal effect that the code's wording gives it, such as ``offence``; empty if none is said.
    term : str
        The code's own term of art.
    clock : Clock, optional
        What the deadline counts; ``None`` without one.
    rescue : Rescue, optional
        Of what is not met, may not be met or is still open: what the rule lets a person do once
        the limit is broken; ``None`` where it was heated again, gone, or the rule says nothing.
    """

    requirement: str
    title: str
    stage: str
    stage_number: int
    stage_start: str | None
    stage_end: str | None
    piece: str
    verdict: Verdict
    weight: Weight
    reason: str
    measured: str
    limit: str
    evidence: Evidence
    action: Action | None
    citation: str
    confirmed: Confirmed
    source: str
    settle: SettlingReading | None = None
    allowance: str = ""
    replaces: str = ""
    deadline: str | None = None
    note: str = ""
    figures: tuple[Figure, ...] = ()
    strict: Strict | None = None
    against: SettlingReading | None = None
    effect: str = ""
    term: str = ""
    clock: Clock | None = None
    rescue: Rescue | None = None


@dataclass(frozen=True, slots=True)
class CodeUsed:
    """A code that was applied.

    Parameters
    ----------
    unit : {"F", "C"}
        What its country reckons in; reports lead with it.
    """

    id: str
    title: str
    edition: str
    authority: str
    sha256: str
    unit: Literal["F", "C"] = "F"


@dataclass(frozen=True, slots=True)
class OverrideUsed:
    """A local change, with what it replaced."""

    file: str
    sha256: str
    requirement: str
    replaced: str
    by: str
    authority: str
    citation: str
    in_force: bool
    reason: str


@dataclass(frozen=True, slots=True)
class LotSummary:
    """The lot, as printed at the head of every output."""

    id: str
    food: str
    species: str
    form: str
    weight: str
    pieces: tuple[str, ...]
    zone: str
    event: str
    business: str
    cook: str
    first_entry: str | None
    last_entry: str | None


@dataclass(frozen=True, slots=True)
class StageSummary:
    """A stage, with how it was decided."""

    piece: str
    number: int
    name: str
    start: str
    end: str
    closed: bool
    decided: str
    reason: str
    question: str


@dataclass(frozen=True, slots=True)
class Evaluation:
    """The canonical result: every output is drawn from it and computes nothing.

    Parameters
    ----------
    verdict : Verdict
        Worst verdict of the requirements that bind (law, and local override of law).
    headline : str
        The answer in one sentence.
    do_now : tuple of Action
        What to do, the most urgent first, each once.
    asked_at : str, optional
        Moment of asking (ISO 8601), present only when the answer depends on it.
    unsettled : tuple of str
        What could not be determined.
    references : tuple of Reference
        The texts whose keys the findings name as their source.
    notes : tuple of NoteMade
        All that people noted, in order of time. A note never stands for a reading.
    under : tuple of UnderCode
        The same lot under other codes, where that was asked for.
    strict_basis : tuple of str
        What the strict answers rest on: error of each probe, and rates of each stage.
    changes : tuple of ChangeMade
        What in the files was not taken as it stands, or left out.
    """

    schema: str
    tool: str
    lot: LotSummary
    code: CodeUsed
    beside: tuple[CodeUsed, ...]
    verdict: Verdict
    headline: str
    do_now: tuple[Action, ...]
    asked_at: str | None
    findings: tuple[Finding, ...]
    stages: tuple[StageSummary, ...]
    unsettled: tuple[str, ...]
    questions: tuple[str, ...]
    doubts: tuple[DoubtfulReading, ...]
    probes: tuple[ProbeSummary, ...]
    corrections: tuple[CorrectionMade, ...]
    overrides: tuple[OverrideUsed, ...]
    assumptions: tuple[str, ...]
    sources: tuple[SourceFile, ...]
    caution: tuple[str, ...]
    references: tuple[Reference, ...] = ()
    notes: tuple[NoteMade, ...] = ()
    strict_basis: tuple[str, ...] = ()
    changes: tuple[ChangeMade, ...] = ()
    under: tuple[UnderCode, ...] = ()

    @property
    def binding(self) -> tuple[Finding, ...]:
        """Findings that decide the verdict, in order."""
        return tuple(f for f in self._applied if f.weight.binds and not self._is_beside(f))

    @property
    def compared(self) -> tuple[Finding, ...]:
        """Findings of law in the codes that were judged beside; they decide nothing."""
        return tuple(f for f in self._applied if f.weight.binds and self._is_beside(f))

    @property
    def advice(self) -> tuple[Finding, ...]:
        """Findings of everything that is not law, in order."""
        return tuple(f for f in self._applied if not f.weight.binds)

    @property
    def _applied(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.verdict is not Verdict.NOT_APPLICABLE)

    def _is_beside(self, finding: Finding) -> bool:
        """Whether the id of a finding begins with that of a code judged beside."""
        return any(finding.requirement.startswith(f"{code.id}#") for code in self.beside)
