"""Which readings a finished record lacked: the fewest that would have closed what is not shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding

__all__ = ["Missing", "missing_readings"]


@dataclass(frozen=True, slots=True)
class Missing:
    """One reading, or one kind of readings, that a record lacked.

    Parameters
    ----------
    at : str or None
        When, ISO 8601 with its offset; ``None`` where no single moment would do.
    piece : str
    stage : str
    wanted : tuple of str
        What had to be read, in the words of the findings.
    closes : tuple of str
        Titles of the requirements that it would have closed, with their citations.
    """

    at: str | None
    piece: str
    stage: str
    wanted: tuple[str, ...]
    closes: tuple[str, ...]


def missing_readings(evaluation: Evaluation) -> tuple[Missing, ...]:
    """Return the readings that would have settled what the law asks and the record leaves open.

    Requirements that one reading would have settled share it.

    Parameters
    ----------
    evaluation : Evaluation

    Returns
    -------
    tuple of Missing
        In order of time, those without a moment last.
    """
    shared: dict[tuple[str, ...], list[Finding]] = {}
    for finding in evaluation.binding:
        if finding.verdict is not Verdict.NOT_SHOWN or finding.settle is None:
            continue
        moment = finding.settle.at
        key = (finding.piece, moment) if moment else (finding.piece, finding.stage, "")
        shared.setdefault(key, []).append(finding)
    found = [_missing(findings) for findings in shared.values()]
    return tuple(sorted(found, key=lambda m: (m.at is None, m.at or "", m.piece)))


def _missing(findings: list[Finding]) -> Missing:
    first = findings[0]
    settling = [f.settle for f in findings if f.settle is not None]
    return Missing(
        at=settling[0].at,
        piece=first.piece,
        stage=first.stage,
        wanted=tuple(dict.fromkeys(s.what for s in settling)),
        closes=tuple(dict.fromkeys(f"{f.title} ({f.citation})" for f in findings)),
    )
