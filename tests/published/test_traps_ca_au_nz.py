"""What is easily got wrong about the rules of Canada, Australia and New Zealand."""

from __future__ import annotations

import tomllib

import pytest

from tempwitness.model.forms import Paper
from tempwitness.model.lot import Food, Probe
from tempwitness.model.vocabulary import Cut, Event, Form, Place, Species
from tempwitness.rulebook.files import rules_folder
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.published.traces import answer, held, judged
from tests.support import Readings, channel, found, judge, lamb, note, staged

BEEF = lamb(Species.BEEF)
CHICKEN = lamb(Species.CHICKEN, cut=Cut.BIRD_PART)


def cooled(code: str, requirement: str, readings: Readings, **facts: str) -> str:
    return answer(
        requirement,
        "cool",
        readings,
        before=(note(-4, "cook"),),
        facts=facts,
        celsius=True,
        code=load_code(code),
    )


def steady(value: float, hours: float) -> Readings:
    return [(0, value), (hours / 2, value), (hours, value)]


def test_trap02_a_further_4h_is_not_6h_in_all() -> None:
    """60 °C to 20 °C in 1 h, then 5 h to 4 °C: New Brunswick s. 27(1)(c), Australia cl. 7(3)."""
    readings: Readings = [(0, 60.0), ("0:55", 21.0), (1, 20.0), (5.5, 6.0), (6, 4.0)]
    assert cooled("ca/nb/2009-138", "cool-20-by-2h", readings) == "met"
    assert cooled("ca/nb/2009-138", "cool-4-by-6h", readings) == "met"
    assert cooled("au/3.2.2", "cool-60-to-21", readings) == "met"
    assert cooled("au/3.2.2", "cool-21-to-5", readings) == "not_met"


def test_trap03_two_hours_mean_different_things() -> None:
    """Exactly 2 h: enough to prepare in Ontario, too long to chill again in Australia."""
    out = steady(30.0, 2.0)
    ontario = answer("prep-2h", "prep", out, celsius=True, code=load_code("ca/on/493-17"))
    steps = [note(-3, "cook"), note(0, "serve"), note(2, "cold_hold"), note(3, event="finished")]
    log = staged([channel(out, celsius=True)], steps, facts={"cooling_in_clock": "yes"})
    australia = found(judge(log, code=load_code("au/3.2.2")), "time-2h").verdict.value
    reheated: Readings = [(0, 4.0), (1, 40.0), (1.99, 74.0), (2, 74.0)]
    brunswick = load_code("ca/nb/2009-138")
    heated = answer("reheat-in-2h", "reheat", reheated, celsius=True, code=brunswick)
    assert (ontario, australia, heated) == ("met", "not_met", "met")


@pytest.mark.parametrize(
    ("code", "requirement", "expected"),
    [("au/3.2.2", "cool-60-to-21", "met"), ("au/large-cuts", "cool-to-50", "not_met")],
)
def test_trap10_the_way_down_to_60_is_free_or_counts(
    code: str, requirement: str, expected: str
) -> None:
    """3 h from 90 °C to 60 °C: the law counts from 60 °C, the text of 1998 from the cook's end."""
    readings: Readings = [(0, 90.0), (1.5, 75.0), (3, 60.0), (4.5, 21.0), (8, 5.0)]
    assert cooled(code, requirement, readings, nitrite_ppm="0", brine_percent="0") == expected


def test_trap12_large_pieces_need_limits_of_their_own() -> None:
    """The recommendation of 1998 is kept, clause 7(3) is not; it is evidence, no law."""
    readings: Readings = [(0, 75.0), (1.5, 60.0), (2.5, 50.0), (5.5, 25.0), (8.5, 12.0), (10, 5.0)]
    large = load_code("au/large-cuts")
    for name in ("cool-to-50", "cool-50-to-12", "cool-12-to-5", "cool-in-all"):
        assert cooled("au/large-cuts", name, readings) == "met"
    assert cooled("au/3.2.2", "cool-60-to-21", readings) == "not_met"
    assert not any(r.weight.binds for r in large.requirements)


