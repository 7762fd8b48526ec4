"""The tests that bear QARTOD's names beside another implementation of them, ioos_qc.

Random regular series, where both mean the same. Where they do not, the difference is said at the
test. That package counts 1 pass, 2 not evaluated, 3 suspect, 4 fail, 9 missing, as we do.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from ioos_qc import qartod

from tempwitness.model.vocabulary import Flag, Place, StageName
from tempwitness.quality import settings
from tests.quality.made import T0, channel, log, note

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from tempwitness.model.logs import Channel, Note

    Mask = NDArray[np.bool_]

SEEDS = range(20)
FIGURES = settings.figures()


def ours(trace: Channel, code: str, *beside: Channel, notes: tuple[Note, ...] = ()) -> Mask:
    """Which rows a test of ours doubts."""
    found = np.zeros(len(trace), np.bool_)
    for doubt in log(trace, *beside, notes=notes).doubts:
        if doubt.channel == 0 and doubt.code == code:
            found[doubt.first : doubt.last + 1] = True
    return found


def theirs(flags: object) -> Mask:
    """Which rows theirs do."""
    read = np.asarray(flags)
    doubted: Mask = (read == int(Flag.SUSPECT)) | (read == int(Flag.FAIL))
    return doubted


def times(n: int, every: float = 60.0) -> NDArray[Any]:
    return (np.datetime64(int(T0), "s") + (np.arange(n) * every).astype("timedelta64[s]")).astype(
        "datetime64[ns]"
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_gross_range(seed: int) -> None:
    # Sparse on purpose: beyond the range ours says suspect where theirs says fail, because a hand
    # may have slipped; what is doubted is the same.
    rng = np.random.default_rng(seed)
    values = np.round(rng.uniform(-60.0, 240.0, 200), 1)
    trace = channel(values.tolist(), every=1800.0)
    low, high = FIGURES.range.suspect[Place.CORE]
    flags = qartod.gross_range_test(values, fail_span=(-1e4, 1e4), suspect_span=(low, high))
    assert ours(trace, "range").tolist() == theirs(flags).tolist()
    assert theirs(flags).any()


@pytest.mark.parametrize("seed", SEEDS)
def test_spike(seed: int) -> None:
    # Their method "differential" takes the lesser of the changes before and after a tip, as ours
    # does. It knows neither time nor whether the neighbours agree with each other: here they
    # always do, and the readings are a minute apart.
    rng = np.random.default_rng(seed)
    values = np.round(150 + np.cumsum(rng.normal(0, 0.1, 300)), 1)
    tips = rng.choice(np.arange(2, 298, 4), 12, replace=False)
    values[tips] += rng.choice([-1, 1], 12) * rng.uniform(5, 45, 12).round(1)
    trace = channel(values.tolist())
    flags = qartod.spike_test(
        values, suspect_threshold=FIGURES.spike.least, fail_threshold=1e4, method="differential"
    )
    assert ours(trace, "spike").tolist() == theirs(flags).tolist()
    assert theirs(flags).any()


@pytest.mark.parametrize("every", [900.0, 3600.0])
def test_spike_differs_where_time_matters(every: float) -> None:
    # In a quarter of an hour food may have been changed; theirs flags a tip whatever the interval.
    values = np.array([150.0, 190.0, 150.0])
    flags = qartod.spike_test(
        values, suspect_threshold=15.0, fail_threshold=1e4, method="differential"
    )
    assert theirs(flags).tolist() == [False, True, False]
    assert not ours(channel(values.tolist(), every=every), "spike").any()


@pytest.mark.parametrize("seed", SEEDS)
def test_rate_of_change(seed: int) -> None:
    # Theirs flags the reading after a change that is too fast, per second; ours all from there on,
    # because food does not come back by itself. So the first doubted reading is the same one.
    rng = np.random.default_rng(seed)
    values = np.round(180 + np.cumsum(rng.normal(0, 0.3, 240)), 1)
    start = int(rng.integers(130, 200))
    # More than the 20 °F that a minute may bring, and not down to the same figure in °C.
    values[start:] -= float(rng.uniform(21.5, 45.0))
    trace = channel(values.tolist())
    flags = qartod.rate_of_change_test(
        inp=values, tinp=times(240), threshold=FIGURES.step.rate / 60.0
    )
    found = ours(trace, "rate_of_change") | ours(trace, "in_air") | ours(trace, "unit")
    assert np.flatnonzero(theirs(flags)).tolist() == [start]
    assert np.flatnonzero(found).tolist() == list(range(start, 240))


@pytest.mark.parametrize("seed", SEEDS)
def test_rate_of_change_in_a_clean_log(seed: int) -> None:
    rng = np.random.default_rng(seed)
    values = np.round(40 + np.cumsum(rng.uniform(-9.0, 9.9, 240)), 1)
    values = np.clip(values, -30.0, 210.0)
    flags = qartod.rate_of_change_test(
        inp=values, tinp=times(240), threshold=FIGURES.step.rate / 60.0
    )
    assert not theirs(flags).any()
    assert not ours(channel(values.tolist()), "rate_of_change").any()


@pytest.mark.parametrize("seed", SEEDS)
def test_flat_line(seed: int) -> None:
    # Theirs flags from where the run has lasted for the threshold; ours the whole run after its
    # first reading, because nobody knows when it stuck. So each run is found by both or by none.
    # Theirs looks neither at the display's steps nor at what the surroundings do: here the display
    # shows tenths and the air moves all the time.
    rng = np.random.default_rng(seed)
    lengths = rng.integers(20, 200, 8)
    steps = np.concatenate([np.zeros(n) + k * 0.7 for k, n in enumerate(lengths)])
    values = np.round(150.1 + steps, 1)
    n = len(values)
    air = channel(np.round(225 + 40 * np.sin(np.arange(n) / 12), 1).tolist(), place=Place.AIR)
    allowed = FIGURES.flat_line.times * 0.1 / FIGURES.flat_line.slowest * 60.0
    # The run must be longer than allowed: one more interval in their count.
    flags = qartod.flat_line_test(
        inp=values,
        tinp=times(n),
        suspect_threshold=int(allowed + 60),
        fail_threshold=10**7,
        tolerance=0.05,
    )
    mine = ours(channel(values.tolist()), "flat_line", air, notes=(note(0, step=StageName.COOK),))
    edges = np.concatenate(([0], np.cumsum(lengths)))
    spans = [slice(a, b) for a, b in zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True)]
    assert [bool(mine[s].any()) for s in spans] == [bool(theirs(flags)[s].any()) for s in spans]
    # What is found by theirs is found by ours, and more of the same run.
    assert not (theirs(flags) & ~mine).any()


def test_flat_line_differs_where_readings_are_irregular() -> None:
    # Theirs turns seconds into a number of readings by the median interval: two readings four hours
    # apart count as two intervals. Ours asks for an unbroken run.
    values = np.array([150.3] * 4)
    stamps = np.array([0, 60, 14460, 14520])
    tinp = (np.datetime64(int(T0), "s") + stamps.astype("timedelta64[s]")).astype("datetime64[ns]")
    flags = qartod.flat_line_test(
        inp=values, tinp=tinp, suspect_threshold=120, fail_threshold=10**7, tolerance=0.05
    )
    assert theirs(flags).any()
    trace = channel(values.tolist(), at=(stamps / 60).tolist())
    assert not ours(trace, "flat_line", notes=(note(0, step=StageName.COOK),)).any()
