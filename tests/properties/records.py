"""Random records of one lot: noted stages, readings as people take them, a few other notes.

Readings stand at least half an hour apart, so that nothing is doubted for being too quick.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hypothesis import assume
from hypothesis import strategies as st

from tempwitness.model.finding import Evaluation
from tempwitness.model.logs import Note, StagedLog
from tests.support import channel, judge, note, staged

#: Sequences of stages.
LOTS: tuple[tuple[str, ...], ...] = (
    ("cold_hold", "cook", "rest", "hot_hold"),
    ("cook", "rest", "serve"),
    ("cook", "cool"),
    ("cook", "cool", "reheat", "hot_hold"),
    ("thaw", "prep", "cook"),
    ("hot_hold", "transport", "serve"),
)
#: Where the temperatures of a stage lie if all is well, and else [°F].
RANGE: dict[str, tuple[tuple[int, int], tuple[int, int]]] = {
    "cold_hold": ((34, 40), (34, 44)),
    "thaw": ((30, 40), (30, 50)),
    "prep": ((36, 40), (36, 60)),
    "cook": ((125, 205), (100, 160)),
    "rest": ((136, 205), (125, 205)),
    "hot_hold": ((136, 160), (125, 160)),
    "serve": ((136, 150), (100, 150)),
    "transport": ((136, 150), (120, 150)),
    "cool": ((36, 140), (36, 140)),
    "reheat": ((40, 175), (80, 175)),
}
#: Ways in which the temperature mostly goes; elsewhere it wavers.
_GOES = {"cook": 1, "reheat": 1, "rest": -1, "cool": -1}
EVENTS = ("stirred", "sliced", "date_marked", "remark")


@dataclass(frozen=True, slots=True)
class Record:
    """What was read and noted, in hours and °F."""

    readings: tuple[tuple[float, float], ...]
    notes: tuple[Note, ...]
    facts: tuple[tuple[str, str], ...] = ()
    piece: str = "1"

    def log(self, *, shift: float = 0.0, split: int = 1) -> StagedLog:
        """The staged log, `shift` hours later, its readings dealt out to so many files."""
        parts = [self.readings[k::split] for k in range(split)]
        files = [
            channel([(t + shift, v) for t, v in part], piece=self.piece) for part in parts if part
        ]
        steps = [replace(n, at=n.at + shift * 3600.0) for n in self.notes]
        return staged(files, steps, facts=dict(self.facts), pieces=[self.piece])

    def judged(self, *, shift: float = 0.0, split: int = 1) -> Evaluation:
        """The evaluation under the Food Code, asked long afterwards."""
        return judge(self.log(shift=shift, split=split))


@st.composite
def _stage(draw: st.DrawFn, name: str, hours: float) -> list[tuple[float, float]]:
    """Readings of one stage, in hours since its start."""
    slots = draw(st.sets(st.integers(0, int(2 * hours) - 1), max_size=5))
    if draw(st.booleans()):
        slots |= {0}
    low, high = RANGE[name][draw(st.integers(0, 1))]
    values = [draw(st.integers(low, high)) for _ in slots]
    if name in _GOES and draw(st.integers(0, 3)):
        values.sort(reverse=_GOES[name] < 0)
    return [(k / 2, float(v)) for k, v in zip(sorted(slots), values, strict=True)]


@st.composite
def records(draw: st.DrawFn) -> Record:
    """A lot of two to four stages."""
    names = draw(st.sampled_from(LOTS))
    notes, readings, now = [], [], 0.0
    for name in names:
        hours = draw(st.integers(1, 12)) / 2
        notes.append(note(now, name))
        readings += [(now + t, v) for t, v in draw(_stage(name, hours))]
        now += hours
    if draw(st.booleans()):
        notes.append(note(now, event="finished"))
    if draw(st.booleans()):
        readings.append((now, float(draw(st.integers(36, 150)))))
    for _ in range(draw(st.integers(0, 1))):
        event = draw(st.sampled_from(EVENTS))
        notes.append(note(draw(st.integers(0, int(2 * now))) / 2 + 0.25, event=event))
    return Record(tuple(readings), tuple(notes), tuple(draw(st.sampled_from(FACTS))))


FACTS: Sequence[Sequence[tuple[str, str]]] = ((), (("oven_line", "kept"),), (("oven", "still"),))

Answers = dict[tuple[str, str, int], str]


def answers(evaluation: Evaluation) -> Answers:
    """Verdict of each finding by requirement, stage and its number."""
    return {(f.requirement, f.stage, f.stage_number): f.verdict.value for f in evaluation.findings}


def stages_of(evaluation: Evaluation) -> list[tuple[str, str, str, str]]:
    """What the stages are, to compare findings of the same ones only."""
    return [(s.name, s.start, s.end, s.question) for s in evaluation.stages]


def same_stages(one: Evaluation, other: Evaluation) -> bool:
    """Whether both judge the same stages, and neither doubts a reading."""
    return stages_of(one) == stages_of(other) and not (one.doubts or other.doubts)


def with_one_between(record: Record, data: st.DataObject) -> Record:
    """The record with a reading more, on the straight line between two of its own."""
    assume(len(record.readings) >= 2)
    k = data.draw(st.integers(0, len(record.readings) - 2))
    (before, low), (after, high) = record.readings[k : k + 2]
    share = data.draw(st.sampled_from([0.25, 0.5, 0.75]))
    extra = (before + share * (after - before), low + share * (high - low))
    return replace(record, readings=(*record.readings[: k + 1], extra, *record.readings[k + 1 :]))