@pytest.mark.parametrize(
    ("brine", "nitrite", "expected"),
    [("2.5", "100", "met"), ("2.5", "99", "not_met"), ("2.4", "100", "not_met")],
)
def test_trap12_a_dry_rub_makes_no_cured_meat(brine: str, nitrite: str, expected: str) -> None:
    """Both count: 2.5 % of salt in the water and 100 ppm of nitrite."""
    readings: Readings = [(0, 80.0), (3, 50.1), ("3:00:01", 50.0)]
    facts = {"brine_percent": brine, "nitrite_ppm": nitrite}
    assert cooled("au/large-cuts", "cool-to-50", readings, **facts) == expected


def test_trap14_tables_for_other_targets_are_not_mixed() -> None:
    """12 min at 60 °C are enough for meat in Annex D, not for chicken, nor in any other table."""
    readings = held(60.0, 720.0)
    plant = load_code("ca/cfia-manual")
    assert answer("cook-6-5-log", "cook", readings, food=BEEF, celsius=True, code=plant) == "met"
    lean = {"fat_percent": "1"}
    for code, requirement in (
        ("ca/cfia-manual", "cook-chicken"),
        ("nz/fcp/2011", "cook-poultry"),
        ("au/processors", "cook-65"),
    ):
        got = answer(
            requirement,
            "cook",
            readings,
            food=CHICKEN,
            facts=lean,
            celsius=True,
            code=load_code(code),
        )
        assert got == "not_met"


@pytest.mark.parametrize(
    ("form", "expected"),
    [
        (Form.INTACT, "met"),
        (Form.INJECTED, "not_met"),
        (Form.TENDERISED, "not_met"),
        (Form.GROUND, "not_met"),
    ],
)
def test_trap16_pierced_meat_is_no_whole_muscle(form: Form, expected: str) -> None:
    """Whole cuts of red meat are cooked to preference in Australia, only while they are whole."""
    food = lamb(forms=(form,))
    code = load_code("au/state-advice")
    assert answer("cook-75", "cook", held(63.0, 0.0), food=food, celsius=True, code=code) == (
        expected
    )


def test_trap16_tenderised_beef_has_a_label_of_its_own() -> None:
    """B.14.022."""
    label = "label-tenderised-beef"
    steak = lamb(Species.BEEF, forms=(Form.TENDERISED,), cut=Cut.STEAK)
    code, facts = load_code("ca/fdr"), {"label_tenderised": "no"}
    assert answer(label, "cook", held(63.0, 0.0), food=steak, facts=facts, code=code) == "not_met"
    plain = lamb(Species.BEEF, cut=Cut.STEAK)
    assert answer(label, "cook", held(63.0, 0.0), food=plain, facts=facts, code=code) == (
        "not_applicable"
    )


def test_trap17_quebec_asks_for_the_food_and_for_the_air() -> None:
    core, air = (
        channel(steady(4.0, 2.0), celsius=True),
        channel(steady(6.0, 2.0), place=Place.AIR, celsius=True),
    )
    log = staged([core, air], [note(0, "cold_hold"), note(2, event="finished")])
    evaluation = judge(log, code=load_code("ca/qc/p-29-r1"))
    assert found(evaluation, "cold-hold").verdict.value == "met"
    assert found(evaluation, "cold-air").verdict.value == "not_met"


def test_trap17_the_warmest_part_decides_on_cooling() -> None:
    near = channel([(0, 60.0), (2, 19.0), (6, 3.0)], celsius=True, probe="a", point="edge")
    deep = channel(
        [(0, 60.0), (2, 26.0), (2.5, 20.0), (6, 4.0)], celsius=True, probe="b", point="middle"
    )
    log = staged([near, deep], [note(0, "cool"), note(6, event="finished")])
    evaluation = judge(log, code=load_code("ca/nb/2009-138"))
    assert found(evaluation, "cool-20-by-2h").verdict.value == "not_met"
    assert found(evaluation, "cool-4-by-6h").verdict.value == "met"


