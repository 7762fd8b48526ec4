"""What is easily got wrong with the codes of Germany, Spain and Italy.

The numbers are those of the list of traps for codes outside the United States.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import RuleError
from tempwitness.model.lot import Approval
from tempwitness.model.vocabulary import Place
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.places import in_force
from tests.published.traces import answer
from tests.support import Readings, channel, found, judge, note, staged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import Note

DIN, BFR, ITALY = "de/din-10506/2023", "de/bfr", "it/dlgs-27-2021"
SPAIN, SPAIN_OLD, ITALY_OLD = "es/rd-1021-2022", "es/rd-3484-2000", "it/dpr-327-1980"
COOKED = {"raw_for_cooking": "no"}
TODAY = date(2026, 7, 4)
PROVED = Approval("validated_process", "authority", "7", date(2026, 1, 1))


def steady(value: float, hours: float = 2.0) -> Readings:
    return [(hours * i / 8, value) for i in range(9)]


def said(
    code: str,
    requirement: str,
    stage: str,
    readings: Readings,
    *,
    facts: dict[str, str] | None = None,
    business: str | None = None,
) -> str:
    return answer(
        requirement,
        stage,
        readings,
        facts=facts,
        business=business,
        celsius=True,
        code=load_code(code),
    )


def run(
    code: str, readings: Readings, steps: Sequence[Note], facts: dict[str, str] | None = None
) -> Evaluation:
    log = staged(
        [channel(readings, celsius=True)],
        [*steps, note(readings[-1][0], event="finished")],
        facts=facts,
    )
    return judge(log, code=load_code(code))


def verdict(evaluation: Evaluation, requirement: str) -> str:
    return found(evaluation, requirement).verdict.value


@pytest.mark.parametrize("place", ["de", "it"])
def test_trap01_no_number_is_no_pass(place: str) -> None:
    """Regulation 852/2004 alone, also in Italy since D.Lgs. 27/2021: nothing is simply met."""
    readings: Readings = [(0, 70.0), (1, 95.0), (2, 80.0), (3, 80.0), (3.2, 10.0), (3.5, 2.0)]
    steps = [note(0, "cook"), note(2, "hot_hold"), note(3, "cool")]
    evaluation = run(in_force(place, None, TODAY).code, readings, steps)
    assert evaluation.verdict.value == "needs_limit"
    for duty in ("heat-by-plan", "cold-chain", "cool-fast"):
        assert verdict(evaluation, duty) == "needs_limit"


def test_trap01_spain_has_no_number_for_the_cook() -> None:
    """No general cooking temperature; a figure for hot holding is a figure all the same."""
    readings: Readings = [(0, 5.0), (1, 95.0), (1.5, 80.0), (2, 80.0)]
    evaluation = run(SPAIN, readings, [note(0, "cook"), note(1, "hot_hold")])
    assert verdict(evaluation, "heat-by-plan") == "needs_limit"
    assert verdict(evaluation, "hot-hold") == "met"


def test_trap05_less_than_two_hours_and_at_most_two_hours() -> None:
    """RD 1086/2020 art. 30(6) says less than 2 h; German texts say at most 2 h."""
    readings: Readings = [(0, 90.0), (1, 60.0), (2.9, 11.0), (3, 10.0), (3.1, 9.0)]
    steps = [note(-2, "cook"), note(0, "cool")]
    assert verdict(run(DIN, readings, steps), "cool-60-to-10") == "met"
    # Whether 10 °C was there a moment before the 2 h were up was not read.
    assert verdict(run(SPAIN, readings, steps), "cool-60-to-10") == "not_shown"


@pytest.mark.parametrize(
    ("code", "floor"),
    [
        (DIN, 60.0),
        (BFR, 60.0),
        (SPAIN, 63.0),
        ("de/din-10506/2018", 65.0),
        (SPAIN_OLD, 65.0),
        (ITALY_OLD, 60.0),
    ],
)
def test_trap07_hot_is_not_one_figure(code: str, floor: float) -> None:
    for value, expected in ((floor, "met"), (floor - 0.1, "not_met")):
        assert said(code, "hot-hold", "hot_hold", steady(value)) == expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (59.9, {"not_met", "met"}),
        (60.0, {"met"}),
        (65.0, {"met"}),
        (65.1, {"met", "not_met"}),
        (80.0, {"met", "not_met"}),
    ],
)
def test_trap07_italy_had_an_upper_bound(value: float, expected: set[str]) -> None:
    """DPR 327/1980 art. 31: between 60 and 65 °C, so that hotter food broke it too."""
    evaluation = run(ITALY_OLD, steady(value), [note(0, "hot_hold")])
    verdicts = {f.verdict.value for f in evaluation.findings if "#hot-hold" in f.requirement}
    assert verdicts == expected
    assert (evaluation.verdict.value == "met") is (expected == {"met"})


def test_trap08_hot_does_not_mean_forever() -> None:
    """DGE: 3 h at most. DIN 10506, BfR and Spain print no end."""
    readings: Readings = [(float(h), 75.0) for h in range(7)]
    codes = {"de/dge": "hot-hold-3h", DIN: "hot-hold", BFR: "hot-hold", SPAIN: "hot-hold"}
    verdicts = [said(code, name, "hot_hold", readings) for code, name in codes.items()]
    assert verdicts == ["not_met", "met", "met", "met"]


def test_trap09_a_rest_is_no_hot_holding() -> None:
    """A wrapped rest at 55 °C: the 63 °C of Spain are for meals kept hot; the duty remains."""
    readings: Readings = [(0, 5.0), (1, 95.0), (2, 60.0), (3, 55.0)]
    evaluation = run(SPAIN, readings, [note(0, "cook"), note(1, "rest")])
    assert not [f for f in evaluation.findings if f.requirement.endswith("#hot-hold")]
    assert verdict(evaluation, "cold-chain") == "needs_limit"


@pytest.mark.parametrize(
    ("code", "requirement", "expected"),
    [
        # From 60 °C on 1.9 h, from 65 °C on 2.4 h, from the end of the heat 3.9 h.
        (SPAIN, "cool-60-to-10", "met"),
        (DIN, "cool-60-to-10", "met"),
        ("de/din-10506/2018", "cool-65-to-10", "not_met"),
        ("de/din-10536", "cool-90min", "not_met"),
    ],
)
def test_trap10_where_the_clock_of_cooling_starts(
    code: str, requirement: str, expected: str
) -> None:
    readings: Readings = [(0, 95.0), (1.5, 65.0), (2, 60.0), (3.8, 10.1), (3.9, 10.0), (4.5, 4.0)]
    steps = [note(-2, "cook"), note(0, "cool")]
    evaluation = run(code, readings, steps, {"cook_chill_line": "yes"})
    assert verdict(evaluation, requirement) == expected


def test_trap11_the_end_of_cooling_is_not_cold_storage() -> None:
    """Art. 30(6): 10 °C ends the 2 h; the way to 4 °C has no number and is a duty."""
    readings: Readings = [(0, 60.0), (1, 10.0), (2, 10.0), (9, 10.0)]
    evaluation = run(
        SPAIN, readings, [note(-3, "cook"), note(0, "cool"), note(1, "cold_hold")], COOKED
    )
    assert verdict(evaluation, "cool-60-to-10") == "met"
    assert verdict(evaluation, "cool-fast") == "needs_limit"
    assert evaluation.verdict.value == "needs_limit"


def test_trap12_a_large_joint_cannot_keep_two_hours() -> None:
    """60 to 10 °C in 6 h: art. 30(6) knows no other way, also where a process was proved."""
    readings: Readings = [(0, 60.0), (1, 48.0), (3, 28.0), (6, 10.0)]
    log = staged(
        [channel(readings, celsius=True)],
        [note(-3, "cook"), note(0, "cool"), note(6, event="finished")],
        approvals=(PROVED,),
    )
    evaluation = judge(log, code=load_code(SPAIN))
    assert verdict(evaluation, "cool-60-to-10") == "not_met"
    assert evaluation.verdict.value == "not_met"


@pytest.mark.parametrize("code", [DIN, BFR])
def test_trap17_every_point_of_the_food(code: str) -> None:
    """A hot core does not make up for a cold edge, and a hot edge proves no core."""
    for core, edge, expected in ((70.0, 59.9, "not_met"), (59.9, 70.0, "not_met")):
        channels = [
            channel(steady(core), celsius=True),
            channel(steady(edge), place=Place.SURFACE, celsius=True),
        ]
        log = staged(channels, [note(0, "hot_hold"), note(2, event="finished")])
        assert verdict(judge(log, code=load_code(code)), "hot-hold") == expected
    edge_alone = [channel(steady(70.0), place=Place.SURFACE, celsius=True)]
    log = staged(edge_alone, [note(0, "hot_hold"), note(2, event="finished")])
    assert verdict(judge(log, code=load_code(code)), "hot-hold") != "met"


def test_trap18_the_hour_counts_from_the_refrigerator() -> None:
    """Spain: 50 min on the table and 15 min in the oven are too long; Germany has no hour."""
    readings: Readings = [(0, 4.0), (1, 4.0), (1.8, 15.0), (2.0, 60.0), (2.1, 76.0), (2.2, 77.0)]
    steps = [note(0, "cold_hold"), note(1, "prep"), note(1.8, "reheat")]
    evaluation = run(SPAIN, readings, steps)
    assert verdict(evaluation, "reheat-74") == "met"
    assert verdict(evaluation, "reheat-in-1h") == "not_met"
    assert verdict(run("de/din-10536", readings, steps), "regenerate-70") == "met"


@pytest.mark.parametrize(
    ("planned", "value", "expected"),
    [
        ("under_24h", 8.0, "met"),
        # Exactly 24 h is in neither limb: it is told as 24 h and more.
        ("over_24h", 4.0, "met"),
        ("over_24h", 6.0, "not_met"),
        ("unknown", 4.0, "met"),
        ("unknown", 6.0, "not_shown"),
        ("unknown", 8.1, "not_met"),
    ],
)
@pytest.mark.parametrize("code", [SPAIN, SPAIN_OLD])
def test_trap19_the_gap_at_24_hours(code: str, planned: str, value: float, expected: str) -> None:
    """Art. 30(3): more than 24 h 4 °C, less than 24 h 8 °C."""
    facts = {**COOKED, "shelf_life_planned": planned}
    assert said(code, "cold-hold", "cold_hold", steady(value), facts=facts) == expected


def test_trap22_stale_figures_name_what_came_after() -> None:
    """65 °C of Germany and Spain, 60 to 65 °C of Italy."""
    ours = [name for name in code_ids() if name.partition("/")[0] in ("de", "es", "it")]
    heads = {name: load_code(name).head for name in ours}
    assert {name: h.superseded_by for name, h in heads.items() if h.superseded_by} == {
        "de/din-10506/2018": DIN,
        SPAIN_OLD: SPAIN,
        ITALY_OLD: ITALY,
    }
    named = {other for head in heads.values() for other in head.companions}
    assert not named & {"de/din-10506/2018", SPAIN_OLD, ITALY_OLD}


def test_trap22_spain_changed_on_one_day() -> None:
    """RD 1021/2022 came into force the day after the BOE of 21 December 2022."""
    assert in_force("es", None, date(2022, 12, 21)).code == SPAIN_OLD
    assert in_force("es", None, date(2022, 12, 22)).code == SPAIN
    with pytest.raises(RuleError, match="on 2005-12-31"):
        in_force("es", None, date(2005, 12, 31))


@pytest.mark.parametrize(
    ("code", "requirement", "stage", "value"),
    [
        (DIN, "hot-hold", "hot_hold", 50.0),
        (BFR, "hot-hold", "hot_hold", 50.0),
        (BFR, "critical-band", "hot_hold", 50.0),
        ("de/din-10508", "cold-hold", "cold_hold", 15.0),
        ("de/din-10536", "regenerate-70", "reheat", 50.0),
    ],
)
def test_trap23_standards_break_no_law(
    code: str, requirement: str, stage: str, value: float
) -> None:
    evaluation = run(code, steady(value), [note(0, stage)])
    assert verdict(evaluation, requirement) == "not_met"
    assert evaluation.verdict.value != "not_met"


@pytest.mark.parametrize(
    ("people", "expected"), [("41", "not_met"), ("40", "not_applicable"), (None, "not_applicable")]
)
def test_trap24_samples_for_more_than_40(people: str | None, expected: str) -> None:
    """Art. 30(8)(e): more than 40 people; an event caterer by (d) whatever the number."""
    facts = {"sample_kept": "no"} | ({} if people is None else {"people": people})
    assert said(SPAIN, "sample-group", "serve", steady(70.0), facts=facts) == expected
    for business, other in (("caterer", "not_met"), ("restaurant", "not_applicable")):
        got = said(SPAIN, "sample-events", "serve", steady(70.0), facts=facts, business=business)
        assert got == other


def test_each_country_has_its_text() -> None:
    codes = [in_force(place, None, TODAY).code for place in ("de", "es", "it")]
    assert codes == ["de/852-2004", SPAIN, ITALY]
