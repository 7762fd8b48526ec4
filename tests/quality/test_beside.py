"""Channels beside each other: swapped probes, food and its air, displays that are stuck."""

from __future__ import annotations

from dataclasses import replace

from tempwitness.model.logs import Channel
from tempwitness.model.vocabulary import Event, Place, StageName
from tests.quality.made import OK, SUSPECT, channel, codes, log, note


def test_two_probes_that_exchange_their_levels_are_both_doubted() -> None:
    # Five minutes apart, 30 °F: slower than any step, and yet both at once.
    when = [5.0 * i for i in range(12)]
    one = channel([150.0] * 8 + [180.0] * 4, at=when)
    two = replace(channel([180.0] * 8 + [150.0] * 4, at=when), piece="B", probe=("red",))
    found = log(one, two)
    for flags in found.flags:
        assert flags.tolist() == [*[OK] * 8, *[SUSPECT] * 4]
    assert codes(found) == [(8, 11, "swapped"), (8, 11, "swapped")]
    assert "is where pit.csv, core of piece B was" in found.doubts[0].reason


def test_until_they_are_swapped_back_or_a_note_speaks() -> None:
    when = [5.0 * i for i in range(12)]
    one = channel([150.0] * 4 + [180.0] * 3 + [151.0] * 5, at=when)
    two = replace(channel([180.0] * 4 + [150.0] * 3 + [181.0] * 5, at=when), piece="B")
    found = log(one, two)
    for flags in found.flags:
        assert flags.tolist() == [*[OK] * 4, *[SUSPECT] * 3, *[OK] * 5]
    # A note explains the first change; the way back is then one that nobody noted.
    moved = [note(17.5, event=Event.PROBE_MOVED)]
    assert codes(log(one, two, notes=moved)) == [(7, 11, "swapped"), (7, 11, "swapped")]
    moved.append(note(33, event=Event.PROBE_MOVED))
    assert log(one, two, notes=moved).doubts == ()


def test_two_pieces_that_cross_slowly_were_not_swapped() -> None:
    one = channel([150.0 + i for i in range(60)])
    two = replace(channel([209.0 - i for i in range(60)]), piece="B")
    assert log(one, two).doubts == ()


HOLD = [note(0, step=StageName.HOT_HOLD)]


def test_a_hot_hold_adds_no_more_heat_than_its_air_has() -> None:
    # The core came with 140 °F; air of 150 °F cannot bring it to 180. Maximum principle.
    air = channel([150.0] * 60, place=Place.AIR)
    rising = channel([140.0 + i for i in range(60)])
    found = log(rising, air, notes=HOLD)
    # 150 + 25 °F of margin: 176 °F is the first above, in row 36.
    assert codes(found) == [(36, 59, "surroundings")]
    # It may have brought more than the air has.
    falling = channel([195.0 - i / 10 for i in range(60)])
    assert log(falling, air, notes=HOLD).doubts == ()


def test_food_in_a_refrigerator_is_not_colder_than_all_of_its_air() -> None:
    air = channel([40.0] * 60, place=Place.AIR)
    cold = channel([38.0] * 10 + [36 - i for i in range(50)], at=[5.0 * i for i in range(60)])
    slow_air = replace(air, at=cold.at)
    found = log(cold, slow_air, notes=[note(0, step=StageName.COLD_HOLD)])
    # The core began at 38 °F, below the air's 40: 38 - 15 = 23; 22 °F stands in row 24.
    assert codes(found) == [(24, 59, "surroundings")]
    # An ice bath is another thing: the air is not what the food is in.
    bath = [note(0, step=StageName.COOL, method="ice_bath")]
    assert log(cold, slow_air, notes=bath).doubts == ()


def frozen(minutes: int) -> Channel:
    """A display of tenths that stands still after it has moved."""
    return channel([150.1, 150.2, *[150.3] * minutes])


COOK = [note(0, step=StageName.COOK)]


def test_a_display_that_stands_still_while_the_air_moves_is_doubted() -> None:
    # Four steps of 0.1 °F at 0.004 °F a minute are 100 min.
    air = channel([225.0 + i / 2 for i in range(182)], place=Place.AIR)
    found = log(frozen(180), air, notes=COOK)
    assert codes(found) == [(3, 181, "flat_line")]
    assert "stands unchanged for 179 min while the air moved by" in found.doubts[0].reason
    short = log(frozen(100), channel(air.value[:102].tolist(), place=Place.AIR), notes=COOK)
    assert short.doubts == ()


def test_a_steady_fire_and_a_stall_are_real() -> None:
    air = channel([225.0, 226.0] * 91, place=Place.AIR)
    assert log(frozen(180), air, notes=COOK).doubts == ()
    # Nothing beside it: only far longer than that, and only while food is heated.
    assert log(frozen(290), notes=COOK).doubts == ()
    assert codes(log(frozen(310), notes=COOK)) == [(3, 311, "flat_line")]
    assert log(frozen(310)).doubts == ()


def test_whole_degrees_repeat_for_hours() -> None:
    air = channel([225.0 + i / 4 for i in range(302)], place=Place.AIR)
    whole = channel([150.0, 151.0, *[152.0] * 300])
    assert log(whole, air, notes=COOK).doubts == ()


def test_food_that_rests_at_one_temperature_has_good_reason() -> None:
    air = channel([38.0 + i / 4 for i in range(182)], place=Place.AIR)
    for stage, method in (
        (StageName.COLD_HOLD, ""),
        (StageName.THAW, ""),
        (StageName.HOT_HOLD, ""),
        (StageName.COOL, "ice_bath"),
    ):
        assert log(frozen(180), air, notes=[note(0, step=stage, method=method)]).doubts == ()


def test_another_point_of_the_piece_that_moves_tells_as_well() -> None:
    second = replace(channel([120.0 + i / 5 for i in range(182)]), point="flat end")
    found = log(frozen(180), second, notes=COOK)
    assert codes(found) == [(3, 181, "flat_line")]
    assert "another point of the piece moved by 36 °F" in found.doubts[0].reason
    elsewhere = replace(second, piece="B")
    assert log(frozen(180), elsewhere, notes=COOK).doubts == ()