@pytest.mark.parametrize(
    ("then", "expected"), [("hot_hold", "not_met"), ("serve", "not_applicable")]
)
def test_trap18_australia_asks_for_60_only_before_hot_holding(then: str, expected: str) -> None:
    core = channel([(0, 4.0), (0.5, 50.0), (0.9, 55.0), (2, 55.0)], celsius=True)
    steps = [note(0, "reheat"), note(1, then), note(2, event="finished")]
    evaluation = judge(staged([core], steps), code=load_code("au/3.2.2"))
    assert found(evaluation, "reheat-60").verdict.value == expected


def test_trap18_new_brunswick_reheats_to_74_for_whatever_follows() -> None:
    core = channel([(0, 4.0), (0.5, 50.0), (0.9, 65.0), (2, 64.0)], celsius=True)
    steps = [note(0, "reheat"), note(1, "serve"), note(2, event="finished")]
    evaluation = judge(staged([core], steps), code=load_code("ca/nb/2009-138"))
    assert found(evaluation, "reheat-74").verdict.value == "not_met"


@pytest.mark.parametrize(
    ("code", "facts", "expected"),
    [
        ("au/nt/3.2.2", {}, "not_met"),
        ("au/nsw/3.2.2", {}, "not_shown"),
        ("au/3.2.2", {}, "not_shown"),
        ("au/3.2.2", {"cooling_in_clock": "yes"}, "not_met"),
        ("au/3.2.2", {"cooling_in_clock": "no"}, "met"),
    ],
)
def test_trap21_sources_differ_on_whether_cooling_counts(
    code: str, facts: dict[str, str], expected: str
) -> None:
    """5 h of lawful cooling and 1 h on the table: more than 4 h, if cooling counts."""
    core: Readings = [
        (0, 60.0),
        ("0:01", 59.9),
        (1, 21.0),
        (3, 10.0),
        (4.9, 5.1),
        (5, 5.0),
        (6, 4.0),
    ]
    table: Readings = [("6:15", 20.0), ("7:00", 20.0)]
    steps = [note(-4, "cook"), note(0, "cool"), note(5, "cold_hold"), note(6, "serve")]
    steps.append(note(7, event="finished"))
    log = staged([channel([*core, *table], celsius=True)], steps, facts=facts)
    evaluation = judge(log, code=load_code(code))
    assert found(evaluation, "cool-21-to-5").verdict.value == "met"
    assert found(evaluation, "time-4h").verdict.value == expected


@pytest.mark.parametrize(
    ("code", "facts", "expected"),
    [
        ("au/nsw/3.2.2", {"cooling_in_clock": "yes"}, "not_met"),
        ("au/nt/3.2.2", {}, "met"),
        ("au/3.2.2", {"two_four_guide": "nt"}, "met"),
        ("au/3.2.2", {"two_four_guide": "nsw", "cooling_in_clock": "yes"}, "not_met"),
    ],
)
def test_trap21_exactly_4h_is_discarded_in_one_state_only(
    code: str, facts: dict[str, str], expected: str
) -> None:
    steps = [note(-3, "cook"), note(0, "serve"), note(4, event="finished")]
    log = staged([channel(steady(30.0, 4.0), celsius=True)], steps, facts=facts)
    assert found(judge(log, code=load_code(code)), "time-4h").verdict.value == expected


def test_trap22_stale_figures_stand_in_codes_that_are_superseded() -> None:
    """Whole poultry at 85 °C, and Regulation 562, which ended with June 2018."""
    bird, readings = lamb(Species.TURKEY, cut=Cut.WHOLE_BIRD), held(82.0, 0.0)
    now, then = load_code("ca/guidance"), load_code("ca/guidance/2017")
    asked = ("cook-whole-bird", "cook", readings)
    assert answer(*asked, food=bird, celsius=True, code=now) == "met"
    assert answer(*asked, food=bird, celsius=True, code=then) == "not_met"
    assert answer(asked[0], "cook", held(85.0, 0.0), food=bird, celsius=True, code=then) == "met"
    assert then.head.superseded_by == "ca/guidance"
    old, new = load_code("ca/on/562").head, load_code("ca/on/493-17").head
    assert (str(old.effective_to), old.superseded_by) == ("2018-06-30", new.id)
    assert str(new.effective_from) == "2018-07-01"


