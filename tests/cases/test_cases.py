"""Situations from the field, paraphrased, with the judgement that their code review gave.

The numbers are the reports' own; wording, names and places are ours. Each case carries a neutral
id. A case marked with + adds the reading that the report lacked.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tempwitness.model.finding import Evaluation, Finding
from tempwitness.model.logs import Channel, Note
from tempwitness.model.lot import Food, Probe, ProbeCheck, TimeControlPlan, Weighed
from tempwitness.model.vocabulary import Answer, Cut, Event, Form, Place, Species
from tempwitness.rulebook.load import load_code
from tempwitness.units import Unit
from tests.support import FOOD_CODE, LATER, ZERO, channel, judge, note, prepared_on, staged

HERE = Path(__file__).parent
DIFFERENCES = HERE.parents[1] / "docs" / "decisions" / "0010-cases-where-we-differ.md"

#: What a report's judgement means among our verdicts.
MEANS = {
    "compliant": {"met"},
    "compliant so far": {"open", "met"},
    "violated": {"not_met"},
    "cannot be shown": {"not_shown"},
}
FOODS = {
    "lamb": (Species.LAMB, Cut.ROAST),
    "brisket": (Species.BEEF, Cut.ROAST),
    "ribs": (Species.BEEF, Cut.RIBS),
    "gravy": (Species.BEEF, Cut.PAN),
    "sausage": (Species.PORK, Cut.SAUSAGE),
    "turkey": (Species.TURKEY, Cut.WHOLE_BIRD),
    "chicken": (Species.CHICKEN, Cut.WHOLE_BIRD),
    "beans": (Species.PLANT, Cut.PAN),
}
EVENTS = {e.value for e in Event}

Case = dict[str, Any]


def cases() -> list[Case]:
    files = sorted(HERE.glob("*.toml"))
    return [c for file in files for c in tomllib.loads(file.read_text(encoding="utf-8"))["case"]]


JUDGED = [(case, entry) for case in cases() for entry in case["judged"]]


def food(words: str) -> Food:
    """Read "injected lamb 9 lb" as a food."""
    injected = words.startswith("injected ")
    name, *weight = words.removeprefix("injected ").split()
    species, cut = FOODS[name]
    form = Form.INJECTED if injected else Form.GROUND if cut is Cut.SAUSAGE else Form.INTACT
    weighed = Weighed(float(weight[0]), "lb") if weight else None
    return Food(name, species, frozenset({form}), cut, weighed)


def step(entry: list[Any]) -> Note:
    hours, word = entry[:2]
    if word in EVENTS:
        return note(hours, event=word)
    return note(hours, word, method=entry[2] if len(entry) > 2 else "")


def channels(case: Case) -> list[Channel]:
    found = []
    if case["readings"]:
        found.append(channel([tuple(r) for r in case["readings"]], probe="a"))
    if "air" in case:
        found.append(channel([tuple(r) for r in case["air"]], place=Place.AIR))
    return found


def probes(case: Case) -> list[Probe]:
    accuracy = case.get("probe_accuracy")
    checks: tuple[ProbeCheck, ...] = ()
    if "probe_check" in case:
        read, expected = case["probe_check"]
        checks = (ProbeCheck(ZERO + 3 * 3600, "reference", read, expected, Unit.F, "reference"),)
    return [Probe("a", accuracy=accuracy, checks=checks)] if accuracy or checks else []


def evaluation(case: Case, code: str = FOOD_CODE) -> Evaluation:
    plans = []
    if "time_control" in case:
        written = prepared_on("2026-07-01")
        plans.append(TimeControlPlan(ZERO, case["time_control"], written, Answer.YES))
    log = staged(
        channels(case),
        [step(s) for s in case["steps"]],
        food=food(case["food"]),
        facts=case.get("facts"),
        probes=probes(case),
        time_control=plans,
    )
    asked = ZERO + case["asked"] * 3600.0 if "asked" in case else LATER
    return judge(log, asked=asked, code=load_code(code))


def applying(result: Evaluation, entry: Case) -> Finding:
    """The finding of a requirement that applies, at the stage named by its number if several do."""
    matching = [
        f
        for f in result.findings
        if f.requirement.endswith(f"#{entry['requirement']}")
        and f.verdict.value != "not_applicable"
        and entry.get("stage", f.stage_number) == f.stage_number
    ]
    assert len(matching) == 1, [(f.stage_number, f.verdict.value) for f in matching]
    return matching[0]


@pytest.mark.parametrize(
    ("case", "entry"), JUDGED, ids=[f"{c['id']} {e['requirement']}" for c, e in JUDGED]
)
def test_verdict(case: Case, entry: Case) -> None:
    result = evaluation(case, entry.get("code", FOOD_CODE))
    expected = {entry["ours"]} if "ours" in entry else MEANS[entry["source"]]
    assert applying(result, entry).verdict.value in expected
    if entry["source"] == "compliant so far":
        assert not [f.title for f in result.binding if f.verdict.value == "not_met"]


def test_every_difference_is_argued() -> None:
    """A verdict of ours that differs has its paragraph, and no paragraph is left over."""
    differ = {c["id"] for c, e in JUDGED if "ours" in e}
    assert all(e["ours"] not in MEANS[e["source"]] for _, e in JUDGED if "ours" in e)
    argued = re.findall(r"^## (\S+)", DIFFERENCES.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(argued) == sorted(differ)


def test_ids_stand_once() -> None:
    ids = [c["id"] for c in cases()]
    assert len(ids) == len(set(ids))
    assert len(ids) > 50


def case_of(number: str) -> Case:
    return next(c for c in cases() if c["id"] == number)


def test_s1_what_the_gap_leaves_open_is_how_long() -> None:
    """146 °F at 4 h, 132 °F at 6 h: below 135 °F for at most 2 h, so it may be saved until 8 h.

    The four hours in which a reheat still saves food count from the earliest moment at which it
    may have been too cool; they are common practice, no code prints them.
    """
    line = applying(evaluation(case_of("S1")), {"requirement": "hot-hold"})
    assert line.evidence.most_s == 2 * 3600
    assert line.action is not None
    assert line.action.do.startswith("Reheat")
    assert line.action.by == "2026-07-04T13:00:00+00:00"  # 0:00 is 05:00 UTC


def test_c57_a_habit_of_the_trade_condemns_nothing() -> None:
    result = evaluation(case_of("C57"), "trade/smoking")
    assert not result.binding
