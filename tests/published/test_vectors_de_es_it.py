"""Worked examples of Germany, Spain and Italy.

Sources: DIN 10506 of 2018 and 2023, DIN 10508 (4.1) and DIN 10536 as they are quoted; the opinion
of BfR of 7 July 2020 and its leaflet; the DGE quality standard; for holding, article 30
of Real Decreto 1086/2020, article 7 of Real Decreto 3484/2000 and article 31 of DPR 327/1980.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Approval
from tempwitness.model.vocabulary import Place
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer, held
from tests.support import Readings, channel, found, judge, note, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import Note
    from tempwitness.model.lot import Food

DIN, DIN_OLD, BFR = "de/din-10506/2023", "de/din-10506/2018", "de/bfr"
SPAIN, SPAIN_OLD = "es/rd-1021-2022", "es/rd-3484-2000"
ITALY_OLD = "it/dpr-327-1980"
HOT, COLD = {"served": "hot"}, {"served": "cold"}
RAW = {"raw_for_cooking": "yes"}
COOKED = {"raw_for_cooking": "no"}
SHORT = {**COOKED, "shelf_life_planned": "under_24h"}
LONG = {**COOKED, "shelf_life_planned": "over_24h"}


def steady(value: float, hours: float = 2.0) -> Readings:
    """Readings at one value, at most an hour apart."""
    gaps = max(2, math.ceil(hours))
    return [(hours * i / gaps, value) for i in range(gaps + 1)]


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    food: Food | None = None,
    facts: dict[str, str] | None = None,
    business: str | None = None,
    approvals: tuple[Approval, ...] = (),
    method: str = "",
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        food=food,
        facts=facts,
        business=business,
        approvals=approvals,
        method=method,
        celsius=True,
        code=load_code(code),
    )


def run(
    code: str,
    readings: Readings,
    steps: Sequence[Note],
    facts: dict[str, str] | None = None,
    food: Food | None = None,
) -> Evaluation:
    """Steps as noted, finished with the last reading."""
    log = staged(
        [channel(readings, celsius=True)],
        [*steps, note(readings[-1][0], event="finished")],
        facts=facts,
        food=food,
    )
    return judge(log, code=load_code(code))


def verdict(evaluation: Evaluation, requirement: str) -> str:
    return found(evaluation, requirement).verdict.value


@pytest.mark.parametrize(
    ("code", "requirement", "stage", "facts", "edge", "worse", "better"),
    [
        # DIN 10506:2023-03, at all times; the opinion of 2020, until eaten.
        (DIN, "hot-hold", "hot_hold", None, 60.0, 59.9, 60.1),
        (DIN, "serve-hot", "serve", HOT, 60.0, 59.9, 60.1),
        (DIN, "serve-hot", "transport", HOT, 60.0, 59.9, 60.1),
        (BFR, "hot-hold", "hot_hold", None, 60.0, 59.9, 60.1),
        (BFR, "serve-hot", "serve", HOT, 60.0, 59.9, 60.1),
        # The edition of 2018.
        (DIN_OLD, "hot-hold", "hot_hold", None, 65.0, 64.9, 65.1),
        # DIN 10508, 4.1.
        ("de/din-10508", "cold-hold", "cold_hold", None, 7.0, 7.1, 6.9),
        ("de/din-10508", "receive-cold", "receive", {"received": "cold"}, 7.0, 7.1, 6.9),
        # RD 1086/2020 art. 30(2), (3), (4).
        (SPAIN, "hot-hold", "hot_hold", None, 63.0, 62.9, 63.1),
        (SPAIN, "cold-hold", "cold_hold", LONG, 4.0, 4.1, 3.9),
        (SPAIN, "cold-hold", "cold_hold", SHORT, 8.0, 8.1, 7.9),
        (SPAIN, "frozen", "freeze", {"kept_frozen": "yes"}, -18.0, -17.9, -18.1),
        # RD 3484/2000 art. 7(1).
        (SPAIN_OLD, "hot-hold", "hot_hold", None, 65.0, 64.9, 65.1),
        (SPAIN_OLD, "cold-hold", "cold_hold", SHORT, 8.0, 8.1, 7.9),
        # DPR 327/1980 art. 31.
        (ITALY_OLD, "hot-hold", "hot_hold", None, 60.0, 59.9, 60.1),
        (ITALY_OLD, "hot-hold-upper", "hot_hold", None, 65.0, 65.1, 64.9),
    ],
)
def test_holding(
    code: str,
    requirement: str,
    stage: str,
    facts: dict[str, str] | None,
    edge: float,
    worse: float,
    better: float,
) -> None:
    values = (worse, edge, better)
    verdicts = [said(code, requirement, stage, steady(v), facts=facts) for v in values]
    assert verdicts == ["not_met", "met", "met"]


@pytest.mark.parametrize(
    ("value", "expected"), [(9.9, "met"), (10.0, "met"), (10.1, "not_met"), (59.9, "not_met")]
)
def test_the_critical_band_of_bfr(value: float, expected: str) -> None:
    """Opinion of 7 July 2020: between 60 and 10 °C."""
    assert said(BFR, "critical-band", "serve", steady(value)) == expected
    assert said(BFR, "critical-band", "serve", steady(60.0)) == "met"


@pytest.mark.parametrize(
    ("value", "short", "expected"),
    [
        (7.0, "unknown", "met"),
        (10.0, "yes", "met"),
        (9.9, "yes", "met"),
        (10.1, "yes", "not_met"),
        (8.0, "no", "not_met"),
        (8.0, "unknown", "not_shown"),
    ],
)
def test_the_short_rise_of_cold_food_in_germany(value: float, short: str, expected: str) -> None:
    """DIN 10508, 4.1: at most 7 °C; at serving 3 °C more for a short time, not in the store."""
    facts = {**COLD, "short_rise": short}
    assert said("de/din-10508", "serve-cold", "serve", steady(value, 0.5), facts=facts) == expected
    assert said("de/din-10508", "cold-hold", "cold_hold", steady(10.0), facts=facts) == "not_met"


@pytest.mark.parametrize(("hours", "expected"), [(2.9, "met"), (3.0, "met"), (3.01, "not_met")])
def test_three_hours_hot_in_germany(hours: float, expected: str) -> None:
    """DGE: hot-holding time of at most 3 h, however hot."""
    assert said("de/dge", "hot-hold-3h", "hot_hold", steady(75.0, hours)) == expected


@pytest.mark.parametrize(
    ("value", "seconds", "expected"),
    [
        (70.0, 120.0, "met"),
        (70.1, 121.0, "met"),
        (70.0, 119.0, "not_met"),
        (69.9, 600.0, "not_met"),
    ],
)
def test_cooking_in_germany(value: float, seconds: float, expected: str) -> None:
    """BfR leaflet: core of at least 70 °C for at least 2 min."""
    assert said(BFR, "cook-70", "cook", held(value, seconds)) == expected


def test_regenerating_in_germany() -> None:
    """DIN 10536: core of 70 to 75 °C; 72 °C for 2 min is often quoted."""
    values = (69.9, 70.0, 75.0)
    verdicts = [said("de/din-10536", "regenerate-70", "reheat", held(v, 0.0)) for v in values]
    assert verdicts == ["not_met", "met", "met"]
    for value, time, expected in ((72.0, 120.0, "met"), (72.0, 119.0, "not_met")):
        got = said("de/din-10536", "regenerate-72", "reheat", held(value, time))
        assert got == expected
    assert said("de/din-10536", "regenerate-72", "reheat", held(71.9, 600.0)) == "not_met"


@pytest.mark.parametrize(
    ("code", "requirement", "start", "hours"),
    [
        (DIN, "cool-60-to-10", 60.0, 2.0),
        (DIN_OLD, "cool-65-to-10", 65.0, 2.0),
        (DIN_OLD, "cool-65-to-10-90min", 65.0, 1.5),
    ],
)
def test_cooling_in_germany(code: str, requirement: str, start: float, hours: float) -> None:
    """Newer texts: 60 to 10 °C in 2 h; older ones: 65 to 10 °C in 90 min to 2 h."""
    first: Readings = [(0, 90.0), (1, start)]
    steps = [note(-2, "cook"), note(0, "cool")]
    on_time = run(code, [*first, (1 + hours, 10.0)], steps)
    early = run(code, [*first, (hours, 10.0)], steps)
    late = run(code, [*first, (1 + hours, 10.1), (1.1 + hours, 10.0)], steps)
    verdicts = [verdict(e, requirement) for e in (early, on_time, late)]
    assert verdicts == ["met", "met", "not_met"]


@pytest.mark.parametrize(
    ("hours", "to", "expected"),
    [(1.5, 4.0, "met"), (1.25, 3.0, "met"), (1.5, 4.1, "not_met")],
)
def test_cook_chill_in_germany(hours: float, to: float, expected: str) -> None:
    """DIN 10536: about 3 to 4 °C within 90 min of the heat."""
    steps = [note(-2, "cook"), note(0, "cool")]
    facts = {"cook_chill_line": "yes"}
    readings: Readings = [(0, 75.0), (0.5, 30.0), (hours, to), (hours + 0.2, min(to, 4.0))]
    assert verdict(run("de/din-10536", readings, steps, facts), "cool-90min") == expected
    other = run("de/din-10536", readings, steps, {"cook_chill_line": "no"})
    assert verdict(other, "cool-90min") == "not_applicable"


@pytest.mark.parametrize(("set_so", "expected"), [("yes", "met"), ("no", "not_met")])
def test_the_margin_of_equipment_in_germany(set_so: str, expected: str) -> None:
    """DIN 10506:2023-03: set 65 °C for food at 60 °C; food at 60 °C keeps the standard."""
    facts = {"hot_units_set_65": set_so}
    assert said(DIN, "equipment-65", "hot_hold", steady(60.0), facts=facts) == expected
    assert said(DIN, "hot-hold", "hot_hold", steady(60.0), facts=facts) == "met"


@pytest.mark.parametrize(
    ("value", "facts", "expected"),
    [
        (10.0, None, "met"),
        (9.9, None, "met"),
        (10.1, {"raw_for_cooking": "no"}, "not_met"),
        (10.1, RAW, "met"),
        (10.1, None, "not_shown"),
    ],
)
def test_cold_roasts_in_italy_once(
    value: float, facts: dict[str, str] | None, expected: str
) -> None:
    """DPR 327/1980 art. 31: cooked food eaten cold at most 10 °C; raw food is not meant."""
    assert said(ITALY_OLD, "cold-hold", "cold_hold", steady(value), facts=facts) == expected


def test_the_edge_of_a_pan_counts_in_germany() -> None:
    """DIN 10506:2023-03: every point of the food."""
    for edge, expected in ((60.0, "met"), (59.9, "not_met")):
        channels = [
            channel(steady(62.0), celsius=True),
            channel(steady(edge), place=Place.SURFACE, celsius=True),
        ]
        log = staged(channels, [note(0, "hot_hold"), note(2, event="finished")])
        assert verdict(judge(log, code=load_code(DIN)), "hot-hold") == expected