def test_trap24_scope_is_a_matter_of_place_and_business() -> None:
    """The Australian chapter does not hold in New Zealand; a private meal needs no application."""
    places = rules_folder() / "places" / "ca_au_nz.toml"
    rows = tomllib.loads(places.read_text(encoding="utf-8"))["adoption"]
    assert {r["code"] for r in rows if r["place"] == "nz"} == {"nz/simply-safe-suitable"}
    columbia, facts = load_code("ca/bc/210-99"), {"applied_14_days_ahead": "no"}
    for business, expected in (("temporary_event", "not_met"), ("private", "not_applicable")):
        readings = steady(65.0, 1.0)
        got = answer(
            "event-application", "serve", readings, business=business, facts=facts, code=columbia
        )
        assert got == expected


@pytest.mark.parametrize(
    ("facts", "expected"),
    [
        ({"label_storage": "no"}, "not_met"),
        ({"label_storage": "yes"}, "met"),
        ({}, "not_shown"),
        ({"packed": "no"}, "not_applicable"),
    ],
)
@pytest.mark.parametrize(("kind", "food"), [("meat", BEEF), ("poultry", CHICKEN)])
def test_trap25_perfect_temperatures_do_not_make_up_for_the_label(
    kind: str, food: Food, facts: dict[str, str], expected: str
) -> None:
    """B.14.072(b) and B.22.026(b)."""
    steps = [note(-3, "cook"), note(0, "hot_hold"), note(1, event="finished")]
    log = staged([channel([(0, 142.0), (1, 141.0)])], steps, food=food, facts=facts)
    evaluation = judge(log, code=load_code("ca/fdr"))
    assert found(evaluation, f"bbq-{kind}").verdict.value == "met"
    assert found(evaluation, f"label-{kind}").verdict.value == expected


def test_trap26_a_probe_of_one_degree_leaves_the_limit_in_doubt() -> None:
    """60.0 °C with ±1 °C: met as read, not shown with the error of the instrument."""
    probe = Probe("a", scale="C", reads="food", accuracy=1.0, accuracy_unit=Unit.C)
    core = channel(steady(60.0, 1.0), celsius=True, probe="a")
    log = staged([core], [note(0, "hot_hold"), note(1, event="finished")], probes=[probe])
    line = found(judge(log, code=load_code("ca/nb/2009-138"), strict=True), "hot-hold")
    assert line.strict is not None
    assert (line.verdict.value, line.strict.verdict.value) == ("met", "not_shown")


@pytest.mark.parametrize(
    ("room", "expected"),
    [("", "not_shown"), ("21", "met"), ("30", "met"), ("18", "not_met")],
)
def test_trap28_the_room_counts_where_it_is_colder(room: str, expected: str) -> None:
    """Cooling card of New Zealand: 21 °C or the room's temperature, whichever is colder."""
    readings: Readings = [(0, 60.0), (1, 35.0), (1.9, 21.0), (2.1, 20.0), (5, 5.0)]
    facts = {"room_temperature_c": room} if room else {}
    assert cooled("nz/simply-safe-suitable", "cool-60-to-21", readings, **facts) == expected


@pytest.mark.parametrize(
    ("code", "requirement", "ahead", "business_days"),
    [
        ("ca/on/health-units", "event-form-30d", "30 days", False),
        ("ca/on/health-units", "event-form-15d", "15 days", False),
        ("ca/on/health-units", "event-form-10bd", "10 days", True),
        ("ca/bc/210-99", "event-application", "14 days", False),
        ("au/nsw/events", "stall-list", "7 days", False),
    ],
)
def test_trap30_lead_times_are_local(
    code: str, requirement: str, ahead: str, business_days: bool
) -> None:
    paper = load_code(code).find(requirement)
    assert paper is not None
    assert isinstance(paper.test, Paper)
    assert (paper.test.ahead, paper.test.business_days) == (ahead, business_days)
    assert (paper.test.each, paper.weight.binds) == ("event", False)


