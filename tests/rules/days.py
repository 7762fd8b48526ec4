"""A full day of one lot, told so that one requirement applies to it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.model.forms import BandClock, Instrument, Paper, TimeControl
from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.model.vocabulary import Place, StageName
from tempwitness.rulebook.facts import load_facts
from tempwitness.units import Unit
from tests.published.trio_rules import Ask
from tests.published.trio_scene import shift_of, stated
from tests.support import ZERO, channel, note, staged

if TYPE_CHECKING:
    from tempwitness.model.logs import Channel, Note, StagedLog
    from tempwitness.model.rule import Code, Requirement

__all__ = ["day_of", "told"]

#: What is done, for how many hours, and the temperature at which it ends [°F].
_DAY = (
    ("receive", 1.0, 36.0),
    ("cold_hold", 2.0, 37.0),
    ("prep", 0.5, 39.0),
    ("cook", 6.0, 200.0),
    ("rest", 1.0, 160.0),
    ("hot_hold", 2.0, 150.0),
    ("transport", 0.5, 148.0),
    ("cool", 5.0, 38.0),
    ("cold_hold", 50.0, 37.0),
    ("freeze", 8.0, 5.0),
    ("thaw", 4.0, 36.0),
    ("prep", 0.5, 39.0),
    ("reheat", 1.5, 185.0),
    ("hot_hold", 1.0, 165.0),
    ("serve", 1.0, 155.0),
)
_FIRST = 36.0
_EVERY = 0.25  # hours between two readings
_SELDOM = 2.0  # where food is kept cold

#: Stage, hour at which it begins and at which it ends, temperature at which it ends [°F].
Span = tuple[str, float, float, float]


def told(code: Code, requirement: Requirement) -> str:
    """All that decides how the day of a requirement is told; days told alike are one."""
    said = stated(Ask((code.head.id,), code, requirement))
    when = requirement.when
    odd = isinstance(requirement.test, Instrument | TimeControl) or when.events
    own = requirement.id if odd or _without_heat(requirement) else ""
    return repr([code.head.id, _spans(requirement), said, when.method, requirement.ends, own])


def day_of(code: Code, requirement: Requirement) -> StagedLog:
    """The day as it is read and noted."""
    ask = Ask((code.head.id,), code, requirement)
    spans, shift = _spans(requirement), shift_of(ask) / 3600.0
    said = stated(ask)
    said["facts"] = {**_papers(code), **(said["facts"] or {})}
    own = next((s for s in spans if s[0] in requirement.stages), spans[0])
    if "time_control" in said:
        plans = said["time_control"]
        said["time_control"] = [replace(p, start=ZERO + (own[1] + shift) * 3600.0) for p in plans]
    if isinstance(requirement.test, Instrument):
        said["probes"] = [_probe(requirement.test)]
    steps = _steps(requirement, spans, shift)
    steps += [note(own[1] + shift - 0.01, event=e.value) for e in requirement.when.events[:1]]
    return staged(_channels(spans, shift), steps, **said)


def _papers(code: Code) -> dict[str, str]:
    """Every paper of the code is there."""
    papers = [r.test.answered_by for r in code.requirements if isinstance(r.test, Paper)]
    return {question: "yes" for question in papers if load_facts()[question].takes("yes")}


def _spans(requirement: Requirement) -> list[Span]:
    """The day without what must not have gone before; twice, if only then it holds all it must."""
    spans: list[Span] = []
    now = 0.0
    when = requirement.when
    day = [part for part in _DAY if StageName(part[0]) not in when.not_after]
    if len(day) < len(_DAY) and not {p[0] for p in day} & {s.value for s in requirement.stages}:
        # The stage itself must not have gone before: once it may be.
        first = next(p for p in _DAY if StageName(p[0]) in requirement.stages)
        day.append(first)
    names = [name for name, _, _ in day]
    for name, hours, degrees in day if _in_order(requirement, names) else [*day, *day]:
        spans.append((name, now, now + hours, degrees))
        now += hours
    return spans


def _in_order(requirement: Requirement, names: list[str]) -> bool:
    """Whether a stage of the requirement stands after and before what it must."""
    after, before = requirement.when.after, requirement.when.before
    return any(
        StageName(name) in requirement.stages
        and (not after or bool({s.value for s in after} & set(names[:k])))
        and (not before or bool({s.value for s in before} & set(names[k + 1 :])))
        for k, name in enumerate(names)
    ) or not (after or before)


def _without_heat(requirement: Requirement) -> bool:
    return isinstance(requirement.test, BandClock) and requirement.test.unheated_only


def _steps(requirement: Requirement, spans: list[Span], shift: float) -> list[Note]:
    methods = requirement.when.method
    made = [
        note(start + shift, name, method=methods[0] if methods else "")
        for name, start, _, _ in spans
    ]
    if _without_heat(requirement):
        cook = next(s for s in spans if s[0] == "cook")
        made.append(note(cook[2] - 1.0 + shift, event="heat_lost"))
    made.append(note(shift + spans[0][1] + 0.1, event="date_marked"))
    made += [note(shift + s[1], event="date_marked") for s in spans if s[0] == "cool"]
    return [*made, note(spans[-1][2] + shift, event="finished")]


def _channels(spans: list[Span], shift: float) -> list[Channel]:
    """Core, surface, air and medium; the food is read at the start and the end of each stage."""
    core: list[tuple[float, float]] = []
    around: list[tuple[float, float]] = []
    degrees = _FIRST
    for _, start, end, last in spans:
        every = _EVERY if end - start <= 8.0 else _SELDOM
        count = round((end - start) / every)
        for k in range(count):
            share = k / count
            core.append((start + k * every, round(degrees + (last - degrees) * share, 1)))
            around.append((start + k * every, last))
        degrees = last
    core.append((spans[-1][2], degrees))
    logs = {Place.CORE: core, Place.SURFACE: core, Place.AIR: around, Place.MEDIUM: around}
    return [
        channel([(t + shift, v) for t, v in log], place=place, probe="a")
        for place, log in logs.items()
    ]


def _probe(test: Instrument) -> Probe:
    check = ProbeCheck(ZERO - 3600.0, "ice", 32.0, 32.0, Unit.F, "ice")
    return Probe("a", reads=test.reads, checks=(check,))
