"""The findings of an evaluation as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.aside import ruled_out
from tempwitness.report.brief import (
    close_call,
    how_long,
    kept_words,
    measured_words,
    short_citation,
    whose,
)
from tempwitness.report.groups import grouped, why
from tempwitness.report.second import strict_briefly
from tempwitness.report.text_account import put_account
from tempwitness.report.text_full import put_full
from tempwitness.report.wording import counts_words, left_out, titled

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.report.groups import Group
    from tempwitness.report.lines import Lines
    from tempwitness.report.localtime import LocalTime

__all__ = ["put_findings"]


def put_findings(lines: Lines, evaluation: Evaluation, clock: LocalTime, *, full: bool) -> None:
    """Write what decides, the worst first, then advice apart, then what does not apply."""
    lines.heading(f"Under the code: {counts_words(evaluation)}")
    if full:
        put_full(lines, evaluation.binding, clock)
    else:
        _put_binding(lines, evaluation, clock)
    if not evaluation.binding:
        lines.put("No requirement of the code was applied.")
    apart = (
        ("Under the codes beside it – does not change the answer", evaluation.compared),
        ("Advice – not law, does not change the answer", evaluation.advice),
    )
    for heading, findings in apart:
        if findings and full:
            lines.heading(heading)
            put_full(lines, findings, clock)
        elif findings:
            lines.heading(heading)
            _put_apart(lines, evaluation, findings)
    if full:
        _put_not_applicable(lines, evaluation)


def _put_binding(lines: Lines, evaluation: Evaluation, clock: LocalTime) -> None:
    """Write what was kept in a line or two, everything else with its account."""
    pieces, previous = len(evaluation.lot.pieces), Verdict.MET
    for group in grouped(evaluation.binding, evaluation.lot.pieces):
        # What was met stands close together; everything else has air around it.
        if previous is not Verdict.MET:
            lines.blank()
        previous = group.verdict
        lines.verdict(group.verdict, f"{group.subject(pieces)}: {titled(group.first)}")
        if group.verdict is Verdict.MET:
            _put_kept(lines, group, evaluation)
        else:
            put_account(lines, group, evaluation, clock)


def _put_kept(lines: Lines, group: Group, evaluation: Evaluation) -> None:
    first = group.first
    lines.put(kept_words(group, evaluation), indent=2, hang=2)
    for name, text in (
        ("strict", strict_briefly(group)),
        ("close", close_call(group)),
        ("allowance used", first.allowance),
        ("local change; replaces", first.replaces),
    ):
        if text:
            lines.put(f"{name}: {text}", indent=2, hang=2)


def _put_apart(lines: Lines, evaluation: Evaluation, findings: tuple[Finding, ...]) -> None:
    """Write what changes nothing: what was not kept in short, the rest as a number."""
    pieces = len(evaluation.lot.pieces)
    kept = sum(f.verdict is Verdict.MET for f in findings)
    broken = [f for f in findings if f.verdict is not Verdict.MET]
    for group in grouped(broken, evaluation.lot.pieces):
        lines.verdict(group.verdict, f"{group.subject(pieces)}: {titled(group.first)}")
        lines.put(_short_account(group, evaluation), indent=2, hang=2)
    if kept:
        what = "Kept" if findings[0].weight.binds else "Advice kept"
        lines.put(f"{what}: {kept} (--full lists it)")


def _short_account(group: Group, evaluation: Evaluation) -> str:
    lasted = group.one(how_long)
    if lasted.startswith("took"):
        measured = lasted
    elif group.verdict is Verdict.NOT_MET or lasted or group.first.measured.endswith(" in all"):
        measured = "; ".join(part for part in (measured_words(group), lasted) if part)
    else:
        measured = group.one(why) or measured_words(group)
    limit = f"limit {group.first.limit}" if group.first.limit else ""
    parts = (measured, limit, whose(group.first, evaluation))
    return " | ".join(part for part in parts if part)


def _put_not_applicable(lines: Lines, evaluation: Evaluation) -> None:
    stages, lot = left_out(evaluation), ruled_out(evaluation)
    if stages or lot:
        lines.heading("Does not apply")
    for title, where, reason, citation in stages:
        cited = short_citation(citation, evaluation)
        lines.put(f"{title}: {reason} | {where} | {cited}", hang=2)
    for reason, named in lot:
        lines.put(f"{reason}: {'; '.join(named)}", hang=2)
