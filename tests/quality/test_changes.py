"""Changes that food cannot make: by its thickness, in air, and from one scale to the other."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tempwitness.model.lot import Food
from tempwitness.model.vocabulary import Event, Place, Species, StageName
from tests.quality.made import OK, SUSPECT, channel, codes, flags, log, note

INCH = 0.0254


def flat(inches: float) -> Food:
    return replace(Food("brisket", Species.BEEF), thickness=inches * INCH, shape="flat")


def test_thick_food_cannot_change_fast_over_hours_either() -> None:
    # 4 inches, flat, never noted as heated: a surface between 28 and 213 °F moves the middle by at
    # most 1.851 x 185 °F x 1.45e-7 m2/s / (0.0508 m)^2 x 60 s = 1.15 °F/min, with half as much
    # again 1.73: in 30 min 52 °F. 150 to 90 is 60, 150 to 100 is 50.
    cooling = [note(-60, step=StageName.COOL)]
    slow, fast = channel([150, 100, 95], at=[0, 30, 60]), channel([150, 90, 88], at=[0, 30, 60])
    assert log(slow, notes=cooling, food=flat(4)).doubts == ()
    found = log(fast, notes=cooling, food=flat(4))
    assert codes(found) == [(0, 0, "rate_of_change"), (1, 2, "rate_of_change")]
    # Nobody stated a thickness: hand notes may be of another, thin piece.
    assert log(fast, notes=cooling).doubts == ()
    # Sliced in between, and said so.
    cut = [*cooling, note(15, event=Event.SLICED)]
    assert log(fast, notes=cut, food=flat(4)).doubts == ()


def test_frozen_food_conducts_otherwise_and_is_held_to_no_thickness() -> None:
    trace = channel([-4, 60, 62], at=[0, 30, 60])
    assert log(trace, notes=[note(-60, step=StageName.COOL)], food=flat(4)).doubts == ()


def test_a_slip_is_found_over_ten_minutes() -> None:
    # 5 °F a minute for ten minutes: no minute is too fast for any food, ten are for this one.
    values = [150.0] * 20 + [150.0 - 5 * i for i in range(1, 11)] + [100.0] * 20
    cooling = [note(-60, step=StageName.COOL)]
    assert log(channel(values), notes=cooling).doubts == ()
    assert {c for _, _, c in codes(log(channel(values), notes=cooling, food=flat(4)))} == {
        "rate_of_change"
    }


@pytest.mark.parametrize("tau", [5.0, 30.0, 60.0, 120.0])
@pytest.mark.parametrize("every", [1.0, 10.0, 60.0])
def test_a_bare_probe_comes_to_the_air_by_its_own_time_constant(tau: float, every: float) -> None:
    # First order: T = 88 + 112 exp(-t/tau); a probe's tau in air is seconds to a minute or two.
    n = int(1200 / every)
    values = [200.0] * n + [88 + 112 * math.exp(-i * every / tau) for i in range(1, n + 1)]
    found = log(channel(values, every=every))
    # Read a minute apart, a probe of 5 s is there at once, as one put into other food would be:
    # 112 exp(-60 / 5) is less than a thousandth of a degree.
    instant = every > 5 * tau
    assert {c for _, _, c in codes(found)} == {"rate_of_change" if instant else "in_air"}
    assert set(flags(channel(values, every=every))[n + max(1, int(tau / every)) :]) == {SUSPECT}


def test_a_probe_that_moved_into_other_food_is_not_said_to_hang_in_air() -> None:
    # From one piece into another that is still warming: no level is settled.
    values = [200.0] * 20 + [100.0 + 3 * i for i in range(20)]
    assert {c for _, _, c in codes(log(channel(values)))} == {"rate_of_change"}


def test_a_column_that_switches_to_the_other_unit() -> None:
    # 68 °F is 20 °C: (68 - 32) / 1.8. The °F column is believed as far as its own figures go.
    values = [67.0, 67.5, 68.0, 20.0, 20.0, 20.5, 21.0]
    found = log(channel([*[66.0] * 10, *values], at=[5.0 * i for i in range(17)]))
    assert found.flags[0].tolist() == [*[OK] * 13, *[SUSPECT] * 4]
    assert codes(found) == [(13, 16, "unit")]
    assert "68 °F to 20 °F is the same temperature on the other scale" in found.doubts[0].reason


def test_the_part_before_is_doubted_where_the_column_fits_what_comes_after() -> None:
    # 4.4 in a °F column, then 40: it was written in °C at first, and 4.4 °F never was.
    values = [*[20.0] * 10, *[68.0] * 5]
    found = log(channel(values, at=[5.0 * i for i in range(15)]))
    assert found.flags[0].tolist() == [*[SUSPECT] * 10, *[OK] * 5]
    # In a °C column it is the other way round.
    found = log(channel([*[68.0] * 10, *[20.0] * 5], at=[5.0 * i for i in range(15)], celsius=True))
    assert found.flags[0].tolist() == [*[SUSPECT] * 10, *[OK] * 5]


def test_cells_that_bear_their_own_units_switched_nothing() -> None:
    # 140 °F and 60 °C are one temperature, written twice.
    mixed = channel([140.0, 60.0], celsius=False)
    assert log(replace(mixed, celsius=np.array([False, True]))).doubts == ()


def test_until_it_switches_back() -> None:
    values = [140.0] * 8 + [60.0] * 4 + [140.0] * 8
    found = log(channel(values, at=[5.0 * i for i in range(20)]))
    assert found.flags[0].tolist() == [*[OK] * 8, *[SUSPECT] * 4, *[OK] * 8]


def test_a_celsius_column_with_figures_of_fahrenheit() -> None:
    # 135 °C is no food; 135 °F is. Then 60 may be °F as well, which is warm and not hot.
    found = log(channel([60, 61, 135, 136, 60], celsius=True, at=[0, 30, 60, 90, 120]))
    assert found.flags[0].tolist() == [SUSPECT] * 5
    assert codes(found) == [(0, 4, "unit")]
    # One figure between two that agree is a slip of its own.
    assert flags(channel([60, 61, 135, 61, 60], celsius=True)) == [OK, OK, SUSPECT, OK, OK]


def test_units_that_hand_notes_leave_open_are_asked_about() -> None:
    # 138 °F is 58.9 °C.
    sparse = channel([139, 138, 58.9, 58.0], at=[0, 30, 60, 90])
    (question,) = log(sparse).questions
    assert "58.9 °F after 138 °F" in question
    assert log(sparse).doubts == ()
    cold = channel([38, 15, 15], at=[0, 60, 120])
    (question,) = log(cold, notes=[note(0, step=StageName.COLD_HOLD)]).questions
    assert question.endswith("Was it °C?")
    assert log(cold, notes=[note(0, step=StageName.FREEZE)]).questions == ()


def test_surfaces_and_air_have_no_thickness() -> None:
    fast = channel([150, 90, 88], at=[0, 30, 60], place=Place.SURFACE)
    assert log(fast, notes=[note(-60, step=StageName.COOL)], food=flat(4)).doubts == ()