@pytest.mark.parametrize(
    ("unit", "applying"),
    [
        ("windsor_essex", "event-form-30d"),
        ("peel", "event-form-15d"),
        ("northwestern", "event-form-10bd"),
        ("niagara", "event-organiser"),
    ],
)
def test_trap30_each_health_unit_has_its_own_form(unit: str, applying: str) -> None:
    facts = {"health_unit": unit, "vendor_form_in_time": "yes", "organiser_named_vendor": "yes"}
    evaluation = judged(
        "serve",
        steady(65.0, 1.0),
        celsius=True,
        facts=facts,
        business="temporary_event",
        code=load_code("ca/on/health-units"),
    )
    names = {f.requirement.split("#")[1] for f in evaluation.findings if f.verdict.value == "met"}
    assert names == {applying}


@pytest.mark.parametrize(("topped", "expected"), [(True, "not_shown"), (False, "not_applicable")])
def test_trap31_topping_up_is_asked_about_in_new_zealand(*, topped: bool, expected: str) -> None:
    """S11 forbids it; what was mixed is as old as its oldest part."""
    steps = [note(0, "hot_hold"), note(2, event="finished")]
    if topped:
        steps.insert(1, note(1, event=Event.TOPPED_UP.value))
    log = staged([channel(steady(65.0, 2.0), celsius=True)], steps)
    evaluation = judge(log, code=load_code("nz/fcp/2011"))
    assert found(evaluation, "no-topping-up").verdict.value == expected


@pytest.mark.parametrize("rest", ["cold_hold", "freeze"])
@pytest.mark.parametrize(
    ("code", "requirement"), [("au/nt/3.2.2", "time-4h"), ("nz/fcp/2011", "time-4h")]
)
def test_trap32_chilling_again_never_sets_the_clock_back(
    code: str, requirement: str, rest: str
) -> None:
    """2.5 h out, chilled, 2 h out again are 4.5 h."""
    core: Readings = [(0, 30.0), (1, 30.0), (2.5, 30.0), (5, 3.0), (8, 3.0), (10, 30.0), (12, 30.0)]
    steps = [note(-3, "cook"), note(0, "serve"), note(2.5, rest), note(10, "serve")]
    steps.append(note(12, event="finished"))
    log = staged([channel(core, celsius=True)], steps)
    evaluation = judge(log, code=load_code(code))
    assert found(evaluation, requirement).verdict.value == "not_met"


@pytest.mark.parametrize("code", ["au/3.2.2", "au/nsw/3.2.2", "au/nt/3.2.2", "nz/fcp/2011"])
@pytest.mark.parametrize(("trimmed", "carved"), [(1.5, 1.5), (4.5, 1.9)])
def test_what_was_raw_is_not_counted_in_the_2_and_4_hours(
    code: str, trimmed: float, carved: float
) -> None:
    """The guides speak of food that is ready to eat: not of trimming it raw in a warm room."""
    readings: Readings = [(-10, 20.0), (-10 + trimmed, 20.0), (-4, 80.0), (-0.001, 80.0)]
    steps = [
        note(-10, "prep"),
        note(-10 + trimmed, "cook"),
        note(-0.001, "hot_hold"),
        note(carved, event="finished"),
    ]
    core = channel([*readings, (0, 50.0), (1, 50.0), (carved, 50.0)], celsius=True)
    evaluation = judge(staged([core], steps), code=load_code(code))
    assert found(evaluation, "time-4h").verdict.value == "met"
    if code != "nz/fcp/2011":
        assert found(evaluation, "hot-hold").verdict.value == "met"
