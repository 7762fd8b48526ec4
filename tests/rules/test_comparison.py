"""Codes beside each other: rows, what is strictest, and what an empty cell says.

The codes here are invented, with round figures; only the last tests look at shipped ones.
"""

from __future__ import annotations

from typing import Any

import pytest

from tempwitness.model.vocabulary import Topic
from tempwitness.rulebook.comparison.figures import hotter, leading
from tempwitness.rulebook.comparison.spaces import box_of, box_words, joined, parts
from tempwitness.rulebook.comparison.strictest import strictest
from tempwitness.rulebook.comparison.tables import Row, tables
from tempwitness.rulebook.comparison.wording import aside, cell_lines, strictest_words
from tempwitness.rulebook.raw import raw_code

Table = dict[str, Any]


def asks(name: str, test: Table, stages: tuple[str, ...] = ("hot_hold",), **more: object) -> Table:
    return {
        "id": name,
        "title": f"Rule {name}",
        "section": f"s. {name}",
        "weight": "law",
        "confirmed": "text",
        "stages": list(stages),
        "test": test,
        **more,
    }


def code(name: str, *requirements: Table, **head: object) -> Table:
    return {
        "head": {"id": name, "title": name, "edition": "1", **head},
        "requirements": list(requirements),
    }


def least(f: int, c: int, op: str = ">=") -> Table:
    return {"form": "throughout", "limit": {"f": f, "c": c, "op": op}}


def reach(*rows: tuple[int, str]) -> Table:
    return {"form": "reach", "rows": [{"c": c, "hold": hold} for c, hold in rows]}


def fall(start: int, to: int, within: str, **more: object) -> Table:
    return {
        "form": "fall",
        "start": {"c": start, "op": ">="},
        "to": {"c": to, "op": "<="},
        "within": within,
        **more,
    }


def rows(*codes: Table) -> list[Row]:
    return [row for table in tables(codes) for row in table.rows]


def test_one_limit_in_two_codes_is_one_row() -> None:
    (row,) = rows(code("a", asks("x", least(100, 38))), code("b", asks("y", least(110, 43))))
    assert row.label() == "hot hold: least temperature"
    assert cell_lines(row.cells["a"]) == ["at least 100 °F (38 °C) [s. x]"]
    assert row.strictest == ("b",)
    assert strictest_words(row) == "strictest: b"


def test_the_scale_in_which_the_country_reckons_leads() -> None:
    one = code("a", asks("x", least(100, 38)), unit="C")
    (row,) = rows(one, code("b", asks("y", least(100, 38))))
    assert row.cells["a"].entries[0].limit == "at least 38 °C (100 °F)"
    assert row.cells["b"].entries[0].limit == "at least 100 °F (38 °C)"
    assert strictest_words(row) == "all alike"


def test_foods_are_cut_where_either_code_draws_a_line() -> None:
    one = code(
        "a",
        asks("red", reach((60, "0 s")), ("cook",), when={"species": ["beef", "lamb"]}),
        asks("bird", reach((70, "0 s")), ("cook",), when={"species": ["chicken"]}),
    )
    other = code("b", asks("lamb", reach((65, "0 s")), ("cook",), when={"species": ["lamb"]}))
    found = {row.foods: (row.found_in, row.strictest) for row in rows(one, other)}
    assert found == {
        "beef": (("a",), None),
        "lamb": (("a", "b"), ("b",)),
        "chicken": (("a",), None),
    }


def test_what_all_say_of_several_foods_is_one_row() -> None:
    one = code("a", asks("all", reach((60, "0 s")), ("cook",)))
    other = code(
        "b",
        asks("beef", reach((60, "0 s")), ("cook",), section="s. 1", when={"species": ["beef"]}),
        asks("lamb", reach((60, "0 s")), ("cook",), section="s. 1", when={"species": ["lamb"]}),
    )
    assert {row.foods for row in rows(one, other)} == {"beef or lamb", "not beef or lamb"}


def test_a_condition_is_a_row_of_its_own_and_points_to_the_ordinary_case() -> None:
    one = code("a", asks("x", least(100, 38)))
    special = asks("y", least(110, 43), when={"business": ["caterer"]})
    ordinary, caterer = rows(one, code("b", special))
    assert ordinary.cells["b"].elsewhere == "special"
    assert caterer.case == ("business: caterer",)
    assert cell_lines(caterer.cells["a"]) == ["nothing of its own found; see the ordinary case"]
    assert caterer.strictest is None


