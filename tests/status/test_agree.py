"""Every deadline of a status agrees with the evaluation made after the fact.

The lots are random; what is right follows from the meaning of a deadline alone: done a second
before it, the requirement is met; done a second after it, or not at all, it is not.
"""

from __future__ import annotations

from collections import Counter
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.model.status import Due
from tempwitness.model.vocabulary import Clock, StageName
from tests.status.lots import (
    CODES,
    RandomLot,
    acted,
    arrived,
    forgotten,
    judged_after,
    random_lot,
    status_of,
)

#: No food crosses a limit within so short a time; such readings would be doubted [s].
_A_WHILE = 900.0
_MUCH_LATER = 40 * 86400.0
_MISSED = ("not_met", "not_shown")


def firm(lot: RandomLot) -> list[Due]:
    """The deadlines of the code itself that a cook can still act on."""
    found = status_of(lot)
    last = max(float(c.at[-1]) for c in lot.raw.channels)
    return [
        d
        for d in dict.fromkeys((*found.clocks, *found.use_by, *found.next_readings))
        if d.sure and not d.beside and moment(d) - max(last, lot.asked) > _A_WHILE
        if not forgotten(lot, d)
    ]


def moment(due: Due) -> float:
    return datetime.fromisoformat(due.by).timestamp()


def agrees(lot: RandomLot, due: Due) -> None:
    by = moment(due)
    before = judged_after(lot, due, acted(lot, due, by - 1), by + _MUCH_LATER)
    assert before.verdict.value == "met", (due, before.reason)
    if len(lot.raw.channels) == 1 and not due.not_started:
        # Of two probes one may be given up; with one, silence shows nothing. A clock that has not
        # started may do so later.
        silent = judged_after(lot, due, lot.raw, by + 1)
        assert silent.verdict.value in _MISSED, (due, silent.reason)
    if due.clock is Clock.READING and due.stage == StageName.REST.value:
        # Nothing heats food in a wrapped rest: what is warm enough later was so before.
        return
    if arrived(lot, due):
        # The next reading, also a later one, shows that it stayed hot for as long as it must.
        return
    late = judged_after(lot, due, acted(lot, due, by + 1), by + _MUCH_LATER)
    assert late.verdict.value in _MISSED, (due, late.reason)


@pytest.mark.parametrize("code", CODES)
@settings(max_examples=120, deadline=None, derandomize=True)
@given(seed=st.integers(0, 10**6))
def test_a_deadline_agrees_with_what_is_judged_afterwards(code: str, seed: int) -> None:
    lot = random_lot(seed, code)
    for due in firm(lot):
        agrees(lot, due)


def test_the_random_lots_have_deadlines_of_every_kind() -> None:
    kinds = Counter(
        d.clock for code in CODES for seed in range(300) for d in firm(random_lot(seed, code))
    )
    wanted = {
        Clock.READING,
        Clock.FALL,
        Clock.RISE,
        Clock.BAND,
        Clock.ABSENCE,
        Clock.TIME_CONTROL,
        Clock.SHELF_LIFE,
    }
    assert {kind for kind, many in kinds.items() if many >= 3} >= wanted, kinds


@pytest.mark.slow
@pytest.mark.parametrize("code", CODES)
def test_deadlines_agree_in_many_lots(code: str) -> None:
    for seed in range(4000):
        lot = random_lot(seed, code)
        for due in firm(lot):
            agrees(lot, due)
