"""What is easily got wrong with the codes of France and Austria.

The numbers are those of the list of traps for codes outside the United States.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Place
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.places import in_force
from tests.published.traces import answer
from tests.support import Readings, channel, found, judge, note, staged

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.model.finding import Evaluation

FRANCE, FRANCE_OLD = "fr/arrete-2009-12-21", "fr/arrete-1974"
AUSTRIA, AUSTRIA_OLD = "at/a2", "at/a2/2011"
CANTEEN, STALL = {"collective_catering": "yes"}, {"collective_catering": "no"}
SECOND = 1 / 3600


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(hours * i / 8, value) for i in range(9)]


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    facts: Mapping[str, str] | None = None,
) -> str:
    code_read = load_code(code)
    return answer(requirement, stage, readings, facts=facts, celsius=True, code=code_read)


def lot(
    code: str,
    readings: Readings,
    steps: Sequence[tuple[float, str]],
    *,
    air: Readings = (),
    facts: Mapping[str, str] | None = None,
) -> Evaluation:
    """A whole lot; the last reading ends it."""
    channels = [channel(readings, celsius=True)]
    if air:
        channels.append(channel(air, place=Place.AIR, celsius=True))
    notes = [note(at, step) for at, step in steps]
    log = staged(channels, [*notes, note(readings[-1][0], event="finished")], facts=facts)
    return judge(log, code=load_code(code))


def verdict(evaluation: Evaluation, requirement: str) -> str:
    return found(evaluation, requirement).verdict.value


@pytest.mark.parametrize("place", ["fr", "at"])
def test_trap01_no_number_for_cooking_is_no_pass(place: str) -> None:
    """Neither text that was read prints one: 852/2004 leaves it to the kitchen's own plan."""
    code = in_force(place, None, date(2026, 7, 4)).code
    evaluation = lot(code, [(0, 5.0), (2, 95.0), (3, 95.0)], [(0, "cook")])
    assert verdict(evaluation, "heat-by-plan") == "needs_limit"
    assert evaluation.verdict.value == "needs_limit"


def test_trap01_a_stall_in_france_has_no_number_for_cooling() -> None:
    """Annex IV is for collective catering; elsewhere 852/2004 ch. IX para 6 asks for speed."""
    readings: Readings = [(-3, 10.0), (0, 63.0), (1, 10.0), (2, 3.0)]
    steps = [(-3, "cook"), (0, "cool")]
    assert verdict(lot(FRANCE, readings, steps, facts=STALL), "cool-fast") == "needs_limit"
    assert verdict(lot(FRANCE, readings, steps, facts=CANTEEN), "cool-fast") == "not_applicable"


def test_trap03_two_hours_mean_different_things() -> None:
    """Two hours of cooling are exactly enough, and so are two hours out; neither uses the other."""
    readings: Readings = [(-1, 80.0), (0, 63.0), (1, 30.0), (2, 10.0), (3, 3.0), (6, 3.0)]
    readings = [*readings, (6.1, 5.0), (7, 8.0), (8, 10.0)]
    steps = [(-1, "cook"), (0, "cool"), (2, "cold_hold"), (6, "serve")]
    evaluation = lot(FRANCE, readings, steps, facts=CANTEEN)
    assert verdict(evaluation, "cool-63-to-10") == "met"
    assert verdict(evaluation, "cold-out-2h") == "met"
    # Hot dishes have no such 2 h: 62.9 °C is too cold at once.
    assert said(FRANCE, "serve", "serve", steady(62.9, 0.1), CANTEEN) == "not_met"


@pytest.mark.parametrize(
    ("code", "requirement", "floor"),
    [
        (FRANCE, "hot-hold", 63.0),
        (FRANCE_OLD, "hot-hold", 65.0),
        (AUSTRIA, "hot-hold", 70.0),
        (AUSTRIA_OLD, "hot-hold-75", 75.0),
    ],
)
def test_trap07_hot_is_not_one_figure(code: str, requirement: str, floor: float) -> None:
    for value, expected in ((floor, "met"), (floor - 0.1, "not_met")):
        assert said(code, requirement, "hot_hold", steady(value)) == expected


def test_trap08_hot_does_not_mean_for_ever_in_austria() -> None:
    """7.1: no more than 3 h, at 90 °C too. France prints no such end."""
    long = steady(90.0, 3.1)
    assert said(AUSTRIA, "hot-hold", "hot_hold", long) == "met"
    assert said(AUSTRIA, "hot-hold-3h", "hot_hold", long) == "not_met"
    assert said(FRANCE, "hot-hold", "hot_hold", steady(90.0, 12.0)) == "met"


