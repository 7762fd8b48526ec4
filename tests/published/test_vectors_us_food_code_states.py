"""Worked examples of states, a district and a city that adopted an edition of the FDA Food Code.

Each table names the rule of the state that its expected side follows from.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.model.rule import Code
from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.traces import answer, finding, held
from tests.support import ZERO, Readings, channel, found, judge, lamb, note, staged

MINUTE = 60.0
EVENT = "temporary_event"
BEEF = lamb(Species.BEEF)
EGGS = lamb(Species.EGG, forms=None, cut=None)
INJECTED = lamb(Species.PORK, forms=(Form.INJECTED,))
TURKEY = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD)
HOT: Readings = [(0, 150.0), (2, 150.0)]

TEXAS = load_code("us/tx/25-tac-228")
FLORIDA = load_code("us/fl/61c-4")
VIRGINIA = load_code("us/va/12-vac-5-421")
VIRGINIA_2025 = load_code("us/va/12-vac-5-421/2025")
MARYLAND = load_code("us/md/10-15-03")
MINNESOTA = load_code("us/mn/4626")
OHIO = load_code("us/oh/3717-1")
WISCONSIN = load_code("us/wi/atcp-75")
SOUTH_CAROLINA = load_code("us/sc/61-25")
NORTH_CAROLINA = load_code("us/nc/18a-2600")
CONNECTICUT = load_code("us/ct/food-code")
ANCHORAGE = load_code("us/ak/anchorage/16-60")
DISTRICT = load_code("us/dc/25-a")


def hours_to(moment: str) -> float:
    """Hours from 0:00 of the tests to a moment in UTC."""
    return (datetime.fromisoformat(moment).replace(tzinfo=UTC).timestamp() - ZERO) / 3600.0


def name(value: object) -> str:
    return value.head.id if isinstance(value, Code) else str(value)


@pytest.mark.parametrize(
    "code",
    [TEXAS, FLORIDA, VIRGINIA, VIRGINIA_2025, SOUTH_CAROLINA, CONNECTICUT, NORTH_CAROLINA],
    ids=name,
)
def test_codes_on_the_2017_form_ask_for_17_seconds(code: Code) -> None:
    """12 VAC 5-421-700 (2021), S.C. 61-25 3-401.11, 25 TAC 228: 155 °F for 17 s, 165 °F at once."""
    injected = [
        answer("cook-tenderised", "cook", held(155.0, s), food=INJECTED, code=code)
        for s in (16.0, 17.0)
    ]
    assert injected == ["not_met", "met"]
    birds = [
        answer("cook-poultry-stuffed", "cook", held(t, 0.0), food=TURKEY, code=code)
        for t in (164.9, 165.0)
    ]
    assert birds == ["not_met", "met"]


@pytest.mark.parametrize(
    "code", [MINNESOTA, OHIO, WISCONSIN, ANCHORAGE, MARYLAND, DISTRICT], ids=name
)
def test_codes_on_older_forms_ask_for_15_seconds(code: Code) -> None:
    """Minn. R. 4626.0340, Ohio 3717-1-03, COMAR 10.15.03.10: 155 °F and 165 °F for 15 s."""
    injected = [
        answer("cook-tenderised", "cook", held(155.0, s), food=INJECTED, code=code)
        for s in (14.0, 15.0)
    ]
    assert injected == ["not_met", "met"]
    birds = [
        answer("cook-poultry-stuffed", "cook", held(165.0, s), food=TURKEY, code=code)
        for s in (14.0, 15.0)
    ]
    assert birds == ["not_met", "met"]


@pytest.mark.parametrize(
    "code",
    [
        TEXAS,
        FLORIDA,
        VIRGINIA,
        MINNESOTA,
        OHIO,
        WISCONSIN,
        SOUTH_CAROLINA,
        NORTH_CAROLINA,
        ANCHORAGE,
    ],
    ids=name,
)
def test_ladder_that_they_share(code: Code) -> None:
    """3-401.11(B): 130 °F for 112 min and 149 °F for 85 s, in every one of them."""
    assert answer("cook-roast", "cook", held(130.0, 112 * MINUTE), code=code) == "met"
    assert answer("cook-roast", "cook", held(130.0, 112 * MINUTE - 1), code=code) == "not_met"
    assert answer("cook-roast", "cook", held(149.0, 85.0), code=code) == "met"


@pytest.mark.parametrize(
    "code",
    [
        TEXAS,
        FLORIDA,
        VIRGINIA,
        MINNESOTA,
        OHIO,
        WISCONSIN,
        SOUTH_CAROLINA,
        CONNECTICUT,
        ANCHORAGE,
        DISTRICT,
    ],
    ids=name,
)
def test_holding_that_they_share(code: Code) -> None:
    """3-501.16(A): 135 °F hot, 41 °F cold."""
    pulled = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)
    for value, expected in ((135.0, "met"), (134.9, "not_met")):
        assert (
            answer("hot-hold", "hot_hold", [(0, value), (2, value)], food=pulled, code=code)
            == expected
        )
    for value, expected in ((41.0, "met"), (41.1, "not_met")):
        assert answer("cold-hold", "cold_hold", [(0, value), (2, value)], code=code) == expected


@pytest.mark.parametrize(
    ("said", "expected"), [("yes", "met"), ("no", "not_met"), ("unknown", "not_applicable")]
)
def test_temporary_places_in_texas(said: str, expected: str) -> None:
    """25 TAC 228.222: extensive preparation in a licensed place; the menu may be restricted."""
    for requirement, fact in (
        ("temporary-prepared-elsewhere", "prepared_in_licensed_place"),
        ("temporary-menu", "menu_allowed"),
        ("equipment-enough", "equipment_enough"),
    ):
        line = finding(requirement, "hot_hold", HOT, facts={fact: said}, business=EVENT, code=TEXAS)
        assert line.verdict.value == expected


def test_virginia_before_and_after_february_2025() -> None:
    """Food Code 2017 with the Supplement of 2019, then Food Code 2022 with its 3-401.15."""
    assert VIRGINIA.find("tphc-ceiling-4h") is not None
    assert VIRGINIA.find("cook-label") is None
    assert VIRGINIA_2025.find("cook-label") is not None
    start = VIRGINIA.find("tphc-start-4h")
    assert start is not None
    assert [a.id for a in start.alternatives] == ["tphc-start-at-70"]


@pytest.mark.parametrize(
    ("value", "seconds", "expected"),
    [
        # COMAR 10.15.03.10 omits 149, 153 and 157 °F: the row below them counts.
        (149.0, 85.0, "not_met"),
        (149.0, 134.0, "met"),
        (153.0, 34.0, "not_met"),
        (153.0, 54.0, "met"),
        (157.0, 14.0, "not_met"),
        (157.0, 22.0, "met"),
        (158.0, 0.0, "met"),
        (130.0, 112 * MINUTE, "met"),
        (130.0, 112 * MINUTE - 1, "not_met"),
    ],
)
def test_thinner_ladder_of_maryland(value: float, seconds: float, expected: str) -> None:
    readings = held(value, seconds)
    assert answer("cook-roast", "cook", readings, food=BEEF, code=MARYLAND) == expected


@pytest.mark.parametrize(
    ("hours", "dated", "expected"),
    [(24.0, "no", "met"), (24.1, "no", "not_met"), (24.1, "yes", "not_applicable")],
)
def test_undated_frozen_food_in_minnesota(hours: float, dated: str, expected: str) -> None:
    """The state's poster: frozen without a date, use within 24 h of thawing."""
    steps = [
        note(-48, "freeze"),
        note(-12, "thaw"),
        note(0, "cold_hold"),
        note(hours, event="finished"),
    ]
    core = channel([(-47, 30.0), (-1, 38.0), (hours, 38.0)])
    log = staged([core], steps, facts={"frozen_dated": dated})
    assert found(judge(log, code=MINNESOTA), "frozen-undated-24h").verdict.value == expected


