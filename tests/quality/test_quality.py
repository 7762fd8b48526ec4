"""Quality flags: which readings must not decide, and that ordinary traces keep all of theirs.

The traces are invented; the curves that must stay clean follow Newton's law of cooling or its
heating form with time constants of hours, as whole pieces have them.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np
import pytest

from tempwitness.model.vocabulary import Event, Place, StageName
from tempwitness.quality.settings import figures
from tests.quality.made import FAIL, MISSING, OK, SUSPECT, channel, codes, flags, log, note

if TYPE_CHECKING:
    from collections.abc import Callable


def heating(minute: float) -> float:
    return 205 - 165 * math.exp(-minute / 400)


def resting(minute: float) -> float:
    return 72 + 131 * math.exp(-minute / 670)


def ice_bath(minute: float) -> float:
    # Thin food in ice water, 10 °F a minute at the start.
    return 33 + 150 * math.exp(-minute / 15)


@pytest.mark.parametrize("curve", [heating, resting, ice_bath])
@pytest.mark.parametrize("every", [1.0, 10.0, 60.0, 900.0])
@pytest.mark.parametrize("step", [0.1, 1.0])
def test_ordinary_traces_keep_all_their_readings(
    curve: Callable[[float], float], every: float, step: float
) -> None:
    values = [round(curve(i * every / 60) / step) * step for i in range(600)]
    assert log(channel(values, every=every)).doubts == ()


def test_a_stall_and_a_melting_ice_bath_are_flat_and_fine() -> None:
    assert log(channel([165.0] * 300)).doubts == ()
    assert log(channel([32.0] * 300, place=Place.MEDIUM)).doubts == ()
    assert log(channel([0.0] * 300, celsius=True)).doubts == ()


def test_sparse_hand_notes_are_never_too_fast() -> None:
    found = log(channel([40, 203, 150, 41, 165], at=[0, 11, 22, 33, 44]))
    assert found.doubts == ()


def test_a_cell_without_a_number_is_missing() -> None:
    found = log(channel([138, math.nan, math.nan, 137]))
    assert found.flags[0].tolist() == [OK, MISSING, MISSING, OK]
    assert codes(found) == [(1, 2, "missing")]


@pytest.mark.parametrize(
    ("value", "celsius"),
    [
        (-127.0, True),
        (-196.6, False),
        (999.0, False),
        (850.0, True),
        (-999.9, False),
        (3276.7, True),
    ],
)
def test_figures_that_no_food_has_fail_even_in_a_row(value: float, celsius: bool) -> None:
    good = 58.0 if celsius else 138.0
    found = log(channel([good, value, value, good], celsius=celsius))
    assert found.flags[0].tolist() == [OK, FAIL, FAIL, OK]
    assert "is no temperature but" in found.doubts[0].reason


def test_a_scale_has_its_own_marks() -> None:
    # -127 °F is cold but no mark; it is outside the range of any kitchen all the same.
    assert codes(log(channel([138, -127.0, 138]))) == [(1, 1, "range")]


def test_the_power_on_value_is_doubted_only_where_it_stands_alone() -> None:
    assert flags(channel([58.0, 85.0, 58.1], celsius=True)) == [OK, SUSPECT, OK]
    assert flags(channel([84.7, 85.0, 85.3], celsius=True)) == [OK, OK, OK]
    assert flags(channel([58.0, 85.0, 58.1], celsius=True, at=[0, 30, 60])) == [OK, OK, OK]
    assert flags(channel([58.0, 0.0, 58.1], celsius=True)) == [OK, SUSPECT, OK]
    assert flags(channel([1.0, 0.0, 0.5], celsius=True)) == [OK, OK, OK]


def test_a_core_above_boiling_is_doubted_and_so_is_a_slip_of_the_pen() -> None:
    # 212 °F at sea level, 3 °F of margin; 1380 is 138.0 without its point, and 480 might be 48.0:
    # failed, it would vanish, and its neighbours would vouch for the time in between.
    found = log(channel([205, 218, 1380], at=[0, 20, 40]))
    assert found.flags[0].tolist() == [OK, SUSPECT, SUSPECT]
    assert flags(channel([38, 480, 39], at=[0, 60, 120])) == [OK, SUSPECT, OK]
    assert "218 °F lies outside -40 to 215 °F" in found.doubts[0].reason


def test_air_may_be_hot_and_jump() -> None:
    assert log(channel([225, 450, 90, 225, 350], place=Place.AIR)).doubts == ()
    assert flags(channel([225, 800, 225], place=Place.AIR)) == [OK, SUSPECT, OK]


def test_a_spike_stands_alone_between_two_that_agree() -> None:
    found = log(channel([150, 151, 184, 151.8, 152]))
    assert codes(found) == [(2, 2, "spike")]
    assert found.doubts[0].reason == "184 °F stands alone between 151 °F and 151.8 °F"


def test_a_probe_that_fell_out_is_doubted_to_the_end() -> None:
    found = log(channel([200] * 6 + [150, 100, 90, 88, 86]))
    assert found.flags[0].tolist() == [*[OK] * 6, *[SUSPECT] * 5]
    # Two thirds of the way in two minutes, and then it stays: a bare probe.
    assert codes(found) == [(6, 10, "in_air")]
    assert "so on to 86 °F, as a bare probe does in air" in found.doubts[0].reason
    assert "to the end" in found.doubts[0].reason


def test_until_it_is_back_at_its_old_level() -> None:
    found = log(channel([200, 200, 200, 100, 90, 90, 198, 198]))
    assert found.flags[0].tolist() == [OK, OK, OK, SUSPECT, SUSPECT, SUSPECT, OK, OK]


def test_what_stands_before_a_step_is_doubted_if_it_is_the_shorter_part() -> None:
    # A probe in the pit's air for two minutes, then in cold meat.
    found = log(channel([160, 160, 45, 46, 47, 48, 49]))
    assert found.flags[0].tolist() == [SUSPECT] * 7
    assert "not have been in the food yet" in found.doubts[0].reason


def test_hot_before_cold_in_one_cook_is_not_the_food() -> None:
    hand = channel([160, 45, 60, 120, 190], at=[0, 60, 120, 240, 480])
    found = log(hand, notes=[note(0, step=StageName.COOK)])
    assert found.flags[0].tolist() == [SUSPECT, OK, OK, OK, OK]
    assert codes(found) == [(0, 0, "order")]
    # Without a cook it may be food that cooled.
    assert log(hand, notes=[note(0, step=StageName.COOL)]).doubts == ()


def test_until_a_note_says_that_it_was_moved() -> None:
    trace = channel([200] * 14 + [100, 90, 90] + [160] * 11)
    found = log(trace, notes=[note(26.5, event=Event.PROBE_MOVED)])
    assert found.flags[0].tolist() == [*[OK] * 14, *[SUSPECT] * 13, OK]


def test_a_note_beside_the_step_explains_it() -> None:
    trace = channel([200, 200, 150, 150])
    for event in (Event.PROBE_MOVED, Event.SLICED, Event.TOPPED_UP):
        assert log(trace, notes=[note(1.5, event=event)]).doubts == ()
    assert log(trace, notes=[note(1.5, event=Event.DATE_MARKED)]).doubts != ()
    far = [note(-30, event=Event.PROBE_MOVED)]
    assert log(trace, notes=far).doubts != ()


def test_a_microwave_is_that_fast() -> None:
    trace = channel([40, 90, 140, 165])
    assert log(trace, notes=[note(0, step=StageName.REHEAT, method="microwave")]).doubts == ()
    assert log(trace, notes=[note(0, step=StageName.REHEAT)]).doubts != ()


def test_a_probe_put_into_cold_food_as_the_cook_begins_is_fine() -> None:
    trace = channel([72, 72, 72, 41, 40, 40.5, 41])
    assert log(trace, notes=[note(2, step=StageName.COOK)]).doubts == ()
    assert log(trace, notes=[note(2, step=StageName.REHEAT)]).doubts == ()
    assert log(trace).doubts != ()
    # Upwards it may have slipped into the hot air; and a probe left hanging in the refrigerator
    # would show a perfect cooling.
    up = channel([40, 40, 40, 225, 225, 224])
    assert log(up, notes=[note(2, step=StageName.COOK)]).doubts != ()
    assert log(trace, notes=[note(2, step=StageName.COOL)]).doubts != ()


def test_a_slow_slip_at_one_second_is_found() -> None:
    # A probe of 30 s time constant falls into 90 °F air at second 300: no single second changes
    # by much, a minute does.
    values = [200.0] * 300 + [90 + 110 * math.exp(-i / 30) for i in range(1, 301)]
    found = log(channel(values, every=1.0))
    (doubt,) = found.doubts
    # After the first 5 °F: 110 exp(-t/30) = 105 at 1.4 s.
    assert doubt.first in (301, 302)
    assert doubt.last == 599


def test_two_probes_in_one_piece_are_not_spikes_of_each_other() -> None:
    trace = channel([150, 175, 151, 176, 152, 177], probe=("blue", "red") * 3)
    assert log(trace).doubts == ()


def test_two_figures_at_one_moment() -> None:
    assert flags(channel([138, 150, 139], at=[0, 0, 30])) == [SUSPECT, SUSPECT, OK]
    # Two degrees are a good probe's own tolerance (Food Code 4-203.11(B)).
    assert flags(channel([138, 140, 139], at=[0, 0, 30])) == [OK, OK, OK]
    two = channel([138, 150], at=[0, 0], probe=("blue", "red"))
    assert flags(two) == [OK, OK]


COOK = [note(0, step=StageName.COOK), note(100, step=StageName.REST)]


def test_a_core_hotter_than_its_air_has_ever_been_is_doubted() -> None:
    core = channel([150.0 + i for i in range(0, 90)], at=[float(i) for i in range(90)])
    air = channel([160.0] * 90, place=Place.AIR)
    found = log(core, air, notes=COOK)
    # 160 + 25 °F of margin: 186 °F is the first above, in row 36.
    # From row 66 on, 216 °F, the core is above boiling as well.
    assert codes(found) == [(36, 65, "surroundings"), (66, 89, "range")]


def test_a_core_in_air_that_was_hot_before_is_fine() -> None:
    core = channel([195.0] * 60)
    air = channel([225.0] * 20 + [100.0] * 40, place=Place.AIR)
    assert log(core, air, notes=COOK).doubts == ()


def test_air_that_was_not_watched_may_have_been_hotter() -> None:
    core = channel([195.0] * 60)
    unseen = channel([225.0, 100.0, 100.0], at=[0, 40, 50], place=Place.AIR)
    late = channel([100.0] * 20, at=[40.0 + i for i in range(20)], place=Place.AIR)
    assert log(core, unseen, notes=COOK).doubts == ()
    assert log(core, late, notes=COOK).doubts == ()
    assert log(core, channel([100.0] * 60, place=Place.AIR)).doubts == ()


def test_the_figures_say_where_they_come_from() -> None:
    import tomllib  # noqa: PLC0415 - one test needs them

    from tempwitness.rulebook.files import rules_folder  # noqa: PLC0415

    for name in ("defaults.toml", "checks.toml"):
        table = tomllib.loads((rules_folder() / "quality" / name).read_text("utf-8"))
        flat = {
            f"{key}.{inner}": part
            for key, entry in table.items()
            for inner, part in (entry.items() if key == "range" else [("", entry)])
        }
        assert flat
        assert [k for k, entry in flat.items() if not entry.get("basis")] == []
    # The bound for the middle of a 25.4 mm slab put from 93 °C into ice water, both faces: peak of
    # the step response 1.850 ΔT α / L², 1.850 x 93 K x 1.45e-7 m2/s / (0.0127 m)^2 = 0.1547 K/s,
    # which is 16.7 °F/min. What counts as a slip lies above it.
    assert figures().step.rate > 1.850 * 93 * 1.45e-7 / 0.0127**2 * 1.8 * 60


def test_large_logs_are_tested_at_once() -> None:
    n = 86_400
    curve = 40 + 160 * (1 - np.exp(-np.arange(n) / 20_000))
    values = np.round(curve, 1)
    values[5000] = 999.0
    values[7000] = 185.0
    found = log(*(channel(values.tolist(), every=1.0) for _ in range(2)))
    assert codes(found)[:2] == [(5000, 5000, "sentinel"), (7000, 7000, "sentinel")]
