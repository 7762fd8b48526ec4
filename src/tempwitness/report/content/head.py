"""Which lot, which code, the answer, and how much was found."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.model.vocabulary import Verdict
from tempwitness.report.wording import MEANING, code_line, food_line, stage_words, verdict_word

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.report.localtime import LocalTime

__all__ = ["advice_kept", "facts", "meaning"]


def facts(evaluation: Evaluation, clock: LocalTime) -> list[tuple[str, str]]:
    """Return which lot, under which code, on which record: names with their words."""
    lot = evaluation.lot
    made_by = ", ".join(part for part in (stage_words(lot.business), lot.event, lot.cook) if part)
    record = clock.span(lot.first_entry, lot.last_entry)
    return [
        ("Food", food_line(lot)),
        ("Pieces", ", ".join(lot.pieces)),
        ("Code", code_line(evaluation.code)),
        ("Local changes", _changes(evaluation)),
        ("Files", _read_otherwise(evaluation)),
        ("On record", f"{record} ({lot.zone})" if record else "nothing"),
        ("Asked at", clock.full(evaluation.asked_at)),
        ("For and by", made_by),
    ]


def _changes(evaluation: Evaluation) -> str:
    """Name the local changes in force, with both values, as far as a line or two hold them."""
    in_force = [o for o in evaluation.overrides if o.in_force]
    made = list(
        dict.fromkeys(
            f"{o.by} in place of {o.replaced}" if o.replaced else f"{o.by} (added)"
            for o in in_force
        )
    )
    more = f" and {len(made) - 3} more" if len(made) > 3 else ""
    return f"{'; '.join(made[:3])}{more}"


def _read_otherwise(evaluation: Evaluation) -> str:
    """Say that something in the files was not taken as it stands; ``""`` if all was."""
    count = len(evaluation.changes)
    if not count:
        return ""
    return f"{count} {'entry' if count == 1 else 'entries'} changed or left out; listed below"


def meaning(verdict: Verdict) -> str:
    """Say what an answer means."""
    return f"{verdict_word(verdict).capitalize()}: {MEANING[verdict]}."


def advice_kept(evaluation: Evaluation) -> str:
    """Say how much advice was kept; ``""`` where none was given."""
    advice = len(evaluation.advice)
    kept = sum(finding.verdict is Verdict.MET for finding in evaluation.advice)
    if not advice:
        return ""
    return f"Advice, which is not law and does not change the answer: {kept} of {advice} kept."
