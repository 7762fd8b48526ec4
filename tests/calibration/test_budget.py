"""Uncertainty and guard bands, against worked figures.

JCGM 100:2008 4.3.7 (rectangular: a/√3) and F.2.2.1 (steps: q/√12), 6.2.1 (U = 2u); JCGM 106:2012
7.3 and 7.4 (chance to conform). Sums by hand where no source is named.
"""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest

from tempwitness.calibration.budget import (
    budget,
    chance_at_least,
    combined,
    guard_band,
    of_line,
    of_steps,
    rectangular,
)
from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.units import Unit

# A hot hold at 135 °F: maker ±1 °F (0.577), steps of 1 °F (0.289), calibration 0.3, drift 0.3,
# place of the probe ±2 °F (1.155). Squares: 0.3333 + 0.0833 + 0.09 + 0.09 + 1.3333 = 1.93.
U_HELD = combined(rectangular(1.0), of_steps(1.0), 0.3, 0.3, rectangular(2.0))


def at_most(reading: float, limit: float, u: float) -> float:
    """An upper limit is a lower one of the negated figures."""
    return chance_at_least(-reading, -limit, u)


def ice(at: float, read: float) -> ProbeCheck:
    return ProbeCheck(at, "ice", read, 32.0, Unit.F, "")


def boiling(at: float, read: float) -> ProbeCheck:
    return ProbeCheck(at, "boiling", read, 202.32, Unit.F, "")


def test_parts_add_by_their_squares() -> None:
    u = combined(U_HELD)
    assert u == pytest.approx(1.389, abs=0.0005)  # √1.93
    assert 2 * u == pytest.approx(2.78, abs=0.005)
    assert 135 + guard_band(u) == pytest.approx(137.3, abs=0.05)  # 135 + 1.645 x 1.389
    assert 135 + 2 * u == pytest.approx(137.8, abs=0.05)


@pytest.mark.parametrize(
    ("reading", "chance"),
    [(134, 0.236), (135, 0.5), (136, 0.764), (137, 0.925), (138, 0.985), (139, 0.998)],
)
def test_the_chance_to_stand_at_135_or_more(reading: float, chance: float) -> None:
    """Tables of the normal distribution: Φ(-0.72), Φ(0), Φ(0.72), Φ(1.44), Φ(2.16), Φ(2.88)."""
    assert chance_at_least(reading, 135, U_HELD) == pytest.approx(chance, abs=0.0006)


@pytest.mark.parametrize(("reading", "chance"), [(38, 0.985), (40, 0.764), (42, 0.236)])
def test_cold_is_its_mirror(reading: float, chance: float) -> None:
    assert at_most(reading, 41, U_HELD) == pytest.approx(chance, abs=0.0006)


def test_an_instrument_of_which_the_maker_s_figure_alone_is_known() -> None:
    # ±2 °F: 1.1547; steps of 0.1 °F: 0.0289; together 1.155, x 1.645 = 1.90, x 2 = 2.31.
    found = budget(Probe("p", accuracy=2.0, resolution=0.1), 0.0, 135.0)
    assert found.u == pytest.approx(1.155, abs=0.0005)
    assert guard_band(found.u) == pytest.approx(1.90, abs=0.005)
    assert found.expanded == pytest.approx(2.31, abs=0.005)


def test_the_published_examples_of_conformance() -> None:
    """JCGM 106:2012 7.3.3 (one limit) and 7.4 (two limits)."""
    assert at_most(-5.47, -5.40, 0.05) == pytest.approx(0.919, abs=0.0005)
    assert chance_at_least(507, 490, 8) == pytest.approx(0.983, abs=0.0005)
    both = at_most(13.6, 16.3, 1.8) - (1 - chance_at_least(13.6, 12.5, 1.8))
    assert both == pytest.approx(0.6626, abs=0.0001)


def test_a_line_through_two_checks() -> None:
    # Ice read 33.0, boiling 208.5; w = (135 - 33) / 175.5 = 0.5812;
    # √((0.4188 x 0.3)² + (0.5812 x 0.6)²) = √(0.01579 + 0.12161) = 0.371.
    assert of_line(135.0, (33.0, 208.5), (0.3, 0.6)) == pytest.approx(0.371, abs=0.0005)


def test_at_a_check_a_line_is_as_good_as_the_check() -> None:
    assert of_line(33.0, (33.0, 208.5), (0.3, 0.6)) == pytest.approx(0.3)
    assert of_line(208.5, (33.0, 208.5), (0.3, 0.6)) == pytest.approx(0.6)


def test_what_is_not_known_is_named_and_never_nothing() -> None:
    found = budget(Probe("p"), 0.0, 135.0)
    assert found.unknown == (
        "where the probe sat in the food",
        "how true the probe reads, for no check of it is on record",
    )
    # 2 °F assumed, in steps of 1 °F assumed: √(4/3 + 1/12).
    assert found.u == pytest.approx(math.sqrt(4 / 3 + 1 / 12))
    assert all("assumed" in part.words for part in found.parts)


def test_a_difference_that_was_let_stand_counts() -> None:
    # Ice read 30.5: 1.5 off, within 2. √(4/3 + 0.01/12 + 2.25/3 + 0.01/12) = 1.444.
    found = budget(Probe("p", resolution=0.1, checks=(ice(-60.0, 30.5),)), 0.0, 135.0)
    assert found.u == pytest.approx(1.444, abs=0.0005)
    assert "off by up to 1.5 °F, which was let stand" in found.parts[-1].words
    assert found.unknown[-1] == "how far the probe drifted between its checks"


def test_even_a_check_that_read_right_was_read_in_steps() -> None:
    # √(1/3 + 1/12 + 1/12) with ±1 °F and steps of 1 °F.
    found = budget(Probe("p", accuracy=1.0, resolution=1.0, checks=(ice(0, 32.0),)), 9.0, 135.0)
    assert found.u == pytest.approx(math.sqrt(1 / 3 + 2 / 12))


def test_a_corrected_reading_keeps_the_doubt_of_both_checks() -> None:
    # Ice 33.0 and boiling 208.5 with ±0.5 °F: both failed. Steps of 1 °F: each check 0.2887;
    # at 135 √(0.4188² + 0.5812²) = 0.7164 of it = 0.2068. √(0.25/3 + 1/12 + 0.2068²) = 0.4576.
    probe = Probe("p", accuracy=0.5, resolution=1.0, checks=(ice(0, 33.0), boiling(60, 208.5)))
    assert budget(probe, 120.0, 135.0).u == pytest.approx(0.4576, abs=0.0001)


def test_the_check_before_a_reading_counts_else_the_one_after() -> None:
    probe = Probe("p", resolution=0.1, checks=(ice(100, 31.0), ice(200, 30.2)))
    assert "up to 1 °F" in budget(probe, 50.0, 135.0).parts[-1].words
    assert "up to 1 °F" in budget(probe, 150.0, 135.0).parts[-1].words
    assert "up to 1.8 °F" in budget(probe, 250.0, 135.0).parts[-1].words


def test_the_guard_band_is_that_of_95_in_100() -> None:
    # Tables of the normal distribution: Φ(1.645) = 0.95.
    assert guard_band(1.0) == pytest.approx(1.645, abs=0.0005)
    assert NormalDist().cdf(guard_band(1.0)) == pytest.approx(0.95)


def test_without_uncertainty_the_reading_itself_decides() -> None:
    assert (chance_at_least(135, 135, 0), chance_at_least(134.9, 135, 0)) == (1.0, 0.0)
    assert (at_most(41, 41, 0), at_most(41.1, 41, 0)) == (1.0, 0.0)