#: 95 to 75 °C in 1 h, to 63 °C in 1.25 h, to 10 °C at 3 h.
SLOW_AT_FIRST: Readings = [(-2, 10.0), (0, 95.0), (1, 75.0), (1.25, 63.0), (2.2, 20.0), (3, 10.0)]


def test_trap10_where_the_clock_of_cooling_starts() -> None:
    """From 63 °C on it took 1.75 h of 2 h; from 75 °C on 2 h, and Austria gives one."""
    steps = [(-2, "cook"), (0, "cool")]
    assert verdict(lot(FRANCE, SLOW_AT_FIRST, steps), "cool-63-to-10") == "met"
    assert verdict(lot(AUSTRIA, SLOW_AT_FIRST, steps), "cool-75-to-10") == "not_met"
    # The hour from 95 to 75 °C is free in Austria as well.
    fast: Readings = [*SLOW_AT_FIRST[:3], (1.25, 50.0), (2, 10.0)]
    assert verdict(lot(AUSTRIA, fast, steps), "cool-75-to-10") == "met"


@pytest.mark.parametrize(
    ("code", "cooling", "storage"),
    [
        (FRANCE, "cool-63-to-10", "cold-enclosure"),
        (AUSTRIA, "cool-75-to-10", "cold-hold"),
    ],
)
def test_trap11_the_end_of_cooling_is_not_cold_storage(
    code: str, cooling: str, storage: str
) -> None:
    """10 °C ends the clock, and is too warm for the store: 3 °C in France, 4 °C in Austria."""
    readings: Readings = [(-1, 80.0), (0, 75.0), (0.9, 10.0), (2, 10.0), (6, 10.0)]
    steps = [(-1, "cook"), (0, "cool"), (0.9, "cold_hold")]
    evaluation = lot(code, readings, steps, air=readings[2:], facts=CANTEEN)
    assert verdict(evaluation, cooling) == "met"
    assert verdict(evaluation, storage) == "not_met"


def test_trap17_the_enclosure_counts_in_french_storage() -> None:
    """Annex IV speaks of the enclosure; the Austrian 7.2 of the food that is stored."""
    readings: Readings = [(-1, 80.0), (0, 75.0), (0.9, 10.0), (2, 8.0), (6, 5.0)]
    steps = [(-1, "cook"), (0, "cool"), (0.9, "cold_hold")]
    air: Readings = [(0.9, 2.0), (2, 2.0), (6, 2.0)]
    french = lot(FRANCE, readings, steps, air=air, facts=CANTEEN)
    assert verdict(french, "cold-enclosure") == "met"
    assert verdict(lot(AUSTRIA, readings, steps, air=air), "cold-hold") == "not_met"


def test_trap18_reheating_has_conditions() -> None:
    """France: 63 °C within 1 h of leaving 10 °C, no 75 °C. Austria: 75 °C, no time."""
    quick: Readings = [(0, 10.0), (0.5, 40.0), (1, 63.0)]
    assert said(FRANCE, "reheat-in-1h", "reheat", quick, CANTEEN) == "met"
    assert said(AUSTRIA, "reheat-75", "reheat", quick) == "not_met"
    slow: Readings = [(0, 10.0), (1, 40.0), (1.5, 60.0), (2, 75.0)]
    assert said(FRANCE, "reheat-in-1h", "reheat", slow, CANTEEN) == "not_met"
    assert said(AUSTRIA, "reheat-75", "reheat", slow) == "met"


@pytest.mark.parametrize(("day", "expected"), [(3, "met"), (4, "not_met")])
def test_trap20_the_day_of_making_does_not_count_in_france(day: int, expected: str) -> None:
    """J+3: made on 4 July, used up on 7 July."""
    first: Readings = [(-1, 80.0), (0, 75.0), (1.5, 10.0), (2, 3.0)]
    readings = [*first, *((24.0 * d + 12.0, 3.0) for d in range(day + 1))]
    steps = [(-1, "cook"), (0, "cool"), (2, "cold_hold")]
    evaluation = lot(FRANCE, readings, steps, facts=CANTEEN)
    assert verdict(evaluation, "life-j3") == expected
    assert "2026-07-07" in found(evaluation, "life-j3").reason


