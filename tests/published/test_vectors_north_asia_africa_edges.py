"""Edges of bands and of let-offs, where another way to keep a limit might hide them.

Sources: the Dutch hygiene code of 2004; the Danish fact sheet p. 22; Decree 318/2021 §§ 23 and 37
with Oiva 6.2; regulation 13A of Singapore; the Food Hygiene Code of Hong Kong with the announcement
on food left out; R.638 of South Africa, Annexure E and regulation 8(4); the Japanese
manual of 2017.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Form, Place, Species
from tempwitness.rulebook.load import load_code
from tests.published.traces import finding
from tests.support import Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Finding
    from tempwitness.model.logs import Note
    from tempwitness.model.lot import Food

HOUR = 3600.0
SECOND = 1 / 3600
COOKED = (note(-3, "cook"),)
SYSTEM = {"two_hour_system": "yes"}
SOLD = {"sold_within_4h": "yes"}
MINCE = lamb(Species.BEEF, forms=(Form.GROUND,))


def steady(value: float, hours: float, *, start: float = 0.0) -> Readings:
    return [(start + hours * i / 10, value) for i in range(11)]


def one(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    before: Sequence[Note] = (),
    facts: dict[str, str] | None = None,
    food: Food | None = None,
    business: str | None = None,
    place: Place = Place.CORE,
) -> Finding:
    return finding(
        requirement,
        stage,
        readings,
        before=tuple(before),
        facts=facts,
        food=food,
        business=business,
        place=place,
        celsius=True,
        code=load_code(code),
    )


@pytest.mark.parametrize(
    ("value", "expected"),
    [(7.0, "met"), (7.1, "not_met"), (59.9, "not_met"), (60.0, "met")],
)
def test_the_band_of_the_dutch_two_hours(value: float, expected: str) -> None:
    """Code of 2004: 3 h at a value and 1 h at 30 °C; 7 and 60 °C themselves are not counted."""
    readings = [*steady(value, 3.0), *steady(30.0, 1.0, start=3.0 + SECOND)]
    got = one("nl/horeca/2004", "present", "serve", readings, facts=SYSTEM)
    assert got.verdict.value == expected


@pytest.mark.parametrize(
    ("value", "expected"), [(5.0, "met"), (5.1, "not_met"), (55.9, "not_met"), (56.0, "met")]
)
def test_the_band_of_the_danish_three_hours(value: float, expected: str) -> None:
    got = one("dk/hygiejnevejledningen", "buffet-3h", "serve", steady(value, 4.0))
    assert got.verdict.value == expected


@pytest.mark.parametrize(
    ("value", "expected"), [(4.0, "met"), (4.1, "not_met"), (59.9, "not_met"), (60.0, "met")]
)
@pytest.mark.parametrize(("requirement", "hours"), [("out-2h", 3.0), ("out-4h", 5.0)])
def test_the_band_of_room_temperature_in_hong_kong(
    requirement: str, hours: float, value: float, expected: str
) -> None:
    """Ch. 4.3 holds food at 4 °C or below or at 60 °C or above: only between it is out."""
    steps = [*COOKED, note(0, "serve"), note(hours, "freeze"), note(hours + 1, event="finished")]
    log = staged([channel(steady(value, hours), celsius=True)], steps)
    evaluation = judge(log, code=load_code("hk/food-hygiene-code"))
    assert found(evaluation, requirement).verdict.value == expected


@pytest.mark.parametrize(
    ("value", "expected"), [(4.9, "met"), (5.0, "not_met"), (60.0, "not_met"), (60.1, "met")]
)
@pytest.mark.parametrize("before", [(), COOKED], ids=["no cook noted", "cooked"])
def test_the_band_of_singapore(value: float, expected: str, before: tuple[Note, ...]) -> None:
    """Reg. 13A: 5 and 60 °C are inside the band."""
    requirement = "band-4h" if before else "band-4h-no-cook"
    core = steady(value, 5.0)
    got = one("sg/food-hygiene", requirement, "serve", core, before=before, business="caterer")
    assert got.verdict.value == expected


@pytest.mark.parametrize(
    ("requirement", "limit", "food"), [("cold-hold", 6.0, None), ("cold-mince", 4.0, MINCE)]
)
def test_the_finnish_limit_itself(requirement: str, limit: float, food: Food | None) -> None:
    """§§ 23 and 37: what is within the limit uses nothing up; 30 h just above are too long."""
    code = "fi/318-2021"
    within = one(code, requirement, "cold_hold", steady(limit, 30.0), food=food)
    assert (within.verdict.value, within.allowance) == ("met", "")
    above = one(code, requirement, "cold_hold", steady(limit + 0.1, 30.0), food=food)
    assert above.verdict.value == "not_met"
    # 30 h at the limit and an hour 2 °C above it: the deviation is that hour alone.
    hour = [*steady(limit, 30.0), *steady(limit + 2.0, 1.0, start=30.0 + SECOND)]
    short = one(code, requirement, "cold_hold", hour, food=food)
    assert short.verdict.value == "met"
    assert "Oiva guidance 6.2" in short.allowance


@pytest.mark.parametrize(
    ("requirement", "stage", "value", "place", "before"),
    [
        ("hot-hold", "hot_hold", 40.0, Place.CORE, COOKED),
        ("cold-hold", "cold_hold", 15.0, Place.CORE, ()),
        ("handle-cooked", "prep", 40.0, Place.CORE, COOKED),
        ("surface-hot", "hot_hold", 40.0, Place.SURFACE, COOKED),
        ("surface-cold", "cold_hold", 15.0, Place.SURFACE, ()),
        ("surface-band", "serve", 40.0, Place.SURFACE, COOKED),
    ],
)
def test_the_let_off_of_4h_in_south_africa(
    requirement: str, stage: str, value: float, place: Place, before: tuple[Note, ...]
) -> None:
    """Reg. 8(4)(a)(i) lets all of its limits off, core and surface, for 4 h and no longer."""
    verdicts = [
        one(
            "za/r638/2018",
            requirement,
            stage,
            steady(value, hours),
            before=before,
            facts=SOLD,
            place=place,
        ).verdict.value
        for hours in (3.9, 4.0, 4.01)
    ]
    assert verdicts == ["met", "met", "not_met"]


@pytest.mark.parametrize(("value", "expected"), [(5.0, "met"), (5.1, "not_met")])
def test_cold_meat_is_cut_at_5_degrees(value: float, expected: str) -> None:
    """Annexure E: cooked meat that was chilled and is cut."""
    readings: Readings = [(-3, 80.0), (-1, 3.0), (0, value), (1, value), (2, value)]
    steps = [note(-5, "cook"), note(-3, "cool"), note(-1, "cold_hold"), note(0, "prep")]
    log = staged(
        [channel(readings, celsius=True)],
        [*steps, note(2, event="finished")],
        facts={"sold_within_4h": "no"},
    )
    evaluation = judge(log, code=load_code("za/r638/2018"))
    assert found(evaluation, "handle-cooked").verdict.value == expected


@pytest.mark.parametrize(("value", "expected"), [(4.0, "met"), (4.1, "not_met")])
def test_raw_offal_in_south_africa(value: float, expected: str) -> None:
    facts = {"raw_offal": "yes"}
    got = one("za/r638/2018", "cold-offal", "cold_hold", steady(value, 2.0), facts=facts)
    assert got.verdict.value == expected


def test_what_a_sample_of_a_japanese_meal_is() -> None:
    """Manual of 2017, with a city's answer: about 50 g, at −20 °C or below, for 2 weeks."""
    facts = {"meals": "300", "sample_kept": "yes"}
    limit = one("jp/mass-cooking/2017", "sample", "cook", steady(80.0, 2.0), facts=facts).limit
    for words in ("50 g", "at most -20 °C", "2 weeks"):
        assert words in limit


@pytest.mark.parametrize(
    ("code", "requirement", "hours"),
    [
        ("fi/318-2021", "cold-hold", 24.0),
        ("fi/318-2021", "cold-mince", 24.0),
        ("sg/food-hygiene", "band-4h", 4.0),
        ("sg/food-hygiene", "band-4h-no-cook", 4.0),
        ("za/r638/2018", "sold-in-4h", 4.0),
    ],
)
def test_deadlines_of_what_to_do_are_the_printed_times(
    code: str, requirement: str, hours: float
) -> None:
    """Oiva 6.2; regulation 13A; regulation 8(4)(a)(i)."""
    rule = load_code(code).find(requirement)
    assert rule is not None
    assert {a.within for a in rule.actions if a.within is not None} == {hours * HOUR}
