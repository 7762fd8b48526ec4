"""What is easily got wrong with the codes of northern Europe, Asia and South Africa.

The numbers are those of the list of traps for codes outside the United States.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Cut, Form, Place, Species
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.places import in_force
from tests.published.traces import answer
from tests.support import Readings, channel, found, judge, lamb, note, staged

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.lot import Food

DENMARK, JAPAN, SINGAPORE = "dk/hygiejnevejledningen", "jp/mass-cooking/2017", "sg/food-hygiene"
MEALS = {"meals": "300"}
PINK = {"surface_sealed": "yes", "doneness": "rare"}
COUNTRIES = ("be", "ch", "dk", "fi", "hk", "in", "jp", "nl", "no", "se", "sg", "za")
OURS = [name for name in code_ids() if name.partition("/")[0] in COUNTRIES]


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(hours * i / 8, value) for i in range(9)]


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    facts: Mapping[str, str] | None = None,
    food: Food | None = None,
    business: str | None = None,
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        facts=facts,
        food=food,
        business=business,
        celsius=True,
        code=load_code(code),
    )


def cooled(code: str, readings: Readings) -> Evaluation:
    """Food whose cook ended at 0:00; the last reading ends the cooling."""
    steps = [note(-3, "cook"), note(0, "cool"), note(readings[-1][0], event="finished")]
    log = staged([channel([(-3, 10.0), *readings], celsius=True)], steps, facts=MEALS)
    return judge(log, code=load_code(code))


@pytest.mark.parametrize("place", ["nl", "dk", "se", "fi", "ch"])
def test_trap01_no_number_is_no_pass(place: str) -> None:
    """852/2004 and the Swiss ordinance are outcome duties: the best readings meet none of them."""
    code = load_code(in_force(place, None, date(2026, 7, 4)).code)
    readings: Readings = [(0, 70.0), (1, 95.0), (2, 80.0), (2.2, 10.0), (2.5, 2.0)]
    steps = [note(0, "cook"), note(2, "cool"), note(2.5, event="finished")]
    log = staged([channel(readings, celsius=True)], steps)
    evaluation = judge(log, code=code)
    assert evaluation.verdict.value == "needs_limit"
    assert found(evaluation, "cool-fast").verdict.value == "needs_limit"


def test_trap02_a_budget_of_its_own_or_from_one_start() -> None:
    """60 to 20 °C in 1 h and on to 4 °C in 5 h: 6 h in all, kept in New Brunswick alone."""
    readings: Readings = [(0, 60.0), (1, 20.0), (5, 4.1), (6, 4.0)]
    hong_kong = cooled("hk/food-hygiene-code", readings)
    assert found(hong_kong, "cool-60-to-20").verdict.value == "met"
    assert found(hong_kong, "cool-20-to-4").verdict.value == "not_met"
    # N.B. Reg. 2009-138 s. 27(1)(c): 4 °C within 6 h of the start.
    new_brunswick = cooled("ca/nb/2009-138", readings)
    assert found(new_brunswick, "cool-4-by-6h").verdict.value == "met"


def test_trap03_two_hours_mean_different_things() -> None:
    """Exactly so long: at room temperature, without cooling, held hot, out of the kitchen."""
    two, more = steady(30.0, 2.0), steady(30.0, 2.01)
    hot, longer = steady(70.0, 2.0), steady(70.0, 2.01)
    system = {"two_hour_system": "yes"}
    # The Dutch 2 h and the Norwegian 2 h are for serving, whatever went before; the Norwegian
    # one runs for hot food too.
    assert said("nl/horeca/2004", "present", "serve", two, facts=system) == "met"
    assert said("nl/horeca/2004", "present", "serve", more, facts=system) == "not_met"
    assert said("nl/horeca/2004", "present", "serve", longer, facts=system) == "met"
    assert said("no/care", "out-2h", "serve", hot) == "met"
    assert said("no/care", "out-2h", "serve", longer) == "not_met"
    # One Swedish municipality ends hot holding after 2 h; the authority and Denmark know no end.
    assert said("se/local", "hot-hold-2h", "hot_hold", longer) == "not_met"
    assert said("se/livsmedelsverket", "hot-hold-60", "hot_hold", longer) == "met"


def test_trap05_a_figure_that_is_inside_or_outside() -> None:
    """60.0 °C counts in Singapore's band (reg. 13A), and is hot enough in Finland (§ 23)."""
    core = steady(60.0, 5.0)
    assert said(SINGAPORE, "band-4h-no-cook", "hot_hold", core, business="caterer") == "not_met"
    assert said("fi/318-2021", "hot-hold", "hot_hold", core) == "met"
    assert said("sg/catering-guides", "hot-hold", "hot_hold", core) == "not_met"


