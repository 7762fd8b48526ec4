"""Probe checks: what readings before, between and after them may be worth.

Tolerances: FDA Food Code 2022 4-203.11 (food, 2 °F or 1 °C) and 4-203.12 (air, 3 °F or 1.5 °C).
All sums are by hand and stand beside the check.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from tempwitness.calibration import correct
from tempwitness.calibration.checks import tolerance
from tempwitness.model.logs import Channel, QualifiedLog, RawLog
from tempwitness.model.lot import Food, Lot, Piece, Probe, ProbeCheck
from tempwitness.model.vocabulary import Flag, Place, Species
from tempwitness.units import Unit

if TYPE_CHECKING:
    from tempwitness.model.logs import CorrectedLog

INF = math.inf


def ice(hour: float, read: float, unit: Unit = Unit.F) -> ProbeCheck:
    due = 32.0 if unit is Unit.F else 0.0
    return ProbeCheck(hour * 3600, "ice", read, due, unit, "")


def boiling(hour: float, read: float, due: float) -> ProbeCheck:
    return ProbeCheck(hour * 3600, "boiling", read, due, Unit.F, "")


def corrected(
    *checks: ProbeCheck,
    values: tuple[float, ...] = (138.0, 138.0, 138.0),
    celsius: bool = False,
    flags: tuple[int, ...] | None = None,
    **probe: Any,  # noqa: ANN401 - fields of a probe
) -> CorrectedLog:
    """Readings of the probe "blue" at 1, 2, 3 … h."""
    n = len(values)
    channel = Channel(
        "record", "A", Place.CORE, "", ("blue",), np.arange(1, n + 1),
        np.array([h * 3600.0 for h in range(1, n + 1)]), np.array(values), np.full(n, celsius),
    )  # fmt: skip
    lot = Lot("lamb-1", Food("lamb", Species.LAMB), "us/food-code/2022", "UTC", (Piece("A"),))
    blue = Probe("blue", checks=checks, **probe)
    raw = RawLog(lot, (channel,), (), (blue,), ())
    given = np.array(flags or [Flag.PASS] * n, np.int8)
    return correct(QualifiedLog(raw, (given,), ()))


def bounds(log: CorrectedLog) -> list[tuple[float, float]]:
    return list(zip(log.lower[0].tolist(), log.upper[0].tolist(), strict=True))


def test_without_a_check_readings_stand() -> None:
    log = corrected()
    assert bounds(log) == [(138.0, 138.0)] * 3
    assert log.corrections == ()


def test_a_good_check_changes_nothing_and_is_reported() -> None:
    log = corrected(ice(0.5, 30.0))
    assert bounds(log) == [(138.0, 138.0)] * 3
    (made,) = log.corrections
    assert (made.least, made.most) == (0.0, 0.0)
    assert "ice check of 1970-01-01 00:30 read 30 °F where 32 °F was due" in made.reason
    assert "within its tolerance" in made.reason


def test_a_failed_check_before_the_lot_corrects_all() -> None:
    # 32 - 29 = 3; 138 + 3 = 141.
    log = corrected(ice(0.5, 29.0))
    assert bounds(log) == [(141.0, 141.0)] * 3
    assert (log.corrections[0].least, log.corrections[0].most) == (3.0, 3.0)


def test_a_failed_check_afterwards_leaves_room_before_it() -> None:
    # 32 - 35 = -3: readings before may be right or 3 too high; after it they are 3 too high.
    log = corrected(ice(2.5, 35.0))
    assert bounds(log) == [(135.0, 138.0), (135.0, 138.0), (135.0, 135.0)]
    assert "nobody knows when" in log.corrections[0].reason
    assert (log.corrections[0].start, log.corrections[0].end) == (-INF, 2.5 * 3600)


def test_back_to_the_last_good_check_only() -> None:
    log = corrected(ice(1.5, 32.0), ice(2.5, 28.0))
    assert bounds(log) == [(138.0, 138.0), (138.0, 142.0), (142.0, 142.0)]


def test_the_person_s_word_that_the_difference_was_always_there() -> None:
    log = corrected(ice(2.5, 35.0), drift="constant")
    assert bounds(log) == [(135.0, 135.0)] * 3
    assert "the record states" in log.corrections[0].reason


def test_between_two_failed_checks_either_may_hold() -> None:
    # +3 after the first, +5 after the second.
    log = corrected(ice(0.5, 29.0), ice(2.5, 27.0))
    assert bounds(log) == [(141.0, 143.0), (141.0, 143.0), (143.0, 143.0)]


def test_a_probe_that_is_good_again_may_have_been_good_before() -> None:
    log = corrected(ice(0.5, 29.0), ice(2.5, 32.0))
    assert bounds(log) == [(138.0, 141.0), (138.0, 141.0), (138.0, 138.0)]


def test_a_good_check_against_something_else_clears_nothing() -> None:
    """218 °F in boiling water of 212 is 6 too high there; 32 °F in ice says nothing of that."""
    log = corrected(boiling(0.5, 218.0, 212.0), ice(1.5, 32.0))
    assert bounds(log) == [(132.0, 138.0)] * 3
    assert "does not show that it reads true there again" in log.corrections[-1].reason
    again = corrected(boiling(0.5, 218.0, 212.0), ice(1.5, 32.0), boiling(2.5, 212.0, 212.0))
    assert bounds(again) == [(132.0, 138.0)] * 2 + [(138.0, 138.0)]


def test_the_last_check_of_a_kind_is_what_it_shows() -> None:
    """6 too high in boiling water, then 4 too high, then ice is right: 138 is 134 to 138."""
    log = corrected(boiling(0.2, 218.0, 212.0), boiling(0.4, 216.0, 212.0), ice(1.5, 32.0))
    assert bounds(log) == [(138.0 - 4.0, 138.0)] * 3


def test_a_failed_probe_that_is_not_to_be_corrected_decides_nothing() -> None:
    log = corrected(ice(1.5, 29.0), correct=False)
    assert bounds(log) == [(138.0, 141.0), (-INF, INF), (-INF, INF)]


def test_a_constant_difference_that_is_not_to_be_corrected_is_no_help() -> None:
    log = corrected(ice(1.5, 29.0), correct=False, drift="constant")
    assert bounds(log) == [(138.0, 141.0), (-INF, INF), (-INF, INF)]


def test_a_constant_difference_reaches_back_to_the_last_good_check_only() -> None:
    # Failed by +3 at 0.5 h and by +5 at 2.5 h: there was no good check in between to start from.
    log = corrected(ice(0.5, 29.0), ice(2.5, 27.0), drift="constant")
    assert bounds(log) == [(141.0, 143.0), (141.0, 143.0), (143.0, 143.0)]


def test_one_degree_off_is_failed_on_a_celsius_probe() -> None:
    # 1.1 °C is above 1 °C although it is 1.98 °F, below 2 °F.
    log = corrected(ice(0.5, -1.1, Unit.C), values=(58.9,), celsius=True, scale="C")
    assert bounds(log) == [(60.0, 60.0)]
    log = corrected(ice(0.5, -1.0, Unit.C), values=(58.9,), celsius=True, scale="C")
    assert bounds(log) == [(58.9, 58.9)]


def test_a_difference_in_f_is_divided_for_readings_in_c() -> None:
    # 32 - 27.5 = 4.5 °F = 2.5 °C.
    log = corrected(ice(0.5, 27.5), values=(58.9,), celsius=True, scale="both")
    assert bounds(log) == [(61.4, 61.4)]


@pytest.mark.parametrize(
    ("probe", "allowed"),
    [
        (Probe("p"), (2.0, Unit.F)),
        (Probe("p", scale="C"), (1.0, Unit.C)),
        (Probe("p", scale="both"), (1.0, Unit.C)),
        (Probe("p", reads="air"), (3.0, Unit.F)),
        (Probe("p", reads="air", scale="C"), (1.5, Unit.C)),
        (Probe("p", accuracy=0.5), (0.5, Unit.F)),
        (Probe("p", accuracy=5.0), (2.0, Unit.F)),
        (Probe("p", scale="C", accuracy=0.9), (0.5, Unit.C)),
    ],
)
def test_the_narrower_of_printed_and_stated_tolerance_counts(
    probe: Probe, allowed: tuple[float, Unit]
) -> None:
    assert tolerance(probe) == allowed


def test_ice_and_boiling_make_a_line() -> None:
    # Water boils at 202.32 °F at 1609 m (Standard Atmosphere 1976, IAPWS-IF97). Slope
    # (202.32 - 32) / (208.5 - 33) = 0.970484; 32 - 0.970484 x 33 = -0.02598;
    # 0.970484 x 135 - 0.02598 = 130.989, x 165 = 160.104.
    log = corrected(ice(0.1, 33.0), boiling(0.2, 208.5, 202.32), values=(135.0, 165.0))
    low = [low for low, _ in bounds(log)]
    assert low == pytest.approx([130.989, 160.104], abs=0.001)
    assert bounds(log)[0][0] == bounds(log)[0][1]


def test_readings_between_ice_and_boiling_keep_them_apart() -> None:
    # Good at 0.5 h, boiling 4 too high at 2.5 h: between them 0 to -4, afterwards -4.
    log = corrected(ice(0.5, 32.0), boiling(2.5, 216.0, 212.0))
    assert bounds(log) == [(134.0, 138.0), (134.0, 138.0), (134.0, 134.0)]


def test_a_slope_far_from_one_means_a_broken_probe() -> None:
    # (212 - 32) / (200 - 32) = 1.071.
    log = corrected(ice(0.1, 32.0), boiling(0.2, 200.0, 212.0))
    assert bounds(log) == [(-INF, INF)] * 3
    assert "1.071: replace the probe" in log.corrections[0].reason


def test_a_probe_far_off_is_broken_not_shifted() -> None:
    # 32 - 22 = 10 °F is still a shift; 32 - 21.9 = 10.1 °F is not (common practice, no source).
    assert bounds(corrected(ice(0, 22.0)))[0] == (148.0, 148.0)
    log = corrected(ice(0, 21.9))
    assert bounds(log) == [(-INF, INF)] * 3
    assert "broken, not shifted" in log.corrections[-1].reason


def test_doubtful_readings_never_decide() -> None:
    flags = (Flag.SUSPECT, Flag.FAIL, Flag.MISSING)
    log = corrected(ice(0.5, 29.0), flags=flags)
    assert bounds(log)[0] == (-INF, INF)
    assert all(math.isnan(v) for pair in bounds(log)[1:] for v in pair)


def test_only_the_probe_s_own_readings_are_touched() -> None:
    channel = Channel(
        "record", "A", Place.CORE, "", ("blue", "red"), np.array([1, 2]),
        np.array([3600.0, 7200.0]), np.array([138.0, 138.0]), np.zeros(2, np.bool_),
    )  # fmt: skip
    lot = Lot("lamb-1", Food("lamb", Species.LAMB), "us/food-code/2022", "UTC", (Piece("A"),))
    probes = (Probe("blue", checks=(ice(0.5, 29.0),)), Probe("red"))
    raw = RawLog(lot, (channel,), (), probes, ())
    log = correct(QualifiedLog(raw, (np.ones(2, np.int8),), ()))
    assert bounds(log) == [(141.0, 141.0), (138.0, 138.0)]


def test_the_reading_at_the_moment_of_a_check_comes_after_it() -> None:
    log = corrected(ice(2.0, 29.0))
    assert bounds(log) == [(138.0, 141.0), (141.0, 141.0), (141.0, 141.0)]
