"""What does not apply, in the words of a kitchen and joined by its reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.brief import section
from tempwitness.report.groups import why

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation

__all__ = ["ruled_out"]


def ruled_out(evaluation: Evaluation) -> list[tuple[str, tuple[str, ...]]]:
    """Return what the lot as a whole rules out: each reason, with titles and sections."""
    found: dict[str, dict[str, None]] = {}
    for finding in evaluation.findings:
        if finding.verdict is Verdict.NOT_APPLICABLE and not finding.stage:
            named = f"{finding.title} ({section(finding, evaluation)})"
            found.setdefault(why(finding), {})[named] = None
    return [(r[:1].upper() + r[1:], tuple(named)) for r, named in found.items()]
