"""Corrections that are known within bounds: of ranges, of the value that was due, of old checks.

Tolerances: FDA Food Code 2022 4-203.11 (2 °F or 1 °C). All sums are by hand.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tempwitness.calibration import correct
from tempwitness.calibration.settings import check_figures
from tempwitness.model.logs import Channel, QualifiedLog, RawLog
from tempwitness.model.lot import Food, Lot, Piece, Probe, ProbeCheck
from tempwitness.model.vocabulary import Flag, Place, Species
from tempwitness.units import Unit

if TYPE_CHECKING:
    from tempwitness.model.logs import CorrectedLog

Kind = Literal["ice", "boiling"]
INF = math.inf
DAY = 24.0


def check(
    hour: float, kind: Kind, read: float, due: float, *, within: float = 0.0, unit: Unit = Unit.F
) -> ProbeCheck:
    least, most = (due - within, due + within) if within else (None, None)
    return ProbeCheck(hour * 3600, kind, read, due, unit, "", least, most)


def ice(hour: float, read: float) -> ProbeCheck:
    return check(hour, "ice", read, 32.0)


def corrected(
    *checks: ProbeCheck,
    ranges: tuple[tuple[float, float], ...] = ((138.0, 138.0),),
    hours: tuple[float, ...] | None = None,
    celsius: bool = False,
    **probe: Any,  # noqa: ANN401 - fields of a probe
) -> CorrectedLog:
    """Readings of the probe "blue" at 1, 2, 3 … h, or at these hours, each between two bounds."""
    n = len(ranges)
    low, high = np.array([a for a, _ in ranges]), np.array([b for _, b in ranges])
    channel = Channel(
        "record", "A", Place.CORE, "", ("blue",), np.arange(1, n + 1),
        np.array([h * 3600.0 for h in hours or range(1, n + 1)]),
        np.where(np.isfinite(low), low, high), np.full(n, celsius), None, low, high,
    )  # fmt: skip
    lot = Lot("lamb-1", Food("lamb", Species.LAMB), "us/food-code/2022", "UTC", (Piece("A"),))
    raw = RawLog(lot, (channel,), (), (Probe("blue", checks=checks, **probe),), ())
    return correct(QualifiedLog(raw, (np.full(n, Flag.PASS, np.int8),), ()))


def bounds(log: CorrectedLog) -> list[tuple[float, float]]:
    return list(zip(log.lower[0].tolist(), log.upper[0].tolist(), strict=True))


def test_each_end_of_a_range_is_moved_by_what_it_needs() -> None:
    # Ice 30, boiling 216 where 212 was due: slope 180 / 186 = 0.967742 is below 0.97, so take
    # 214: 180 / 184 = 0.978261, shift 32 - 0.978261 x 30 = 2.652174.
    # 140 -> 139.608696, 100 -> 100.478261.
    log = corrected(ice(0.1, 30.0), check(0.2, "boiling", 214.0, 212.0), ranges=((100.0, 140.0),))
    assert bounds(log) == [(100.0, 140.0)]  # both lie within 2 °F, nothing is to be corrected
    log = corrected(
        ice(0.1, 30.0),
        check(0.2, "boiling", 214.0, 212.0),
        ranges=((100.0, 140.0), (-INF, 140.0), (100.0, INF)),
        accuracy=1.0,
    )
    ends = bounds(log)
    assert ends[0] == pytest.approx((100.478261, 139.608696), abs=1e-6)
    assert ends[1] == pytest.approx((-INF, 139.608696), abs=1e-6)
    assert ends[2] == pytest.approx((100.478261, INF), abs=1e-6)


def test_an_open_end_stays_open_under_a_plain_shift() -> None:
    # 32 - 29 = 3.
    log = corrected(ice(0.5, 29.0), ranges=((-INF, 41.0), (165.0, INF)))
    assert bounds(log) == [(-INF, 44.0), (168.0, INF)]


def test_a_range_in_celsius_takes_the_difference_over_1_8() -> None:
    # 32 - 27.5 = 4.5 °F = 2.5 °C.
    log = corrected(ice(0.5, 27.5), ranges=((58.0, 60.0),), celsius=True, scale="both")
    assert bounds(log) == [(60.5, 62.5)]


def test_what_was_due_within_bounds_widens_the_correction() -> None:
    # Due 202.3 ± 0.9, read 206.3: 3.1 to 4.9 too high in any case.
    log = corrected(check(0.5, "boiling", 206.3, 202.3, within=0.9))
    assert bounds(log) == [(133.1, 134.9)]
    assert "read 206.3 °F where 201.4 °F to 203.2 °F was due" in log.corrections[0].reason


def test_a_check_too_near_its_tolerance_may_have_passed() -> None:
    # Due 202.3 ± 0.9, read 204.0: 0.8 to 2.6 too high, and up to 2 °F passes.
    log = corrected(check(0.5, "boiling", 204.0, 202.3, within=0.9))
    assert bounds(log) == [(135.4, 138.0)]
    assert "too near its tolerance to tell" in log.corrections[0].reason
    # Read 203.0: 0.2 too low to 1.6 too high, passed whatever was due.
    assert bounds(corrected(check(0.5, "boiling", 203.0, 202.3, within=0.9))) == [(138.0, 138.0)]
    # Read 204.9: 1.7 to 3.5 too high; read 205.3: 2.1 to 3.9, failed whatever was due.
    assert bounds(corrected(check(0.5, "boiling", 204.9, 202.3, within=0.9))) == [(134.5, 138.0)]
    assert bounds(corrected(check(0.5, "boiling", 205.3, 202.3, within=0.9))) == [(134.1, 135.9)]


def test_a_coarse_check_does_not_fail_a_fine_probe_that_reads_right() -> None:
    """±0.5 °F by its maker: boiling water of 202.3 ± 0.9 cannot tell, and it is within 2 °F."""
    log = corrected(check(0.5, "boiling", 202.3, 202.3, within=0.9), accuracy=0.5)
    assert bounds(log) == [(138.0, 138.0)]


def test_a_line_through_a_check_within_bounds() -> None:
    # Ice 29, boiling 206.3 where 201.4 to 203.2 was due. Slopes 169.4 / 177.3 = 0.955443 and
    # 171.2 / 177.3 = 0.965595; the likeliest 170.3 / 177.3 = 0.960519 is below 0.97: replace it.
    broken = corrected(ice(0.1, 29.0), check(0.2, "boiling", 206.3, 202.3, within=0.9))
    assert bounds(broken) == [(-INF, INF)]
    # Boiling 200.3 where 201.4 to 203.2 was due (likeliest 202.3): slope 170.3 / 171.3 = 0.994162.
    # Ends: 169.4 / 171.3 x 109 + 32 = 139.791, 171.2 / 171.3 x 109 + 32 = 140.936 at 138.
    log = corrected(ice(0.1, 29.0), check(0.2, "boiling", 200.3, 202.3, within=0.9))
    assert bounds(log) == [pytest.approx((139.791, 140.936), abs=0.001)]


def test_readings_between_two_failures_of_different_kinds_keep_both() -> None:
    """Boiling water 6 too hot, readings, then ice 3 too cold: at 138 either may hold."""
    boiling = check(0.5, "boiling", 218.0, 212.0)
    log = corrected(boiling, ice(1.5, 29.0), ranges=((138.0, 138.0),) * 2)
    assert bounds(log) == [(132.0, 141.0), (132.0, 141.0)]
    assert "was not done again" in log.corrections[-1].reason


def test_a_good_check_that_is_too_old_leaves_readings_and_is_said() -> None:
    """30 days (common practice, no source): the reading of day 31 stands, and nothing vouches."""
    assert check_figures().oldest == 30 * 86400
    log = corrected(ice(0.0, 32.0), ranges=((138.0, 138.0),) * 2, hours=(29 * DAY, 31 * DAY))
    assert bounds(log) == [(138.0, 138.0)] * 2
    (old,) = log.corrections
    assert old.start == 30 * 86400
    assert "more than 30 days before these readings" in old.reason


def test_whether_an_old_difference_still_holds_nobody_knows() -> None:
    log = corrected(ice(0.0, 29.0), ranges=((138.0, 138.0),) * 2, hours=(29 * DAY, 31 * DAY))
    assert bounds(log) == [(141.0, 141.0), (138.0, 141.0)]
    assert "whether its difference still held" in log.corrections[-1].reason


def test_an_old_check_that_a_later_one_bears_out_is_not_too_old() -> None:
    log = corrected(ice(0.0, 32.0), ice(32 * DAY, 32.0), hours=(31 * DAY,))
    assert bounds(log) == [(138.0, 138.0)]
    assert log.corrections == ()


def test_an_old_failure_that_is_not_to_be_corrected_still_decides_nothing() -> None:
    log = corrected(ice(0.0, 29.0), hours=(31 * DAY,), correct=False)
    assert bounds(log) == [(-INF, INF)]


offs = st.floats(-4.0, 4.0).map(lambda off: round(off, 1))


@given(
    offs,
    offs,
    st.sampled_from([0.0, 0.9]),
    st.floats(-20.0, 250.0),
    st.floats(0.0, 40.0),
    st.sampled_from([None, 0.5, 1.0]),
)
def test_bounds_hold_every_value_that_the_checks_allow(
    cold: float, hot: float, within: float, low: float, wide: float, accuracy: float | None
) -> None:
    """For any reading in the range and any due value in its bounds the line lies inside."""
    checks = (ice(0.1, 32.0 + cold), check(0.2, "boiling", 202.0 + hot, 202.0, within=within))
    log = corrected(*checks, ranges=((low, low + wide),), accuracy=accuracy)
    ((least, most),) = bounds(log)
    assert not math.isnan(least)
    assert not math.isnan(most)
    assert least <= most
    failed = abs(cold) > 2.0 or abs(hot) - within > 2.0
    if not failed:
        return
    for due in (202.0 - within, 202.0, 202.0 + within):
        slope = (due - 32.0) / (170.0 + hot - cold)
        for reading in (low, low + wide / 2, low + wide):
            true = 32.0 + slope * (reading - 32.0 - cold)
            assert least - 1e-5 <= true <= most + 1e-5
