"""Worked examples of France.

Sources: the French arrêté of 21 December 2009, Annex IV (collective catering) and Annex I (all
food businesses); the repealed arrêté of 26 June 1974. Those of Austria have a file of their
own.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.lot import Approval
from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import answer
from tests.support import Readings, channel, found, judge, lamb, note, prepared_on, staged

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import Note
    from tempwitness.model.lot import Food

FRANCE, FRANCE_OLD = "fr/arrete-2009-12-21", "fr/arrete-1974"
CANTEEN, STALL = {"collective_catering": "yes"}, {"collective_catering": "no"}
CHICKEN = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
MINCE = lamb(Species.BEEF, forms=(Form.GROUND,))
PROVED = Approval("validated_process", "authority", "7", prepared_on("2026-01-01"))
SECOND = 1 / 3600


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
    facts: Mapping[str, str] | None = None,
    before: tuple[Note, ...] = (),
    approvals: tuple[Approval, ...] = (),
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        food=food,
        facts=facts,
        before=before,
        approvals=approvals,
        celsius=True,
        code=load_code(code),
    )


def lot(
    code: str,
    readings: Readings,
    steps: Sequence[tuple[float, str]],
    *,
    air: Readings = (),
    facts: Mapping[str, str] | None = None,
    approvals: tuple[Approval, ...] = (),
) -> Evaluation:
    """A whole lot; the last reading ends it."""
    channels = [channel(readings, celsius=True)]
    if air:
        channels.append(channel(air, place=Place.AIR, celsius=True))
    notes = [note(at, step) for at, step in steps]
    end = note(readings[-1][0], event="finished")
    log = staged(channels, [*notes, end], facts=facts, approvals=approvals)
    return judge(log, code=load_code(code))


def cooled(
    code: str,
    requirement: str,
    readings: Readings,
    *,
    facts: Mapping[str, str] | None = None,
    approvals: tuple[Approval, ...] = (),
) -> str:
    """Food whose cook ended at 0:00; the last reading ends the cooling."""
    steps = [(-3, "cook"), (0, "cool")]
    all_of_it = [(-3, 10.0), *readings]
    evaluation = lot(code, all_of_it, steps, facts=facts, approvals=approvals)
    return found(evaluation, requirement).verdict.value


@pytest.mark.parametrize(
    ("code", "requirement", "stage", "edge", "worse", "better"),
    [
        # Annexes IV and I: at least 63 °C. Arrêté of 1974: at least 65 °C.
        (FRANCE, "hot-hold", "hot_hold", 63.0, 62.9, 63.1),
        (FRANCE_OLD, "hot-hold", "hot_hold", 65.0, 64.9, 65.1),
    ],
)
def test_holding(
    code: str, requirement: str, stage: str, edge: float, worse: float, better: float
) -> None:
    verdicts = [said(code, requirement, stage, steady(v)) for v in (worse, edge, better)]
    assert verdicts == ["not_met", "met", "met"]


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (63.0, "met"),
        (62.9, "not_met"),
        (10.1, "not_met"),
        (10.0, "met"),
        (3.0, "met"),
    ],
)
def test_serving_in_a_french_canteen(value: float, expected: str) -> None:
    """Annex IV: hot at 63 °C or above; cold dishes stay at 10 °C or below."""
    assert said(FRANCE, "serve", "serve", steady(value, 1.0), facts=CANTEEN) == expected


@pytest.mark.parametrize(("value", "expected"), [(63.0, "met"), (62.9, "not_met")])
def test_serving_hot_at_a_french_stall(value: float, expected: str) -> None:
    """Annex I: 63 °C for hot dishes."""
    facts = {**STALL, "served": "hot"}
    assert said(FRANCE, "serve-hot", "serve", steady(value), facts=facts) == expected
    assert said(FRANCE, "serve", "serve", steady(value), facts=facts) == "not_applicable"


@pytest.mark.parametrize(("hours", "expected"), [(1.9, "met"), (2.0, "met"), (2.01, "not_met")])
def test_cold_dishes_out_for_two_hours(hours: float, expected: str) -> None:
    """Annex IV: out at most 2 h before they are eaten, and at 10 °C or below."""
    readings = steady(9.0, hours)
    assert said(FRANCE, "cold-out-2h", "serve", readings, facts=CANTEEN) == expected
    assert said(FRANCE, "serve", "serve", readings, facts=CANTEEN) == "met"


@pytest.mark.parametrize(("prepared", "expected"), [(1.0, "met"), (1.01, "not_shown")])
def test_preparing_cold_dishes_counts_unless_they_go_back(prepared: float, expected: str) -> None:
    """Annex IV: they are taken out as late as possible, and at most 2 h before they are eaten."""
    readings: Readings = [(-1, 80.0), (0, 75.0), (1, 10.0), (1.5, 3.0), (9, 3.0)]
    out = 9 + SECOND
    readings = [*readings, (out, 4.0), (9 + prepared, 8.0), (out + 1 + prepared, 9.0)]
    steps = [(-1, "cook"), (0, "cool"), (1, "cold_hold"), (out, "prep"), (out + prepared, "serve")]
    evaluation = lot(FRANCE, readings, steps, facts=CANTEEN)
    assert found(evaluation, "cold-out-prep").verdict.value == expected
    assert found(evaluation, "cold-out-2h").verdict.value == "met"


@pytest.mark.parametrize(
    ("minutes", "facts", "expected"),
    [
        (119, CANTEEN, "met"),
        (120, CANTEEN, "met"),
        (121, CANTEEN, "not_met"),
        # A record that does not say is judged as collective catering; a stall's has only the duty.
        (121, None, "not_met"),
        (121, STALL, "not_applicable"),
    ],
)
def test_cooling_in_france(minutes: int, facts: Mapping[str, str] | None, expected: str) -> None:
    """Annex IV: from 63 °C to 10 °C in no more than 2 h. The way down to 63 °C is free."""
    minute = 1 / 60
    readings: Readings = [(0, 90.0), (1, 63.0), (2, 30.0)]
    readings = [*readings, (1 + (minutes - 1) * minute, 10.1), (1 + minutes * minute, 10.0)]
    assert cooled(FRANCE, "cool-63-to-10", readings, facts=facts) == expected


def test_slower_cooling_in_france_needs_its_proof() -> None:
    """Annex IV: unless a validated analysis shows that slower is safe; its limits are not known."""
    readings: Readings = [(0, 63.0), (2, 20.0), (4, 10.0)]
    assert cooled(FRANCE, "cool-63-to-10", readings) == "not_met"
    assert cooled(FRANCE, "cool-63-to-10", readings, approvals=(PROVED,)) == "not_shown"


@pytest.mark.parametrize(
    ("core", "air", "expected"),
    [
        (3.0, None, "met"),
        (5.0, None, "not_shown"),
        (5.0, 3.0, "met"),
        (5.0, 3.1, "not_met"),
    ],
)
def test_the_enclosure_in_a_french_canteen(core: float, air: float | None, expected: str) -> None:
    """Annex IV: after cooling in an enclosure at 0 to 3 °C."""
    readings: Readings = [(-1, 80.0), (0, 75.0), (1.5, core), (2, core), (6, core), (9, core)]
    inside: Readings = [] if air is None else [(1.5, air), (2, air), (6, air), (9, air)]
    steps = [(-1, "cook"), (0, "cool"), (1.5, "cold_hold")]
    evaluation = lot(FRANCE, readings, steps, air=inside, facts=CANTEEN)
    assert found(evaluation, "cold-enclosure").verdict.value == expected


@pytest.mark.parametrize(("air", "expected"), [(0.0, "met"), (-0.1, "not_met")])
def test_the_enclosure_is_no_freezer(air: float, expected: str) -> None:
    """Annex IV: 0 °C is the lower end; asked only where the air was read."""
    readings: Readings = [(-1, 80.0), (0, 75.0), (1.5, 3.0), (2, 3.0), (6, 3.0)]
    steps = [(-1, "cook"), (0, "cool"), (1.5, "cold_hold")]
    inside: Readings = [(1.5, air), (2, air), (6, air)]
    evaluation = lot(FRANCE, readings, steps, air=inside, facts=CANTEEN)
    assert found(evaluation, "cold-enclosure-0").verdict.value == expected
    silent = lot(FRANCE, readings, steps, facts=CANTEEN)
    assert found(silent, "cold-enclosure-0").verdict.value == "not_applicable"


@pytest.mark.parametrize(
    ("minutes", "top", "expected"),
    [(59, 63.0, "met"), (60, 63.0, "met"), (60, 62.9, "not_met"), (61, 63.0, "not_met")],
)
def test_reheating_in_france(minutes: int, top: float, expected: str) -> None:
    """Annex IV: from 10 °C to serving temperature in no more than 1 h."""
    readings: Readings = [(0, 10.0), (0.5, 35.0), (59 / 60 - SECOND, 62.0), (minutes / 60, top)]
    if minutes > 60:
        readings = [*readings[:-1], (1.0, 62.9), readings[-1]]
    if top < 63.0:
        readings = [*readings, (1.1, top)]
    assert said(FRANCE, "reheat-in-1h", "reheat", readings, facts=CANTEEN) == expected


@pytest.mark.parametrize(("until", "expected"), [(18.0, "met"), (20.0, "not_met")])
def test_reheated_dishes_end_with_their_day(until: float, expected: str) -> None:
    """Annex IV: eaten on the day of the first reheating; 0:00 is 5 in the morning."""
    readings: Readings = [(0, 3.0), (0.5, 70.0), *((float(h), 70.0) for h in range(1, int(until)))]
    readings = [*readings, (until, 70.0)]
    evaluation = lot(FRANCE, readings, [(0, "reheat"), (0.5, "hot_hold")], facts=CANTEEN)
    assert found(evaluation, "eat-same-day").verdict.value == expected


def test_what_was_reheated_is_not_cooled_again() -> None:
    """Text of the food directorate: a second rapid cooling is excluded."""
    readings: Readings = [(0, 75.0), (1, 10.0), (2, 3.0), (3, 3.0), (3.5, 70.0), (4, 70.0)]
    again: Readings = [*readings, (5, 10.0), (6, 3.0)]
    steps = [(-2, "cook"), (0, "cool"), (2, "cold_hold"), (3, "reheat"), (4, "cool")]
    readings = [(-2, 10.0), *readings]
    twice = lot(FRANCE, [(-2, 10.0), *again], steps, facts=CANTEEN)
    assert found(twice, "cool-once").verdict.value == "not_met"
    first = lot(FRANCE, readings, steps[:-1], facts=CANTEEN)
    assert found(first, "cool-once").verdict.value == "not_applicable"


def kept_until(days: int) -> Readings:
    """Cooked and cooled on day 0, read cold every noon, gone at noon of a day."""
    first: Readings = [(-1, 80.0), (0, 75.0), (1.5, 10.0), (2, 3.0)]
    return [*first, *((24.0 * day + 7.0, 3.0) for day in range(days + 1))]


@pytest.mark.parametrize(
    ("code", "requirement", "days", "expected"),
    [
        # Annex IV: J+3, the day of making not counted.
        (FRANCE, "life-j3", 2, "met"),
        (FRANCE, "life-j3", 3, "met"),
        (FRANCE, "life-j3", 4, "not_met"),
        # Arrêté of 1974: 6 days, the day of cooking counted as the first.
        (FRANCE_OLD, "life-6-days", 4, "met"),
        (FRANCE_OLD, "life-6-days", 5, "met"),
        (FRANCE_OLD, "life-6-days", 6, "not_met"),
    ],
)
def test_the_life_of_dishes_in_france(
    code: str, requirement: str, days: int, expected: str
) -> None:
    steps = [(-1, "cook"), (0, "cool"), (2, "cold_hold")]
    evaluation = lot(code, kept_until(days), steps, facts=CANTEEN)
    assert found(evaluation, requirement).verdict.value == expected


def test_a_longer_life_needs_its_study() -> None:
    """A validated study may allow more days; how many is not known here."""
    steps = [(-1, "cook"), (0, "cool"), (2, "cold_hold")]
    evaluation = lot(FRANCE, kept_until(5), steps, approvals=(PROVED,))
    assert found(evaluation, "life-j3").verdict.value == "not_shown"


@pytest.mark.parametrize(
    ("requirement", "food", "facts", "edge"),
    [
        ("raw-mince", MINCE, {"finished_dish": "no"}, 2.0),
        ("raw-offal", None, {"raw_offal": "yes"}, 3.0),
        ("raw-poultry", CHICKEN, {"finished_dish": "no"}, 4.0),
        ("raw-meat", None, {"large_cut": "no"}, 4.0),
        ("raw-meat", None, {"large_cut": "yes"}, 7.0),
        ("cold-line", None, {"finished_dish": "chilled"}, 3.0),
    ],
)
@pytest.mark.parametrize("stage", ["receive", "cold_hold", "transport"])
def test_raw_food_in_france(
    requirement: str, food: Food | None, facts: dict[str, str], edge: float, stage: str
) -> None:
    """Annex I, the grid of temperatures."""
    values = (edge - 0.1, edge, edge + 0.1)
    verdicts = [said(FRANCE, requirement, stage, steady(v), food=food, facts=facts) for v in values]
    assert verdicts == ["met", "met", "not_met"]


@pytest.mark.parametrize(
    ("facts", "edge"),
    [
        ({"perishability": "very_perishable", "keeps_unchilled": "no"}, 4.0),
        ({"perishability": "perishable", "keeps_unchilled": "no"}, 8.0),
    ],
)
def test_other_chilled_food_in_france(facts: dict[str, str], edge: float) -> None:
    """Annex I: very perishable 4 °C, perishable 8 °C, raw or cooked."""
    salad = lamb(Species.PLANT, forms=None, cut=Cut.PAN)
    for value, expected in ((edge, "met"), (edge + 0.1, "not_met")):
        readings = steady(value)
        assert (
            said(FRANCE, "cold-other", "cold_hold", readings, food=salad, facts=facts) == expected
        )
        cook = (note(-3, "cook"), note(-1, "cool"))
        stall = {**facts, **STALL}
        got = said(FRANCE, "cold-cooked", "cold_hold", readings, facts=stall, before=cook)
        assert got == expected


def test_a_large_cut_that_nobody_named_is_asked_for() -> None:
    """Annex I: 7 °C for large cuts only, and not once the meat is a preparation."""
    assert said(FRANCE, "raw-meat", "receive", steady(6.0)) == "not_shown"
    injected = lamb(forms=(Form.INJECTED,))
    large = {"large_cut": "yes"}
    assert said(FRANCE, "raw-meat", "receive", steady(6.0), food=injected, facts=large) == "not_met"
    # The line for fish was not read: no verdict without it.
    fish = lamb(Species.FISH)
    assert said(FRANCE, "cold-fish", "receive", steady(1.0), food=fish) == "needs_limit"


@pytest.mark.parametrize(
    ("value", "facts", "raw", "hot"),
    [
        (63.0, {"finished_dish": "hot"}, "not_applicable", "met"),
        (62.9, {"finished_dish": "hot"}, "not_applicable", "not_met"),
        # Nobody said what came in: hot enough for a dish, and much too warm for raw meat.
        (63.0, {}, "not_shown", "not_applicable"),
        (62.9, {}, "not_met", "not_applicable"),
        (63.0, {"finished_dish": "no"}, "not_met", "not_applicable"),
    ],
)
def test_what_comes_in_hot(value: float, facts: dict[str, str], raw: str, hot: str) -> None:
    """Annex IV and Annex I: hot dishes are delivered at 63 °C or above."""
    assert said(FRANCE, "raw-poultry", "receive", steady(value), food=CHICKEN, facts=facts) == raw
    assert said(FRANCE, "hot-dish", "receive", steady(value), food=CHICKEN, facts=facts) == hot


@pytest.mark.parametrize(
    ("frozen_class", "value", "expected"),
    [
        ("minus_18", -18.0, "met"),
        ("minus_18", -17.9, "not_met"),
        ("minus_12", -12.0, "met"),
        ("minus_12", -11.9, "not_met"),
        ("unknown", -15.0, "not_shown"),
    ],
)
def test_frozen_food_in_france(frozen_class: str, value: float, expected: str) -> None:
    """Annex I: −18 °C, and −12 °C for another class."""
    facts = {"frozen_class": frozen_class}
    assert said(FRANCE, "frozen", "freeze", steady(value), facts=facts) == expected


@pytest.mark.parametrize(
    ("value", "facts", "requirement", "expected"),
    [
        (63.0, CANTEEN, "carry", "met"),
        (62.9, CANTEEN, "carry", "not_met"),
        (3.0, CANTEEN, "carry", "met"),
        (3.1, CANTEEN, "carry", "not_met"),
        (63.0, STALL, "carry-elsewhere", "met"),
        (4.0, {**STALL, "perishability": "very_perishable"}, "carry-elsewhere", "met"),
        (4.1, {**STALL, "perishability": "very_perishable"}, "carry-elsewhere", "not_met"),
        (8.0, {**STALL, "perishability": "perishable"}, "carry-elsewhere", "met"),
        (8.1, {**STALL, "perishability": "perishable"}, "carry-elsewhere", "not_met"),
    ],
)
def test_carrying_cooked_food_in_france(
    value: float, facts: dict[str, str], requirement: str, expected: str
) -> None:
    """Annex IV: delivered hot at 63 °C; Annex I: 3 °C for the cold line, else 4 or 8 °C."""
    cook = (note(-3, "cook"), note(-1, "rest"))
    got = said(FRANCE, requirement, "transport", steady(value, 1.0), facts=facts, before=cook)
    assert got == expected


@pytest.mark.parametrize(("kept", "expected"), [("yes", "met"), ("no", "not_met")])
def test_the_sample_in_france(kept: str, expected: str) -> None:
    """Annex IV: the sample of every dish, in collective catering."""
    sample = {"sample_kept": kept}
    assert said(FRANCE, "sample", "hot_hold", steady(70.0), facts=sample) == expected
    assert said(FRANCE, "sample", "serve", steady(70.0), facts={**sample, **STALL}) == (
        "not_applicable"
    )