def test_trap22_stale_figures_name_what_came_after() -> None:
    """65 °C of the arrêté of 1974, 75 °C of the earlier Austrian edition."""
    ours = [name for name in code_ids() if name.partition("/")[0] in ("fr", "at")]
    heads = {name: load_code(name).head for name in ours}
    assert {name: h.superseded_by for name, h in heads.items() if h.superseded_by} == {
        FRANCE_OLD: FRANCE,
        AUSTRIA_OLD: AUSTRIA,
    }
    assert in_force("fr", None, date(2026, 7, 4)).code == FRANCE
    assert in_force("at", None, date(2026, 7, 4)).code == "at/852-2004"
    assert heads["at/852-2004"].companions == (AUSTRIA,)


@pytest.mark.parametrize("code", [AUSTRIA, AUSTRIA_OLD])
def test_trap23_advice_breaks_no_law(code: str) -> None:
    """The Austrian guideline is official, and no law: the lot is not called unlawful."""
    evaluation = lot(code, steady(50.0, 4.0), [(0, "hot_hold")])
    broken = {f.requirement for f in evaluation.findings if f.verdict.value == "not_met"}
    assert f"{code}#hot-hold-3h" in broken
    assert evaluation.verdict.value != "not_met"
    assert lot(FRANCE, steady(50.0, 4.0), [(0, "hot_hold")]).verdict.value == "not_met"


@pytest.mark.parametrize(
    ("facts", "expected"),
    [(CANTEEN, "not_met"), (None, "not_met"), (STALL, "not_applicable")],
)
def test_trap24_annex_iv_is_for_collective_catering(
    facts: Mapping[str, str] | None, expected: str
) -> None:
    """Slow cooling and slow reheating break Annex IV; Annex I, with its 63 °C, is for all."""
    steps = [(-2, "cook"), (0, "cool")]
    slow: Readings = [(-2, 10.0), (0, 70.0), (0.5, 62.0), (2, 30.0), (3, 20.0), (5, 10.0)]
    assert verdict(lot(FRANCE, slow, steps, facts=facts), "cool-63-to-10") == expected
    assert verdict(lot(FRANCE, slow, steps, facts=facts), "cool-band-2h") == expected
    warm: Readings = [(0, 10.0), (1, 40.0), (2, 63.0)]
    assert said(FRANCE, "reheat-in-1h", "reheat", warm, facts) == expected
    assert said(FRANCE, "hot-hold", "hot_hold", steady(62.9), facts) == "not_met"


@pytest.mark.parametrize(("again", "expected"), [(1.0, "met"), (1.01, "not_met")])
def test_trap29_food_that_warms_again_goes_on_counting(again: float, expected: str) -> None:
    """Annex IV: an hour from 63 to 10 °C, and an hour or more between the two in the store."""
    first: Readings = [(-1, 80.0), (0, 63.0), (SECOND, 62.9), (1 - SECOND, 10.1), (1, 10.0)]
    back = 4 + again
    warm: Readings = [(2, 4.0), (4, 10.0), (4 + SECOND, 10.1), (back - SECOND, 10.1), (back, 10.0)]
    readings: Readings = [*first, *warm, (back + 1, 4.0)]
    steps = [(-1, "cook"), (0, "cool"), (1, "cold_hold")]
    evaluation = lot(FRANCE, readings, steps, facts=CANTEEN)
    # From the first crossing to the second it took 1 h only.
    assert verdict(evaluation, "cool-63-to-10") == "met"
    assert verdict(evaluation, "cool-band-2h") == expected


def test_trap31_what_was_reheated_is_not_carried_over() -> None:
    """Annex IV: eaten on the day of the first reheating, however cold it is put away."""
    readings: Readings = [(0, 3.0), (0.5, 70.0), (1, 70.0), (2, 3.0), (12, 3.0), (26, 3.0)]
    steps = [(0, "reheat"), (0.5, "hot_hold"), (1, "cool"), (2, "cold_hold")]
    evaluation = lot(FRANCE, readings, steps, facts=CANTEEN)
    assert verdict(evaluation, "eat-same-day") == "not_met"
    assert verdict(evaluation, "cool-once") == "not_met"


def test_trap32_going_back_to_the_cold_gives_no_new_two_hours() -> None:
    """Annex IV: a cold dish that is served for 1.5 h twice was out for 3 h."""
    readings: Readings = [(0, 4.0), (1.5, 8.0), (2, 4.0), (3, 4.0), (4.5, 8.0)]
    steps = [(0, "serve"), (1.5, "cold_hold"), (3, "serve")]
    assert verdict(lot(FRANCE, readings, steps, facts=CANTEEN), "cold-out-2h") == "not_met"
