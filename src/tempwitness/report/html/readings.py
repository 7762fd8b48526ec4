"""The readings, a table for each point."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.report.content.parts import Table
from tempwitness.report.content.readings import KEY, channel_name, entries, extent
from tempwitness.report.content.selection import choose
from tempwitness.report.html.markup import Markup, abbreviation, element, joined
from tempwitness.report.html.parts import section, table

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog
    from tempwitness.report.content.readings import Entry
    from tempwitness.report.html.parts import Ids
    from tempwitness.report.localtime import LocalTime

__all__ = ["readings"]

_MEANING = {
    "S": "suspect: kept, but it does not decide",
    "F": "failed: kept, but it does not decide",
    "M": "missing: kept, but it does not decide",
    "n": "not examined",
    "*": "a finding rests on it",
}
_HEAD = ("When", "Reading", "Behind it")


def readings(evaluation: Evaluation, log: StagedLog, clock: LocalTime, ids: Ids) -> Markup:
    """Return the readings, all of them or those that matter, and say exactly which."""
    choices = choose(evaluation, log)
    tables = []
    for choice in choices:
        channel = log.raw.channels[choice.channel]
        rows = tuple(
            (entry.when, entry.reading, _behind(entry))
            for entry in entries(choice, channel, log, clock)
        )
        tables.append(table(ids, Table(channel_name(channel), _HEAD, rows), kind="long"))
    told = (element("p", words) for words in (extent(choices, log), KEY))
    return section("readings", "Readings", *told, element("div", *tables, class_="tables"))


def _behind(entry: Entry) -> Markup:
    return joined((_marked(mark) for mark in entry.marks if mark), " ")


def _marked(mark: str) -> str:
    sign, space, more = mark.partition(" ")
    if sign not in _MEANING:
        return mark
    return joined([abbreviation(sign, _MEANING[sign]), f"{space}{more}" if more else ""], "")
