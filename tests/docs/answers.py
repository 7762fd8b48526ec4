"""The page of answers, stages, events, weights and exit statuses, from the vocabulary."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tempwitness.cli.exit_codes import ExitCode
from tempwitness.model.finding import SCHEMA
from tempwitness.model.status import STATUS_SCHEMA
from tempwitness.model.vocabulary import Event, StageName, Verdict, Weight
from tests.docs.tables import table

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from enum import StrEnum

VERDICTS = {
    Verdict.MET: "what was read shows that the requirement was kept",
    Verdict.NOT_MET: "what was read shows that it was broken",
    Verdict.NOT_SHOWN: "the readings leave room for both; the finding names the reading that "
    "would have settled it",
    Verdict.OPEN: "the stage still runs at the moment of asking, nothing is broken, and a "
    "deadline is named",
    Verdict.NEEDS_LIMIT: "the code sets a duty without a number; the operator's or the "
    "authority's own limit is wanted",
    Verdict.NOT_APPLICABLE: "it does not apply, and the reason is given",
}
STATUSES = {
    ExitCode.MET: "every record is met",
    ExitCode.NOT_MET: "at least one record is not met",
    ExitCode.COULD_NOT_RUN: "wrong usage, an input that cannot be understood, invalid rules, or "
    "an output that nobody took; nothing may be concluded",
    ExitCode.NOT_SHOWN: "no record is not met, but at least one is not shown, open or needs a "
    "limit",
    ExitCode.INTERNAL_ERROR: "a fault of the program itself; nothing may be concluded",
    ExitCode.INTERRUPTED: "stopped from the keyboard",
}
WEIGHTS = {
    Weight.LAW: "the code itself, and a local change of it: the only weight that decides",
    Weight.GUIDANCE: "official advice",
    Weight.STANDARD: "a published standard",
    Weight.PLANT: "a yardstick of inspected plants",
    Weight.PRACTICE: "common practice without a source",
    Weight.HOUSE: "a rule of the house",
}
EVENTS = {
    Event.STIRRED: "stirred or turned over",
    Event.SLICED: "sliced",
    Event.SHREDDED: "pulled or shredded",
    Event.PORTIONED: "divided into smaller portions",
    Event.PROBE_MOVED: "the probe was put elsewhere",
    Event.HEAT_LOST: "the fire or the current failed",
    Event.HEAT_BACK: "the heat is back",
    Event.TOPPED_UP: "fresh food was added",
    Event.DATE_MARKED: "marked with a date",
    Event.TIME_MARKED: "marked with a time of disposal",
    Event.DISCARDED: "thrown out: the last stage ends",
    Event.FINISHED: "used up: the last stage ends",
    Event.REMARK: "anything else; it decides nothing",
}
STAGES = {
    StageName.RECEIVE: "goods come in",
    StageName.COLD_HOLD: "kept cold",
    StageName.THAW: "thawed",
    StageName.PREP: "worked on: trimmed, sliced, portioned",
    StageName.COOK: "cooked, smoked, roasted",
    StageName.REST: "wrapped and resting, in a box without heat",
    StageName.HOT_HOLD: "kept hot by a source of heat",
    StageName.SERVE: "on the line",
    StageName.TRANSPORT: "on the road",
    StageName.COOL: "being cooled",
    StageName.REHEAT: "cooked food being heated again",
    StageName.FREEZE: "frozen",
}


def answers_page() -> str:
    """Return the page."""
    return "\n".join(
        (
            "# Answers, and the words of a record\n",
            "## Verdicts\n",
            "From the worst down; the worst of the findings that bind is the lot's answer.\n",
            table(("verdict", "when"), _rows(VERDICTS, _worst_first())),
            "## Exit status\n",
            table(("status", "when"), [(str(int(k)), v) for k, v in STATUSES.items()]),
            "## Weights\n",
            table(("weight", "what stands behind it"), _rows(WEIGHTS, Weight)),
            "## Stages\n",
            table(("`step`", "what is being done"), _rows(STAGES, StageName)),
            "## Events\n",
            "Those marked * disturb the food or the probe: what was read before says nothing "
            "about what comes after.\n",
            table(
                ("`event`", "what was done"),
                [(f"`{e.value}`{'*' if e.disturbs else ''}", EVENTS[e]) for e in Event],
            ),
            "## The JSON document\n",
            f"`check --json` prints one document a line; its `schema` is `{SCHEMA}`. "
            "[evaluation.schema.json](evaluation.schema.json) describes every key.\n",
            f"`status --json` prints one document; its `schema` is `{STATUS_SCHEMA}`, described by "
            "[status.schema.json](status.schema.json). With `--watch` each change follows as one "
            "line of its own.\n",
        )
    )


def _worst_first() -> list[Verdict]:
    return [
        Verdict.NOT_MET,
        Verdict.NOT_SHOWN,
        Verdict.OPEN,
        Verdict.NEEDS_LIMIT,
        Verdict.MET,
        Verdict.NOT_APPLICABLE,
    ]


def _rows(words: Mapping[Any, str], order: Iterable[StrEnum]) -> list[tuple[str, str]]:
    return [(f"`{member.value}`", words[member]) for member in order]
