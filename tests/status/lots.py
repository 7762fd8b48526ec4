"""Random lots with noted steps, cut at any moment, and what a cook can do about a deadline."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random
from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration import correct
from tempwitness.model.forms import Fall, Rise
from tempwitness.model.logs import Channel, Note, RawLog
from tempwitness.model.lot import TimeControlPlan
from tempwitness.model.vocabulary import Answer, Clock, Cut, Event, Species
from tempwitness.outlook import known_at, status
from tempwitness.quality import qualify
from tempwitness.rulebook.load import load_code
from tempwitness.stages import stage
from tests.support import ZERO, channel, judge, lamb, note, prepared_on, staged

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation, Finding
    from tempwitness.model.logs import StagedLog
    from tempwitness.model.rule import Code
    from tempwitness.model.status import Due, Status

HOUR = 3600.0

#: Codes of four countries: one leg of 6 h in all, two legs of their own, tolerances, time by day.
CODES = ("us/food-code/2022", "ca/nb/2009-138", "au/3.2.2", "gb/eng/2013", "us/ny/14-1")


@dataclass(frozen=True)
class RandomLot:
    """A raw log, its code, and the moment of asking [s]."""

    raw: RawLog
    code: Code
    asked: float


class _Day:
    """A lot in the making: readings [h, °F] and notes."""

    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.readings: list[tuple[float, float]] = []
        self.notes: list[Note] = []
        self.plans: tuple[TimeControlPlan, ...] = ()
        self.at, self.warm = 0.0, 39.0

    def step(self, name: str, hours: float, to: float, every: float) -> None:
        """Note a step, then read on the way to a temperature."""
        self.notes.append(note(self.at, name))
        start, begin = self.at, self.warm
        while self.at < start + hours:
            share = (self.at - start) / hours
            fresh = begin + (to - begin) * (1 - (1 - share) ** 2)
            self.readings.append((self.at, round(fresh + self.rng.uniform(-1, 1), 1)))
            self.at += every * self.rng.uniform(0.5, 1.5)
        self.at, self.warm = start + hours, to

    def go(self) -> None:
        """Cook, hold, then serve under a time control, or cool, keep and reheat."""
        rng, some = self.rng, self.rng.uniform
        self.step("cook", some(3, 8), some(150, 205), 1.0)
        for name in rng.sample(["rest", "hot_hold"], k=rng.choice([0, 1, 1, 2])):
            self.step(name, some(1, 8), some(128, 165), some(0.5, 3.0))
        if rng.random() < 0.35:
            start, day = ZERO + self.at * HOUR, prepared_on("2026-01-02")
            self.plans = (TimeControlPlan(start, "4h", day, Answer.YES, frozenset({"1"})),)
            self.step("serve", some(1, 5), some(75, 120), 1.0)
            return
        self.step("cool", some(3, 9), some(35, 60), some(0.3, 1.2))
        if rng.random() < 0.7:
            self.notes.append(note(self.at + some(0, 3), event="date_marked"))
        self.step("cold_hold", some(4, 100), some(35, 40), 8.0)
        if rng.random() < 0.6:
            self.step("reheat", some(0.7, 3), some(140, 180), 0.3)
            self.step("hot_hold", some(1, 6), some(130, 170), 2.0)

    def channels(self, *, celsius: bool) -> list[Channel]:
        """One probe, often a second one that is read less often."""
        rng = self.rng
        shown = [(t, round((v - 32) / 1.8, 1) if celsius else v) for t, v in self.readings]
        made = [channel(shown, celsius=celsius)]
        if rng.random() < 0.4:
            some = shown[:: rng.choice([1, 2])]
            thin = [(t + 0.01, round(v + rng.uniform(-2, 2), 1)) for t, v in some]
            made.append(channel(thin, celsius=celsius, point="thin end", probe="second"))
        return made


def random_lot(seed: int, code_id: str) -> RandomLot:
    """A lot that is cooked, held, cooled, kept, reheated and served, cut at some moment."""
    rng = Random(seed)  # noqa: S311 - a test, no secret
    code = load_code(code_id)
    day = _Day(rng)
    day.go()
    remarks = [note(rng.uniform(0, day.at), event="remark") for _ in range(rng.choice([0, 3]))]
    log = staged(
        day.channels(celsius=code.head.unit == "C"),
        [*day.notes, *remarks],
        food=lamb(rng.choice([Species.LAMB, Species.BEEF, Species.TURKEY]), cut=Cut.ROAST),
        time_control=day.plans,
        business=rng.choice([None, "temporary_event", "caterer"]),
    )
    last = rng.choice([t for t, _ in day.readings] + [day.at])
    asked = float(int(ZERO + (last + rng.choice([0.01, 0.5, 2.0]) * rng.random()) * HOUR)) + 1
    raw = known_at(log.raw, asked)
    read = tuple(c for c in raw.channels if len(c))
    return RandomLot(replace(raw, channels=read), code, asked)


def evaluated(raw: RawLog, code: Code, asked: float) -> tuple[Evaluation, StagedLog]:
    """Judge a raw log at a moment that somebody names."""
    log = stage(correct(qualify(raw, asked)))
    if code.head.cold is not None:
        log = stage(log.corrected, code.head.cold)
    return judge(log, asked=asked, explicit=True, code=code), log


def status_of(lot: RandomLot) -> Status:
    """The status of a random lot at its moment."""
    found, log = evaluated(lot.raw, lot.code, lot.asked)
    return status(found, log, lot.asked)


def judged_after(lot: RandomLot, due: Due, raw: RawLog, asked: float) -> Finding:
    """What the requirement of a deadline comes to, judged after the fact."""
    found, _ = evaluated(raw, lot.code, asked)
    (one,) = [
        f
        for f in found.findings
        if (f.requirement, f.stage_number, f.piece)
        == (due.requirement, due.stage_number, *due.pieces)
    ]
    return one


def acted(lot: RandomLot, due: Due, moment: float) -> RawLog:
    """The log with what keeps a deadline if it is done in time: a reading, or a note of the end.

    A clock that food must cross gets a reading a degree beyond its second limit, held as long as
    the code asks; every other one that a reading can settle gets the last one again. Then the lot
    is noted as finished.
    """
    channels = lot.raw.channels
    value, hold = float(max(channels, key=lambda c: c.at[-1]).value[-1]), 0.0
    if due.clock in (Clock.FALL, Clock.RISE):
        value, hold = _beyond(lot, due, celsius=bool(channels[0].celsius[0]))
    if due.clock.stopped_by_reading:
        moments = (moment, moment + hold) if hold else (moment,)
        channels = tuple(_read(c, moments, value) for c in channels)
    ended = Note(moment + hold, None, Event.FINISHED, "", None, "", "test", 999)
    return replace(lot.raw, channels=channels, notes=(*lot.raw.notes, ended))


def forgotten(lot: RandomLot, due: Due) -> bool:
    """Whether a point was not read for a while, and it matters whether it will be read again.

    A second probe may be given up; a deadline speaks of the points that are still being read. Of
    a limit that must be kept it speaks also of one that was read just now at much the same
    temperature, before the stage began.
    """
    channels = lot.raw.channels
    newest = max(channels, key=lambda c: c.at[-1])
    old = [c for c in channels if newest.at[-1] - c.at[-1] > 60]
    if due.clock is not Clock.READING or any(newest.at[-1] - c.at[-1] > 4 * HOUR for c in old):
        return bool(old)
    return any(abs(float(newest.value[-1] - c.value[-1])) > 0.5 for c in old)


def arrived(lot: RandomLot, due: Due) -> bool:
    """Whether food that is being reheated was read at its limit already, and need only hold it."""
    if due.clock is not Clock.RISE:
        return False
    beyond, _ = _beyond(lot, due, celsius=bool(lot.raw.channels[0].celsius[0]))
    return any(float(c.value[-1]) >= beyond - 1 for c in lot.raw.channels)


def _beyond(lot: RandomLot, due: Due, *, celsius: bool) -> tuple[float, float]:
    rule = lot.code.find(due.requirement.partition("#")[2])
    assert rule is not None
    tests = [rule.test, *(a.test for a in rule.alternatives)]
    kind = Fall if due.clock is Clock.FALL else Rise
    ends = [t for t in tests if isinstance(t, kind)]
    figures = [float(t.to.c if celsius else t.to.f) for t in ends]
    hold = max((t.hold for t in ends if isinstance(t, Rise)), default=0.0)
    return (min(figures) - 1, 0.0) if kind is Fall else (max(figures) + 1, hold + 1 if hold else 0)


def _read(core: Channel, moments: tuple[float, ...], value: float) -> Channel:
    """Add readings of a value at some moments."""
    many = len(moments)
    return replace(
        core,
        line=np.append(core.line, core.line[-1] + 1 + np.arange(many)),
        at=np.append(core.at, moments),
        value=np.append(core.value, [value] * many),
        celsius=np.append(core.celsius, [core.celsius[-1]] * many),
    )