@pytest.mark.parametrize(
    ("code", "requirement", "floor"),
    [
        ("se/livsmedelsverket", "hot-hold-55", 55.0),
        (DENMARK, "hot-hold", 56.0),
        ("nl/horeca/2004", "hot-hold", 60.0),
        ("fi/318-2021", "hot-hold", 60.0),
        ("hk/food-hygiene-code", "hot-hold", 60.0),
        ("za/r638/2018", "hot-hold", 60.0),
        ("in/fss-2011", "hot-hold", 60.0),
        (JAPAN, "hot-hold", 65.0),
        ("no/care", "hot-hold", 65.0),
        ("za/r918/1999", "hot-hold", 65.0),
    ],
)
def test_trap07_hot_is_not_one_figure(code: str, requirement: str, floor: float) -> None:
    facts = {**MEALS, "sold_within_4h": "no"}
    for value, expected in ((floor, "met"), (floor - 0.1, "not_met")):
        assert said(code, requirement, "hot_hold", steady(value), facts=facts) == expected


@pytest.mark.parametrize("code", [DENMARK, "se/livsmedelsverket"])
def test_trap08_no_time_limit_where_the_authority_knows_none(code: str) -> None:
    """Denmark and the Swedish authority: hot food may be held hot as long as one likes."""
    steps = [note(0, "hot_hold"), note(24, event="finished")]
    core = channel([(float(h), 61.0) for h in range(25)], celsius=True)
    evaluation = judge(staged([core], steps), code=load_code(code))
    findings = [f for f in evaluation.findings if f.verdict.value != "not_applicable"]
    assert findings
    assert {f.verdict.value for f in findings} == {"met"}


def test_trap08_one_municipality_has_one() -> None:
    """Surahammar's 2 h are advice for the sake of quality: nothing is broken by them."""
    steps = [note(0, "hot_hold"), note(24, event="finished")]
    core = channel([(float(h), 61.0) for h in range(25)], celsius=True)
    evaluation = judge(staged([core], steps), code=load_code("se/local"))
    one = found(evaluation, "hot-hold-2h")
    assert one.verdict.value == "not_met"
    assert evaluation.verdict.value != "not_met"


#: 95 to 65 °C in 1.5 h, to 56 °C in 2 h, to 10 °C at 5.5 h, to 6 °C at 6 h.
SLOW_AT_FIRST: Readings = [(0, 95.0), (1.5, 65.0), (2, 56.0), (5, 10.1), (5.5, 10.0), (6, 6.0)]


@pytest.mark.parametrize(
    ("code", "requirement", "expected"),
    [
        # From 56 °C on 3.5 h of 4 h; from 65 °C on exactly 4 h.
        (DENMARK, "cool-56-to-10", "met"),
        (f"{DENMARK}-old", "cool-65-to-10-4h", "met"),
        (f"{DENMARK}-old", "cool-65-to-10-3h", "not_met"),
        # From the end of the heat on: 4 h and 5 h run out before 6, 8 or 7 °C.
        ("fi/oulu", "cool-6-in-4h", "not_met"),
        ("se/local", "cool-8-in-4h", "not_met"),
        ("nl/horeca/2016", "cool-7-in-5h", "not_met"),
    ],
)
def test_trap10_where_the_clock_of_cooling_starts(
    code: str, requirement: str, expected: str
) -> None:
    assert found(cooled(code, SLOW_AT_FIRST), requirement).verdict.value == expected