def test_what_is_taken_out_of_the_ordinary_case_is_not_pointed_to() -> None:
    test = reach((60, "0 s"))
    one = code("a", asks("x", test, ("cook",), when={"method_not": ["microwave"]}))
    other = code("b", asks("y", test, ("cook",), when={"method": ["microwave"]}))
    (row,) = (row for row in rows(one, other) if row.case)
    assert cell_lines(row.cells["a"]) == ["nothing found"]


def test_what_is_said_in_another_form_is_pointed_to() -> None:
    band = {
        "form": "outside_band",
        "cold": {"c": 5, "op": "<="},
        "hot": {"c": 60, "op": ">="},
    }
    found = rows(code("a", asks("x", least(100, 38))), code("b", asks("y", band)))
    assert {row.cells[name].elsewhere for row in found for name in ("a", "b")} == {"", "form"}


def test_parts_of_a_cooling_are_told_apart_by_where_they_begin_and_end() -> None:
    one = code(
        "a",
        asks("first", fall(60, 20, "2 h"), ("cool",)),
        asks("all", fall(60, 5, "6 h"), ("cool",)),
    )
    other = code(
        "b",
        asks("first", fall(55, 20, "2 h"), ("cool",)),
        asks("last", fall(20, 5, "4 h"), ("cool",)),
    )
    found = {row.kind: (row.found_in, row.strictest) for row in rows(one, other)}
    assert found == {
        "the whole cooling": (("a",), None),
        "first part of the cooling": (("a", "b"), ("a",)),
        "last part of the cooling": (("b",), None),
    }


def test_what_is_not_law_not_confirmed_or_not_certain_is_marked() -> None:
    advice = asks(
        "x",
        least(100, 38),
        weight="guidance",
        confirmed="memory",
        effect="target",
        term="warm",
        ask_instead=True,
    )
    (row,) = rows(code("a", advice), code("b", asks("y", least(90, 32), confirmed="second-hand")))
    assert cell_lines(row.cells["a"]) == [
        "at least 100 °F (38 °C) [s. x; guidance; target; “warm”; ask]**"
    ]
    assert cell_lines(row.cells["b"]) == ["at least 90 °F (32 °C) [s. y]*"]
    assert row.strictest is None


def test_a_long_ladder_is_written_by_its_ends_and_other_ways_are_counted() -> None:
    ladder = reach(*((60 + n, f"{9 - n} min") for n in range(5)))
    others = [
        {"id": f"o{n}", "title": f"Way {n}", "section": "s", "test": {"form": "conditions"}}
        for n in range(4)
    ]
    (row,) = rows(code("a", asks("x", ladder, ("cook",), alternatives=others)))
    assert cell_lines(row.cells["a"]) == [
        "any of 5 rows, from 60 °C for 9 min to 64 °C for 5 min [s. x]",
        "or way 0",
        "or way 1",
        "or 2 other ways",
    ]


def test_another_way_stands_only_beside_the_food_that_it_is_for() -> None:
    way = {
        "id": "o",
        "title": "Rare beef",
        "section": "s",
        "when": {"species": ["beef"]},
        "test": {"form": "conditions"},
    }
    found = rows(
        code("a", asks("x", reach((60, "0 s")), ("cook",), alternatives=[way])),
        code("b", asks("y", reach((60, "0 s")), ("cook",), when={"species": ["beef"]})),
    )
    assert {row.foods: cell_lines(row.cells["a"])[1:] for row in found} == {
        "beef": ["or rare beef"],
        "not beef": [],
    }


