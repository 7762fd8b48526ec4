"""How findings make one verdict: order, weight, pieces, points, and the words around them."""

from __future__ import annotations

import itertools

import pytest

from tempwitness.evaluate import Asking, evaluate
from tempwitness.model.finding import Evaluation
from tempwitness.model.logs import StagedLog
from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.model.rule import Requirement
from tempwitness.model.vocabulary import Place
from tempwitness.stages import monitoring_intervals
from tempwitness.units import Unit
from tests.evaluate.codes import COLD, HOT, REACH, code, judged, rule, verdicts
from tests.support import LATER, ZERO, Readings, channel, note, staged

#: One requirement for each answer, all asked of the same running hold (see `running`).
RULES: dict[str, Requirement] = {
    "not_met": rule("a", COLD),
    "not_shown": rule("b", {"form": "duty", "question": "Is it so?"}),
    "open": rule("c", {"form": "longest", "at_most": "9 h"}),
    "needs_limit": rule("d", {"form": "duty", "question": "Which?", "otherwise": "needs_limit"}),
    "met": rule("e", {"form": "method", "allowed": ["box"]}),
    "not_applicable": rule("f", HOT, when={"species": ["fish"]}),
}
#: Worst first, as the project's design has it.
ORDER = list(RULES)


def running() -> StagedLog:
    """A hold that began at 0:00 and was last read at 2:00."""
    return staged([channel([(0, 120), (2, 120)])], [note(0, "hot_hold", method="box")])


def held(readings: Readings, probe: str = "") -> StagedLog:
    """A hold of four hours that is over."""
    one = channel(readings, probe=probe)
    return staged([one], [note(0, "hot_hold"), note(4, event="finished")])


@pytest.mark.parametrize("answer", ORDER)
def test_one_requirement_for_each_answer(answer: str) -> None:
    found = judged(running(), RULES[answer], asked=ZERO + 3 * 3600)
    assert [f.verdict.value for f in found.findings] == [answer]


@pytest.mark.parametrize("pair", list(itertools.combinations(ORDER[:5], 2)))
def test_the_worse_of_two_decides_in_either_order(pair: tuple[str, str]) -> None:
    for first, second in (pair, pair[::-1]):
        found = judged(running(), RULES[first], RULES[second], asked=ZERO + 3 * 3600)
        assert found.verdict.value == pair[0]


def test_nothing_that_applies_is_not_shown() -> None:
    found = judged(running(), RULES["not_applicable"])
    assert found.verdict.value == "not_shown"
    assert found.headline == "Nothing in this record could be judged under this code."
    assert found.do_now == ()


@pytest.mark.parametrize(("read", "expected"), [(32.0, "not_shown"), (40.0, "not_met")])
def test_a_thermometer_alone_proves_nothing_of_the_food(read: float, expected: str) -> None:
    """Nothing was read of the food: a good check is no answer, one 8 °F off is a break."""
    pen = Probe("P", checks=(ProbeCheck(ZERO, "ice", read, 32.0, Unit.F, ""),))
    true = rule("a", {"form": "instrument", "reads": "food", "f": 2, "c": 1}, stages=[])
    log = staged([], [note(0, event="remark")], probes=[pen])
    found = judged(log, true)
    assert found.verdict.value == expected
    assert ("Nothing of the food" in found.headline) == (expected == "not_shown")


@pytest.mark.parametrize("weight", ["guidance", "standard", "plant", "practice", "house"])
def test_only_law_binds(weight: str) -> None:
    found = judged(held([(0, 120), (4, 120)]), rule("a", HOT), rule("b", COLD, weight=weight))
    assert found.verdict.value == "met"
    assert [f.requirement for f in found.advice] == ["own/test#b"]
    assert found.advice[0].verdict.value == "not_met"
    assert found.headline.endswith("shown to be met.")


def test_a_code_beside_decides_nothing() -> None:
    log = held([(0, 120), (4, 120)])
    found = evaluate(
        log,
        code(rule("a", HOT)),
        intervals=monitoring_intervals(),
        asking=Asking(LATER),
        beside=[code(rule("b", COLD), name="own/other")],
    )
    assert found.verdict.value == "met"
    assert [f.verdict.value for f in found.compared] == ["not_met"]
    assert found.do_now == ()


def pieces(*lasts: float) -> Evaluation:
    """Several pieces in one hold, each read at its start and at its end."""
    names = [str(n) for n in range(1, len(lasts) + 1)]
    each = [channel([(0, 120), (3, v), (4, v)], piece=n) for n, v in zip(names, lasts, strict=True)]
    steps = [note(0, "hot_hold"), note(4, "serve")]
    act = {"on": ["not_met"], "do": "Discard it."}
    return judged(staged(each, steps, pieces=names), rule("a", HOT, actions=[act]))


def test_the_worst_piece_decides() -> None:
    assert pieces(120, 110).verdict.value == "met"
    found = pieces(120, 90, 110)
    assert found.verdict.value == "not_met"
    assert [f.piece for f in found.findings if f.verdict.value == "not_met"] == ["2"]
    assert "piece 2" in found.headline
    assert [a.do for a in found.do_now] == ["Piece 2: Discard it."]