@pytest.mark.parametrize(
    ("requirement", "stage"), [("eggs-air", "cold_hold"), ("cool-eggs-air", "cool")]
)
@pytest.mark.parametrize(
    ("value", "expected"), [(41.0, "met"), (41.1, "not_met"), (45.0, "not_met")]
)
def test_eggs_in_wisconsin(requirement: str, stage: str, value: float, expected: str) -> None:
    """Wisconsin Food Code 3-501.14(D) and 3-501.16(B): air of 41 °F, where FDA prints 45 °F."""
    readings: Readings = [(0, value), (2, value)]
    air = Place.AIR
    assert answer(requirement, stage, readings, food=EGGS, place=air, code=WISCONSIN) == expected
    assert answer(requirement, stage, readings, food=EGGS, place=air, code=OHIO) == "met"


@pytest.mark.parametrize(
    ("readings", "first", "whole"),
    [
        # 61-25 3-501.14(A): 135 to 70 °F in 2 h, 41 °F in 6 h. The hand-out's 45 °F is not enough.
        ([(0, 135.0), (2, 70.0), (6, 41.0)], "met", "met"),
        ([(0, 135.0), (2, 70.0), (6, 45.0)], "met", "not_met"),
        ([(0, 135.0), (2, 71.0), ("2:10", 70.0), (6, 41.0)], "not_met", "met"),
    ],
)
def test_cooling_in_south_carolina(readings: Readings, first: str, whole: str) -> None:
    assert answer("cool-135-to-70", "cool", readings, code=SOUTH_CAROLINA) == first
    assert answer("cool-135-to-41", "cool", readings, code=SOUTH_CAROLINA) == whole


@pytest.mark.parametrize(
    ("day", "value", "new", "old"),
    [
        # The notice: 45 °F until the end of 2018, 41 °F from 1 January 2019.
        ("2018-12-30T12:00", 45.0, "not_applicable", "met"),
        ("2018-12-30T12:00", 45.1, "not_applicable", "not_met"),
        ("2019-01-02T12:00", 45.0, "not_met", "not_applicable"),
        ("2019-01-02T12:00", 41.0, "met", "not_applicable"),
    ],
)
def test_cold_holding_in_north_carolina(day: str, value: float, new: str, old: str) -> None:
    start = hours_to(day)
    readings: Readings = [(start, value), (start + 2, value)]
    assert answer("cold-hold", "cold_hold", readings, code=NORTH_CAROLINA) == new
    assert answer("cold-hold-45", "cold_hold", readings, code=NORTH_CAROLINA) == old
    assert answer("band-hold", "transport", readings, code=NORTH_CAROLINA) == new
    assert answer("band-hold-45", "transport", readings, code=NORTH_CAROLINA) == old


