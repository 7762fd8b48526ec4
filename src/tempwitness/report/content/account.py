"""The account of findings that share an answer: what, why, what would settle it, what to do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.brief import how_long
from tempwitness.report.content.parts import Table
from tempwitness.report.groups import Group, grouped, why
from tempwitness.report.second import strict_words
from tempwitness.report.wording import BASIS, CONFIRMED, EFFECT

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding, SettlingReading
    from tempwitness.report.localtime import LocalTime

__all__ = ["Account", "account_of", "actions_of", "readings_of", "to_explain"]

_MOST_READINGS = 40
_LEAST_OF_A_PIECE = 4
_SETTLED = (Verdict.MET, Verdict.NOT_APPLICABLE)


@dataclass(frozen=True, slots=True)
class Account:
    """What the findings of a group say.

    Parameters
    ----------
    shared : tuple of (str, str)
        What all of them share: names with their words, empty where nothing is to be said.
    differs : Table, optional
        A row for each piece, where they differ.
    """

    shared: tuple[tuple[str, str], ...]
    differs: Table | None


def to_explain(evaluation: Evaluation) -> list[Group]:
    """Return the findings that get a page of their own, the worst first."""
    groups = grouped(evaluation.binding, evaluation.lot.pieces)
    return [group for group in groups if group.verdict not in _SETTLED]


def account_of(group: Group, clock: LocalTime) -> Account:
    """Return what all pieces share as pairs, and what differs as a row for each piece."""
    accounts = [_account(finding, clock) for finding in group.findings]
    shared = {
        name: text for name, text in accounts[0].items() if all(a[name] == text for a in accounts)
    }
    pairs = tuple(shared.items())
    if not group.several:
        return Account(pairs, None)
    rows = tuple(
        (name, account["Measured"], _rest(account, shared))
        for name, account in zip(group.names, accounts, strict=True)
    )
    if "Measured" in shared and not any(rest for *_, rest in rows):
        return Account(pairs, None)
    return Account(pairs, Table("Piece by piece", ("Piece", "Measured", "What differs"), rows))


def _rest(account: dict[str, str], shared: dict[str, str]) -> str:
    own = ((n, t) for n, t in account.items() if t and n not in shared and n != "Measured")
    return "; ".join(f"{name}: {text}" for name, text in own)


def _account(finding: Finding, clock: LocalTime) -> dict[str, str]:
    evidence = finding.evidence
    unread = (f"{clock.span(u.start, u.end)}: {u.why}" for u in evidence.unread)
    return {
        "Limit": finding.limit,
        "Measured": finding.measured,
        "How long": how_long(finding),
        "Why": why(finding),
        "Stage": clock.span(finding.stage_start, finding.stage_end),
        "Deadline": clock.full(finding.deadline),
        "Nothing was read": "; ".join(unread),
        "Inferred": evidence.inference,
        "Strict answer": strict_words(finding),
        "Doubt": evidence.doubt,
        "Would settle it": _reading(finding.settle, clock),
        "Or against it": _reading(finding.against, clock),
        "Allowance used": finding.allowance,
        "Local change": f"replaces: {finding.replaces}" if finding.replaces else "",
        "Effect": EFFECT.get(finding.effect, ""),
        "Note": finding.note,
        "Section": finding.citation,
        "Confirmed": f"{CONFIRMED[finding.confirmed]} (source: {finding.source})",
    }


def _reading(settling: SettlingReading | None, clock: LocalTime) -> str:
    if settling is None:
        return ""
    at = f" ({clock.full(settling.at)})" if settling.at else ""
    return f"{settling.what}{at}"


def readings_of(group: Group, clock: LocalTime) -> tuple[Table | None, str]:
    """Return the readings that decide, and how many of them where that is not all."""
    most = max(_MOST_READINGS // len(group.findings), _LEAST_OF_A_PIECE)
    rows = tuple(
        (f.piece or "all", clock.full(r.at), r.reading, r.probe or "unnamed", r.source, str(r.line))
        for f in group.findings
        for r in f.evidence.readings[:most]
    )
    if not rows:
        return None, ""
    head = ("Piece", "When", "Reading", "Probe", "File", "Line")
    cited = sum(len(f.evidence.readings) for f in group.findings)
    told = f"{len(rows)} of {cited} readings are printed here." if cited > len(rows) else ""
    return Table("Readings that decide", head, rows), told


def actions_of(group: Group, clock: LocalTime) -> list[tuple[str, str, str]]:
    """Return what to do, each once: by when, what, on whose word."""
    concerned: dict[tuple[str, str, str], list[str]] = {}
    for finding in group.findings:
        if finding.action is not None:
            by = clock.full(finding.action.by, "now")
            key = (by, finding.action.do, BASIS[finding.action.basis])
            concerned.setdefault(key, []).append(finding.piece)
    return [
        (by, _for_pieces(do, names, group), basis) for (by, do, basis), names in concerned.items()
    ]


def _for_pieces(do: str, names: list[str], group: Group) -> str:
    return do if len(names) == len(group.findings) else f"{', '.join(names)}: {do}"
