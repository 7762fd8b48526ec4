"""Bounds for passive food, against a worked example and against random histories.

The example (cooling from 135 to 78 °F in 120 min, read within 1 °F, in surroundings of 36 to 41 °F,
k between 0.3 and 0.9 an hour) was worked out by hand from the solution of the equation; the
random histories follow the equation itself, step by step.
"""

from __future__ import annotations

import numpy as np
import pytest

from tempwitness.bounds.exponential import Ends, Law, crossings, passive_at, passive_between

_HOUR = 3600.0


def _law(k: tuple[float, float], around: tuple[float, float], count: int = 1) -> Law:
    fields = (k[0] / _HOUR, k[1] / _HOUR, *around)
    return Law(*(np.full(count, value) for value in fields))


def _ends(first: float, last: float, error: float, minutes: float) -> Ends:
    low = (np.array([first - error]), np.array([last - error]))
    high = (np.array([first + error]), np.array([last + error]))
    return Ends(np.array([minutes * 60.0]), low, high)


@pytest.mark.parametrize(
    ("figure", "least", "most"),
    [(110.0, 18.73, 63.95), (100.0, 28.41, 93.49), (90.0, 58.34, 104.81)],
)
def test_worked_example(figure: float, least: float, most: float) -> None:
    """Time at or above a figure, in minutes: while it certainly, and while it possibly, stands."""
    ends, law = _ends(135, 78, 1, 120), _law((0.3, 0.9), (36, 41))
    moments = np.linspace(0, 7200, 72001)
    many = Ends(
        np.full(len(moments), 7200.0),
        (np.full(len(moments), ends.low[0][0]), np.full(len(moments), ends.low[1][0])),
        (np.full(len(moments), ends.high[0][0]), np.full(len(moments), ends.high[1][0])),
    )
    low, high = passive_at(moments, many, _law((0.3, 0.9), (36, 41), len(moments)))
    assert moments[low >= figure].max() / 60 == pytest.approx(least, abs=0.01)
    assert moments[high >= figure].max() / 60 == pytest.approx(most, abs=0.01)
    _, found = crossings(figure, ends, law)
    assert found.min() / 60 <= least + 0.01
    for bound in (least, most):
        assert np.abs(found / 60 - bound).min() < 0.01


def test_between_two_moments_the_curves_run_one_way() -> None:
    """At the ends themselves: 134 at least at first, 79 at most at last; nothing lies beyond."""
    low, high = passive_between(_ends(135, 78, 1, 120), _law((0.3, 0.9), (36, 41)))
    assert high[0] == pytest.approx(136.0)
    assert low[0] == pytest.approx(77.0)


@pytest.mark.parametrize("start", [135.0, 60.0, 38.0, 20.0])
def test_no_history_leaves_the_bounds(start: float) -> None:
    """Warming, cooling, and starting among the surroundings, with k and A that keep changing."""
    rng = np.random.default_rng(int(start))
    minutes, steps = 90, 40
    for _ in range(150):
        k = np.repeat(rng.choice([0.3, 0.9, rng.uniform(0.3, 0.9)], minutes), steps) / _HOUR
        around = np.repeat(rng.choice([36.0, 41.0, rng.uniform(36, 41)], minutes), steps)
        history = [start]
        for rate, ambient in zip(k, around, strict=True):
            decay = np.exp(-rate * 60.0 / steps)
            history.append(float(ambient + (history[-1] - ambient) * decay))
        read = (start + rng.uniform(-1, 1), history[-1] + rng.uniform(-1, 1))
        part = np.array(history[::steps])
        moments = np.linspace(0.0, 60.0 * (len(part) - 1), len(part))
        count = len(part)
        many = Ends(
            np.full(count, minutes * 60.0),
            (np.full(count, read[0] - 1), np.full(count, read[1] - 1)),
            (np.full(count, read[0] + 1), np.full(count, read[1] + 1)),
        )
        low, high = passive_at(moments, many, _law((0.3, 0.9), (36, 41), count))
        assert (part >= low - 1e-6).all()
        assert (part <= high + 1e-6).all()
        least, most = passive_between(many, _law((0.3, 0.9), (36, 41), count))
        assert part.min() >= least[0] - 1e-6
        assert part.max() <= most[0] + 1e-6
