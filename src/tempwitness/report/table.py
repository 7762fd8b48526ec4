"""Findings as a table: one row each, for a spreadsheet."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation, Finding

__all__ = ["COLUMNS", "to_csv"]

COLUMNS = (
    "lot",
    "food",
    "code",
    "edition",
    "lot_verdict",
    "requirement",
    "title",
    "stage",
    "stage_number",
    "stage_start",
    "stage_end",
    "piece",
    "verdict",
    "weight",
    "measured",
    "limit",
    "least_s",
    "most_s",
    "reason",
    "readings",
    "unread",
    "inference",
    "doubt",
    "strict",
    "strict_reason",
    "strict_margin",
    "settle_at",
    "settle",
    "against_at",
    "against",
    "action",
    "action_by",
    "action_basis",
    "deadline",
    "allowance",
    "replaces",
    "citation",
    "confirmed",
    "source",
    "note",
)


def to_csv(evaluations: Sequence[Evaluation]) -> str:
    """Write the findings of one or more evaluations, one row each, under one header.

    Parameters
    ----------
    evaluations : sequence of Evaluation

    Returns
    -------
    str
        Comma-separated, lines end with a line feed. A text that a spreadsheet would take for a
        formula stands behind an apostrophe.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for evaluation in evaluations:
        for finding in evaluation.findings:
            row = _row(evaluation, finding)
            writer.writerow([_cell(row[column]) for column in COLUMNS])
    return out.getvalue()


def _row(evaluation: Evaluation, finding: Finding) -> dict[str, object]:
    evidence = finding.evidence
    row: dict[str, object] = {name: getattr(finding, name, None) for name in COLUMNS}
    row.update(
        lot=evaluation.lot.id,
        food=evaluation.lot.food,
        code=evaluation.code.id,
        edition=evaluation.code.edition,
        lot_verdict=evaluation.verdict.value,
        verdict=finding.verdict.value,
        weight=finding.weight.value,
        confirmed=finding.confirmed.value,
        least_s=evidence.least_s,
        most_s=evidence.most_s,
        readings="; ".join(f"{r.at} {r.reading}" for r in evidence.readings),
        unread="; ".join(f"{u.start} to {u.end}: {u.why}" for u in evidence.unread),
        inference=evidence.inference,
        doubt=evidence.doubt,
    )
    row.update(_strict(finding))
    row.update(_next_steps(finding))
    return row


def _strict(finding: Finding) -> dict[str, object]:
    strict = finding.strict
    if strict is None:
        return {"strict": None, "strict_reason": None, "strict_margin": None}
    margin = "" if strict.margin is None else f"{strict.margin:g} {strict.unit}"
    return {
        "strict": strict.verdict.value,
        "strict_reason": strict.reason,
        "strict_margin": margin,
    }


def _next_steps(finding: Finding) -> dict[str, object]:
    settle, against, action = finding.settle, finding.against, finding.action
    return {
        "settle_at": settle.at if settle else None,
        "settle": settle.what if settle else None,
        "against_at": against.at if against else None,
        "against": against.what if against else None,
        "action": action.do if action else None,
        "action_by": action.by if action else None,
        "action_basis": action.basis if action else None,
    }


def _cell(value: object) -> object:
    if not isinstance(value, str) or not value:
        return value
    negative_number = value[0] == "-" and value[1:2].isdigit()
    return f"'{value}" if value[0] in "=+-@\t\r" and not negative_number else value
