"""Every number of the shipped Food Code against a table typed from the state texts.

``food_code_2022.csv`` was typed from the sections named in its last column, not from the rule
files; each number must stand in both, and none may stand in one alone.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tempwitness.model.rule import Alternative, Requirement
from tempwitness.rulebook.load import load_code

Number = tuple[str, str, str, str, str, float | None]

TABLE = Path(__file__).parent / "food_code_2022.csv"
SECONDS = {"s": 1.0, "min": 60.0, "h": 3600.0, "d": 86400.0}
#: 3-403.11(E) sends the unsliced roast to the ladder of 3-401.11(B).
LADDERS = ("reheat-roast-unsliced", "reheat-roast-unsliced-time")


def seconds(text: str) -> float | None:
    if not text:
        return None
    number, unit = text.split()
    return float(number) * SECONDS[unit]


def typed() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def plain(figure: object) -> str:
    return f"{float(str(figure)):g}"


def from_table() -> set[Number]:
    return {
        (
            row["requirement"],
            row["what"],
            row["op"],
            plain(row["f"]) if row["f"] else "",
            plain(row["c"]) if row["c"] else "",
            seconds(row["time"]),
        )
        for row in typed()
    }


def with_tests() -> Iterator[tuple[str, str, dict[str, Any], dict[str, Any]]]:
    """Yield id, section, test and predicate of each requirement and alternative."""
    for requirement in load_code("us/food-code/2022").requirements:
        written: list[Requirement | Alternative] = [requirement, *requirement.alternatives]
        for one in written:
            when = one.when.model_dump(exclude_none=True)
            yield one.id, one.section, one.test.model_dump(exclude_none=True), when


def numbers_of(name: str, test: dict[str, Any], when: dict[str, Any]) -> Iterator[Number]:
    own_time = test.get("within", test.get("at_most"))
    timed = test["form"] in ("band_clock", "fall", "rise")
    for key in ("limit", "cold", "hot", "start", "to", "low", "high", "ceiling"):
        values = test.get(key, ())
        for limit in values if isinstance(values, tuple) else (values,):
            time = own_time if timed and key in ("to", "low", "high") else None
            yield name, key, limit["op"], plain(limit["f"]), plain(limit["c"]), time
    for row in test.get("rows", ()):
        yield name, "row", "", plain(row["f"]), plain(row["c"]), row["hold"]
    if test["form"] in ("longest", "time_control"):
        yield name, "at_most", "", "", "", own_time
    if test.get("hold"):
        yield name, "hold", "", "", "", test["hold"]
    if test["form"] == "shelf_life":
        yield name, "days", "", "", "", test["days"] * SECONDS["d"]
        yield name, "mark_after", "", "", "", test["mark_after"]
    if test["form"] == "instrument":
        yield name, "tolerance", "", plain(test["f"]), plain(test["c"]), None
    for key in ("weight_below", "weight_at_least"):
        if key in when:
            yield name, key, "", plain(when[key]["lb"]), plain(when[key]["kg"]), None


def from_rules() -> set[Number]:
    return {
        number
        for name, _, test, when in with_tests()
        if name not in LADDERS
        for number in numbers_of(name, test, when)
    }


def test_no_number_differs_and_none_is_missing() -> None:
    assert from_rules() - from_table() == set(), "in the rule files, not in the table"
    assert from_table() - from_rules() == set(), "in the table, not in the rule files"


def test_sections_agree() -> None:
    written = {name: section for name, section, _, _ in with_tests()}
    for row in typed():
        assert written[row["requirement"]] == row["section"], row["requirement"]


@pytest.mark.parametrize("name", LADDERS)
def test_the_unsliced_roast_takes_the_whole_ladder(name: str) -> None:
    ladders = {n: test["rows"] for n, _, test, _ in with_tests() if "rows" in test}
    assert len(ladders["cook-roast"]) == 17  # Table 3-2 has seventeen rows
    assert ladders[name] == ladders["cook-roast"]


def test_what_was_not_read_is_not_called_confirmed() -> None:
    # The 48 h of 3-502.12(F), the marks of 3-501.19(C)(3) and the roads of 3-502.12(D) were seen
    # in accounts only, or not at all.
    code = load_code("us/food-code/2022")
    for name in ("tphc-marked-6h", "cook-heat-lost", "highly-susceptible"):
        requirement = code.find(name)
        assert requirement is not None
        assert requirement.confirmed == "memory"
    for requirement in code.requirements:
        if requirement.id.startswith("rop-chill-"):
            assert requirement.confirmed == "second-hand"


def test_only_roasts_of_b_may_be_held_at_130() -> None:
    # 3-501.16(A)(1): roasts cooked as 3-401.11(B) says; poultry, pulled and injected meat are not.
    hold = load_code("us/food-code/2022").find("hot-hold")
    assert hold is not None
    (roast,) = hold.alternatives
    assert roast.requires == ("cook-roast",)
    assert not {"chicken", "turkey", "duck", "fish"} & {s.value for s in roast.when.species}
    assert [f.value for f in roast.when.form] == ["intact"]
    assert {"sliced", "shredded", "portioned"} == {e.value for e in roast.when.events_not}


def test_the_oven_table_asks_and_does_not_condemn() -> None:
    # A pit at 225 °F runs below Table 3-3 for every roast; that the ladder was kept decides.
    ovens = [
        r
        for r in load_code("us/food-code/2022").requirements
        if r.id.startswith("cook-roast-oven-")
    ]
    assert len(ovens) == 4
    assert all(r.ask_instead and r.question for r in ovens)


def test_cooking_is_judged_before_holding() -> None:
    order = [r.id for r in load_code("us/food-code/2022").requirements]
    assert order.index("cook-roast") < order.index("hot-hold")
    for name in ("cook-poultry-stuffed", "cook-roast", "cook-microwave"):
        assert order.index(name) < order.index("nc-first-heating")
