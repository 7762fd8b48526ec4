"""The strict answer beside the first one, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.wording import plain

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.report.groups import Group

__all__ = ["STRICT", "strict_briefly", "strict_told", "strict_words"]

STRICT = (
    "The strict answer assumes nothing of the time between readings but how fast the food can "
    "change, and takes each reading with the error of its probe: it says what holds for every "
    "temperature history consistent with these readings."
)


def strict_briefly(group: Group) -> str:
    """Return the strict verdict of a group, of several pieces with their names if it differs."""
    shared = group.one(_verdict)
    if shared or not group.several:
        return shared
    return "; ".join(
        f"{plain(name)} {_verdict(finding)}"
        for name, finding in zip(group.names, group.findings, strict=True)
        if finding.strict is not None
    )


def strict_words(finding: Finding) -> str:
    """Return the strict answer of a finding with its reason and its margin."""
    strict = finding.strict
    if strict is None:
        return ""
    said = f"{strict.verdict.words}: {strict.reason}"
    if strict.margin is None:
        return said
    if strict.verdict is Verdict.NOT_MET:
        return f"{said}; at least {abs(strict.margin):.1f} °{strict.unit} beyond the limit"
    side = "within" if strict.margin >= 0 else "beyond"
    return f"{said}; at worst {abs(strict.margin):.1f} °{strict.unit} {side} the limit"


def strict_told(evaluation: Evaluation) -> tuple[str, ...]:
    """Say what strict answers are and what they rest on; nothing if there are none."""
    if all(f.strict is None for f in evaluation.findings):
        return ()
    return (STRICT, *evaluation.strict_basis)


def _verdict(finding: Finding) -> str:
    return "" if finding.strict is None else finding.strict.verdict.words