@pytest.mark.parametrize("code", [NORTH_CAROLINA, ANCHORAGE], ids=name)
@pytest.mark.parametrize(
    ("days", "expected"),
    [
        pytest.param("21", "not_applicable", id="V-54-21"),
        pytest.param("22", "not_met", id="V-54-22"),
    ],
)
def test_t38_days_of_a_temporary_place(code: Code, days: str, expected: str) -> None:
    """15A NCAC 18A .2665 and AMC 16.60.220: up to 21 days, where FDA gives 14."""
    facts = {"days_at_event": days, "longer_permit": "no"}
    line = finding("temporary-days", "hot_hold", HOT, facts=facts, business=EVENT, code=code)
    assert line.verdict.value == expected


@pytest.mark.parametrize(
    ("said", "expected"), [("yes", "met"), ("no", "not_met"), ("unknown", "not_applicable")]
)
def test_temporary_places_in_north_carolina(said: str, expected: str) -> None:
    """.2665: 15 days ahead, commissary at most 7 days before; .2669(b): a cooker's lid is cover."""
    for requirement, fact in (
        ("temporary-apply", "applied_in_time"),
        ("temporary-commissary", "commissary_in_time"),
        ("temporary-cover", "overhead_cover"),
    ):
        facts = {fact: said}
        line = finding(
            requirement, "hot_hold", HOT, facts=facts, business=EVENT, code=NORTH_CAROLINA
        )
        assert line.verdict.value == expected
    apply = NORTH_CAROLINA.find("temporary-apply")
    assert apply is not None
    assert getattr(apply.test, "ahead", "") == "15 days"


@pytest.mark.parametrize(
    ("end", "event", "limited", "expected"),
    [
        # .2674: heated leftovers of limited food services are not kept for another day.
        ("15:00", "discarded", "yes", "met"),
        ("20:00", "finished", "yes", "not_met"),
        ("20:00", "finished", "no", "not_applicable"),
    ],
)
def test_limited_services_in_north_carolina(
    end: str, event: str, limited: str, expected: str
) -> None:
    # 0:00 is 05:00, so that 15:00 is 20:00 of the same day and 20:00 is 01:00 of the next.
    last = 20 if end == "20:00" else 15
    core = channel([(h, 150.0) for h in range(0, last + 1, 3)])
    log = staged(
        [core], [note(0, "hot_hold"), note(end, event=event)], facts={"limited_service": limited}
    )
    evaluation = judge(log, code=NORTH_CAROLINA)
    assert found(evaluation, "limited-leftovers").verdict.value == expected


@pytest.mark.parametrize(
    ("business", "steps", "expected"),
    [
        # AMC 16.60.220: what was cooked or held hot at a temporary event is not cooled for later.
        (EVENT, ("cook", "cool"), "not_met"),
        (EVENT, ("hot_hold", "cool"), "not_met"),
        (EVENT, ("receive", "cool"), "not_applicable"),
        ("restaurant", ("cook", "cool"), "not_applicable"),
    ],
)
def test_no_cooling_at_events_in_anchorage(
    business: str, steps: tuple[str, str], expected: str
) -> None:
    core = channel([(0, 170.0), (2, 160.0), (3, 70.0), (5, 41.0)])
    notes = [note(0, steps[0]), note(2, steps[1]), note(5, event="finished")]
    evaluation = judge(staged([core], notes, business=business), code=ANCHORAGE)
    assert found(evaluation, "temporary-no-cooling").verdict.value == expected


@pytest.mark.parametrize(
    ("read", "expected"),
    [(203.0, "met"), (203.1, "not_met"), (197.0, "met"), (196.9, "not_met")],
)
def test_air_thermometer_in_the_district(read: float, expected: str) -> None:
    """25-A DCMR 1511: true to ±3 °F."""
    check = ProbeCheck(ZERO, "reference", read, 200.0, Unit.F, "reference")
    probe = Probe("a", scale="F", reads="air", checks=(check,))
    log = staged([channel([(0, 140.0)], probe="a")], [note(0, "hot_hold")], probes=[probe])
    assert found(judge(log, code=DISTRICT), "thermometer-air").verdict.value == expected


def test_connecticut_takes_the_code_as_amended() -> None:
    """Adopted as amended from time to time: the rule that came with the edition of 2022 holds."""
    label = finding(
        "cook-label",
        "cook",
        held(165.0, 15.0),
        facts={"label_instructions": "yes"},
        code=CONNECTICUT,
    )
    assert label.verdict.value == "not_shown"
    assert str(CONNECTICUT.head.effective_from) == "2023-02-17"