@pytest.mark.parametrize(
    ("code", "requirement", "to"),
    [
        (DENMARK, "cool-56-to-10", 10.0),
        ("se/local", "cool-8-in-4h", 8.0),
        ("nl/horeca/2016", "cool-7-in-5h", 7.0),
        ("fi/oulu", "cool-6-in-4h", 6.0),
        ("hk/food-hygiene-code", "cool-20-to-4", 4.0),
    ],
)
def test_trap11_where_cooling_ends(code: str, requirement: str, to: float) -> None:
    """10, 8, 7, 6 and 4 °C: a degree short of the end is not the end."""
    start: Readings = [(0, 60.0), (1, 20.0)]
    there = found(cooled(code, [*start, (3, to)]), requirement)
    short = found(cooled(code, [*start, (3, to + 1.0), (6, to + 1.0)]), requirement)
    assert (there.verdict.value, short.verdict.value) == ("met", "not_met")


def test_trap11_the_end_of_cooling_is_not_cold_storage() -> None:
    """Denmark: 10 °C ends the 4 h, and is twice too warm for the refrigerator."""
    readings: Readings = [(0, 56.0), (3, 10.0), (4, 10.0), (9, 10.0)]
    steps = [note(-3, "cook"), note(0, "cool"), note(3, "cold_hold"), note(9, event="finished")]
    core = channel(readings, celsius=True)
    air = channel(readings[1:], place=Place.AIR, celsius=True)
    evaluation = judge(staged([core, air], steps), code=load_code(DENMARK))
    assert found(evaluation, "cool-56-to-10").verdict.value == "met"
    assert found(evaluation, "cold-hold").verdict.value == "not_met"


@pytest.mark.parametrize(
    ("form", "expected"),
    [
        (Form.INTACT, "met"),
        (Form.INJECTED, "not_met"),
        (Form.TENDERISED, "not_met"),
        (Form.GROUND, "not_met"),
        (Form.STUFFED, "not_met"),
    ],
)
@pytest.mark.parametrize(
    ("species", "cut"), [(Species.BEEF, Cut.ROAST), (Species.DUCK, Cut.BIRD_PART)]
)
def test_trap16_pink_only_while_nothing_pierced_it(
    form: Form, expected: str, species: Species, cut: Cut
) -> None:
    """Hygiejnevejledningen ch. 27.1: not if it was needle-injected or tenderised."""
    food = lamb(species, forms=(form,), cut=cut)
    assert said(DENMARK, "heat-75", "cook", steady(54.0), food=food, facts=PINK) == expected


def test_trap17_the_air_counts_in_denmark() -> None:
    """Ch. 26.2: temperatures of the national order are the air's."""
    channels = [
        channel(steady(6.0), celsius=True),
        channel(steady(4.0), place=Place.AIR, celsius=True),
    ]
    log = staged(channels, [note(0, "cold_hold"), note(2, event="finished")])
    assert found(judge(log, code=load_code(DENMARK)), "cold-hold").verdict.value == "met"
    # Decree 318/2021 speaks of the food.
    finland = found(judge(log, code=load_code("fi/318-2021")), "cold-hold")
    assert "air" not in finland.measured
    warm = [channel(steady(10.0, 48.0), celsius=True), *channels[1:]]
    log = staged(warm, [note(0, "cold_hold"), note(48, event="finished")])
    finland = found(judge(log, code=load_code("fi/318-2021")), "cold-hold")
    assert finland.verdict.value == "not_met"


def test_trap17_core_and_surface_in_south_africa() -> None:
    """Reg. 8(4)(a)(ii): core at 60 °C; the surface 2 °C colder and no more."""
    code = load_code("za/r638/2018")
    for surface, expected in ((58.0, "met"), (57.9, "not_met")):
        channels = [
            channel(steady(60.0), celsius=True),
            channel(steady(surface), place=Place.SURFACE, celsius=True),
        ]
        log = staged(
            channels,
            [note(0, "hot_hold"), note(2, event="finished")],
            facts={"sold_within_4h": "no"},
        )
        evaluation = judge(log, code=code)
        # The colder surface does not speak against the core.
        assert found(evaluation, "hot-hold").verdict.value == "met"
        assert found(evaluation, "surface-hot").verdict.value == expected
        assert evaluation.verdict.value == expected
    # Where nobody read a surface, none is asked for.
    log = staged(
        [channel(steady(60.0), celsius=True)], [note(0, "hot_hold"), note(2, event="finished")]
    )
    assert found(judge(log, code=code), "surface-hot").verdict.value == "not_applicable"