@pytest.mark.parametrize(
    ("one", "other", "best"),
    [
        (least(100, 38), least(100, 38, ">"), ("b",)),
        (least(100, 38), least(100, 38, "<="), None),
        (least(100, 39), least(101, 38), None),
        (least(100, 38), reach((60, "0 s")), None),
        (reach((60, "1 min")), reach((60, "0 s")), ("a",)),
        (reach((60, "1 min")), reach((61, "0 s")), None),
        (reach((60, "2 min"), (61, "1 min")), reach((60, "1 min")), ("a",)),
        (fall(60, 5, "6 h"), fall(55, 5, "6 h"), ("a",)),
        (fall(60, 5, "6 h"), fall(55, 5, "5 h"), None),
        (fall(60, 5, "6 h"), fall(60, 5, "6 h", op="<"), ("b",)),
        (fall(60, 5, "6 h"), fall(60, 5, "6 h", clock="stage"), None),
        ({"form": "shelf_life", "days": 3}, {"form": "shelf_life", "days": 7}, ("a",)),
        ({"form": "longest", "at_most": "2 h"}, {"form": "longest", "at_most": "90 min"}, ("b",)),
        ({"form": "duty", "question": "?"}, {"form": "duty", "question": "!"}, None),
        (
            {"form": "instrument", "reads": "food", "c": 1},
            {"form": "instrument", "reads": "food", "f": 2},
            None,
        ),
        (
            {"form": "instrument", "reads": "food", "c": 1, "f": 2},
            {"form": "instrument", "reads": "food", "f": 3},
            ("a",),
        ),
        ({"form": "monitoring", "every": "2 h"}, {"form": "monitoring", "every": "4 h"}, ("a",)),
        ({"form": "monitoring", "per_day": 2}, {"form": "monitoring", "at_least": 1}, None),
        (
            {"form": "count", "of": ["reheat"], "at_most": 1},
            {"form": "count", "of": ["cool"], "at_most": 1},
            None,
        ),
    ],
)
def test_strictest(one: Table, other: Table, best: tuple[str, ...] | None) -> None:
    assert strictest({"a": one, "b": other}) == best


def test_a_wider_band_of_the_clock_is_the_stricter() -> None:
    def clock(low: int, high: int) -> Table:
        edges = {"low": {"c": low, "op": ">"}, "high": {"c": high, "op": "<"}}
        return {"form": "band_clock", "at_most": "4 h", **edges}

    assert strictest({"a": clock(5, 60), "b": clock(7, 57)}) == ("a",)
    assert strictest({"a": clock(5, 57), "b": clock(7, 60)}) is None


def test_figures_in_different_units_are_alike_within_rounding() -> None:
    # 165 °F is 73.9 °C; 140 °F is 60 °C.
    assert hotter({"f": 165}, {"c": 74}) == 0
    assert hotter({"f": 140}, {"c": 63}) == -1


def test_only_a_figure_in_both_scales_is_turned_round() -> None:
    assert leading("at most 45 °F or at least 135 °F (57 °C)", "C") == (
        "at most 45 °F or at least 57 °C (135 °F)"
    )


def test_words_of_foods() -> None:
    box = box_of({"stages": ["cook"], "when": {"form_not": ["stuffed"], "cut": ["roast", "ribs"]}})
    assert box_words([box]) == ("cook", "not stuffed; roast or ribs")
    assert box_words([box_of({})]) == ("", "")


def test_parts_cover_the_boxes_and_nothing_else() -> None:
    one = box_of({"stages": ["cook"], "when": {"species": ["beef", "lamb"]}})
    other = box_of({"stages": ["cook", "reheat"], "when": {"species": ["lamb", "pork"]}})
    found = parts([one, other])
    assert {mask: len(boxes) for mask, boxes in found.items()} == {1: 1, 2: 2, 3: 1}
    assert joined([*found[1], *found[3]]) == [one]


def test_what_one_code_says_under_conditions_is_set_aside() -> None:
    one = code(
        "a",
        asks("x", least(100, 38)),
        asks("y", least(110, 43), when={"business": ["caterer"]}),
    )
    (table,) = tables([one, code("b")])
    shown, left = aside(table)
    assert [row.case for row in shown] == [()]
    assert [row.case for row in left] == [("business: caterer",)]


def test_only_the_topics_asked_for() -> None:
    codes = [raw_code("us/food-code/2022"), raw_code("us/ny/14-1")]
    assert [table.topic for table in tables(codes, [Topic.COLD, Topic.HOT])] == [
        Topic.HOT,
        Topic.COLD,
    ]


def test_new_york_holds_hotter_and_cools_from_lower() -> None:
    # 3-501.16(A)(1): 135 °F. 10 NYCRR 14-1.40(a): 140 °F; (b): from 120 °F. 3-501.14: from 135 °F.
    codes = [raw_code("us/food-code/2022"), raw_code("us/ny/14-1")]
    hot, cooling = tables(codes, [Topic.HOT, Topic.COOLING])
    assert hot.rows[0].strictest == ("us/ny/14-1",)
    assert cooling.rows[0].kind == "the whole cooling"
    assert cooling.rows[0].strictest == ("us/food-code/2022",)