def test_a_piece_of_which_nothing_is_recorded_is_not_shown() -> None:
    one = channel([(0, 120), (4, 120)], piece="1")
    steps = [note(0, "hot_hold", piece="1"), note(4, event="finished", piece="1")]
    found = judged(staged([one], steps, pieces=["1", "2"]), rule("a", HOT))
    assert found.verdict.value == "not_shown"
    assert [f.verdict.value for f in found.binding if f.piece == "2"] == ["not_shown"]


def two_points(first: Readings, second: Readings, place: Place = Place.CORE) -> Evaluation:
    points = [channel(first, point="A"), channel(second, point="B", place=place)]
    log = staged(points, [note(0, "hot_hold"), note(4, event="finished")])
    return judged(log, rule("a", HOT), rule("b", REACH))


GOOD: Readings = [(0, 160), (4, 160)]


def test_the_worst_point_decides() -> None:
    assert verdicts(two_points(GOOD, GOOD)) == {"a": "met", "b": "met"}
    # The second point broke the limit; it was never read at 150 °F, and never could have been.
    assert verdicts(two_points(GOOD, [(0, 120), (4, 90)])) == {"a": "not_met", "b": "not_met"}
    assert verdicts(two_points(GOOD, [(0, 160)])) == {"a": "not_shown", "b": "met"}
    assert verdicts(two_points([(0, 120)], GOOD)) == {"a": "not_shown", "b": "not_shown"}


def test_the_outside_of_the_food_can_break_and_never_prove() -> None:
    surface = Place.SURFACE
    assert verdicts(two_points(GOOD, GOOD, surface)) == {"a": "met", "b": "met"}
    cold_outside = two_points(GOOD, [(0, 120), (4, 90)], surface)
    assert verdicts(cold_outside) == {"a": "not_met", "b": "met"}
    only = staged([channel(GOOD, place=surface)], [note(0, "hot_hold"), note(4, event="finished")])
    assert verdicts(judged(only, rule("a", HOT), rule("b", REACH))) == {
        "a": "not_shown",
        "b": "not_shown",
    }


def test_air_proves_what_is_said_of_air_and_nothing_of_food() -> None:
    air = staged([channel(GOOD, place=Place.AIR)], [note(0, "hot_hold"), note(4, event="finished")])
    found = judged(air, rule("food", HOT), rule("air", HOT, point="air"))
    assert verdicts(found) == {"food": "not_shown", "air": "met"}


def test_a_first_air_reading_at_the_end_belongs_to_the_next_stage() -> None:
    air = channel([(2, 90), (4, 90)], place=Place.AIR)
    steps = [note(0, "hot_hold"), note(2, "cool"), note(4, event="finished")]
    found = judged(staged([air], steps), rule("a", HOT, point="air"))
    assert found.findings[0].measured == "nothing was read"


@pytest.mark.parametrize(
    ("accuracy", "unit", "said"),
    [
        # The lowest reading stands 1 °F from the limit. U = 2 √(a²/3 + q²/12) with q = 0.1 °F
        # (JCGM 100:2008, 4.3.7 and F.2.2.1): 1.16 for 1 °F, 0.93 for 0.8 °F, 1.04 for 0.5 °C =
        # 0.9 °F, 0.83 for 0.4 °C = 0.72 °F, 2.31 for the 2 °F that is assumed where none is stated.
        (1.0, Unit.F, True),
        (0.8, Unit.F, False),
        (0.5, Unit.C, True),
        (0.4, Unit.C, False),
        (None, Unit.F, True),
    ],
)
def test_a_verdict_within_the_probes_own_doubt_says_so(
    accuracy: float | None, unit: Unit, said: bool
) -> None:
    core = channel([(0, 120), (4, 101)], probe="P")
    steps = [note(0, "hot_hold"), note(4, event="finished")]
    probe = Probe("P", accuracy=accuracy, accuracy_unit=unit, resolution=0.1)
    doubt = judged(staged([core], steps, probes=[probe]), rule("a", HOT)).findings[0].evidence.doubt
    assert doubt.startswith("the reading stands 1 °F from the limit") == said


def test_an_unchecked_thermometer_is_said_to_be_unsettled() -> None:
    found = judged(held([(0, 120), (4, 120)], probe="P"), rule("a", HOT))
    assert "no check of probe P is on record: how true it reads is not known" in found.unsettled


def test_the_moment_of_asking_stands_only_where_it_matters() -> None:
    asked = ZERO + 3 * 3600
    assert judged(running(), RULES["open"], asked=asked).asked_at == "2026-07-04T08:00:00+00:00"
    assert judged(running(), RULES["not_met"], asked=asked).asked_at is None


def test_a_finding_says_what_it_rests_on() -> None:
    found = judged(held([(0, 120), (2, 99), (4, 120)], probe="P"), rule("a", HOT)).findings[0]
    assert found.citation == "Own code 1, § a"
    assert (found.stage, found.stage_number, found.piece) == ("hot_hold", 1, "1")
    assert found.stage_start == "2026-07-04T05:00:00+00:00"
    assert found.stage_end == "2026-07-04T09:00:00+00:00"
    (cited,) = found.evidence.readings
    assert (cited.reading, cited.at) == ("99 °F", "2026-07-04T07:00:00+00:00")
    assert (cited.source, cited.line, cited.probe) == ("test", 3, "P")