@pytest.mark.parametrize(
    ("code", "requirement", "stage", "value"),
    [
        (DENMARK, "hot-hold", "hot_hold", 50.0),
        (JAPAN, "hot-hold", "hot_hold", 50.0),
        ("hk/food-hygiene-code", "hot-hold", "hot_hold", 50.0),
        ("nl/horeca/2004", "cold-hold", "cold_hold", 15.0),
    ],
)
def test_trap23_advice_breaks_no_law(code: str, requirement: str, stage: str, value: float) -> None:
    """Guidance and standards of the trade are printed as such: the lot is not called unlawful."""
    steps = [note(0, stage), note(2, event="finished")]
    log = staged([channel(steady(value), celsius=True)], steps, facts=MEALS)
    evaluation = judge(log, code=load_code(code))
    assert found(evaluation, requirement).verdict.value == "not_met"
    assert evaluation.verdict.value != "not_met"


def test_trap22_stale_figures_name_what_came_after() -> None:
    """65 °C of South Africa, the Dutch code of 2004 and older Danish cooling."""
    heads = {name: load_code(name).head for name in OURS}
    assert {name: h.superseded_by for name, h in heads.items() if h.superseded_by} == {
        "za/r918/1999": "za/r638/2018",
        "nl/horeca/2004": "nl/horeca/2016",
        f"{DENMARK}-old": DENMARK,
    }
    assert in_force("za", None, date(2026, 7, 4)).code == "za/r638/2018"


@pytest.mark.parametrize(
    ("meals", "expected"),
    [("300", "not_met"), ("299", "not_applicable"), ("750", "not_met"), (None, "not_applicable")],
)
def test_trap24_the_japanese_manual_is_for_300_meals(meals: str | None, expected: str) -> None:
    """At least 300 meals at once, or 750 a day; others are only encouraged."""
    facts = {} if meals is None else {"meals": meals}
    assert said(JAPAN, "hot-hold", "hot_hold", steady(60.0), facts=facts) == expected


@pytest.mark.parametrize(
    ("business", "expected"),
    [("caterer", "not_met"), ("restaurant", "not_applicable"), ("private", "not_applicable")],
)
def test_trap24_singapores_clock_is_for_caterers(business: str, expected: str) -> None:
    core = steady(30.0, 5.0)
    assert said(SINGAPORE, "band-4h-no-cook", "serve", core, business=business) == expected


@pytest.mark.parametrize("stages", [("cool", "serve"), ("cold_hold", "serve")])
def test_trap32_chilling_sets_no_clock_back(stages: tuple[str, str]) -> None:
    """Reg. 13A adds up: 2.5 h out, an hour at 2 °C, and 2 h out again are 4.5 h."""
    second = 1 / 3600
    readings: Readings = [(0, 30.0), (1, 30.0), (2.5, 30.0), (3, 2.0), (4, 2.0)]
    readings = [*readings, (4 + second, 5.0), (5, 20.0), (6, 20.0), (6.5, 20.0)]
    steps = [note(-3, "cook"), note(0, "serve"), note(2.5, stages[0]), note(4, stages[1])]
    log = staged(
        [channel(readings, celsius=True)],
        [*steps, note(6.5, event="finished")],
        business="caterer",
    )
    evaluation = judge(log, code=load_code(SINGAPORE))
    assert found(evaluation, "band-4h").verdict.value == "not_met"


@pytest.mark.parametrize(
    ("place", "code"),
    [
        ("nl", "nl/852-2004"),
        ("dk", "dk/852-2004"),
        ("se", "se/852-2004"),
        ("fi", "fi/318-2021"),
        ("ch", "ch/hyv"),
        ("no", "no/care"),
        ("jp", JAPAN),
        ("sg", SINGAPORE),
        ("hk", "hk/food-hygiene-code"),
        ("in", "in/fss-2011"),
    ],
)
def test_each_country_has_its_text(place: str, code: str) -> None:
    assert in_force(place, None, date(2026, 7, 4)).code == code
