"""The same lot under many codes, as text: the failing ones first, each with its deciding row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.under import UnderCode
    from tempwitness.report.lines import Lines

__all__ = ["put_under"]

_WORST_FIRST = (
    Verdict.NOT_MET,
    Verdict.NOT_SHOWN,
    Verdict.OPEN,
    Verdict.NEEDS_LIMIT,
    Verdict.MET,
)


def put_under(lines: Lines, evaluation: Evaluation) -> None:
    """Write what the lot is under each code that speaks of it."""
    if not evaluation.under:
        return
    speaking = [u for u in evaluation.under if u.verdict is not Verdict.NOT_APPLICABLE]
    lines.heading(f"The same lot under {len(speaking)} codes")
    lines.put("Only the code named above decides. Of each other one, the row that decides it:")
    for verdict in _WORST_FIRST:
        own = [u for u in speaking if u.verdict is verdict]
        if not own:
            continue
        lines.blank()
        lines.verdict(verdict, f"{len(own)} code{'s' if len(own) > 1 else ''}", indent=2)
        for under in own:
            lines.put(_line(under), bullet="- ", indent=2)
    silent = len(evaluation.under) - len(speaking)
    if silent:
        lines.blank()
        lines.put(f"{silent} more say nothing of this food.")


def _line(under: UnderCode) -> str:
    weight = "" if under.weight is None else under.weight.value
    doubt = "" if under.confirmed is None or under.confirmed.value == "text" else ", unconfirmed"
    limit = f": {under.limit}" if under.limit else ""
    dated = f", {under.dated}" if under.dated else ""
    return f"{under.id} ({weight}{doubt}{dated}): {under.row}{limit} | {under.citation}"
