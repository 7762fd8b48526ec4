"""A ladder is written once; others name it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tempwitness.errors import RuleError
from tempwitness.model.forms import Reach
from tempwitness.model.rule import Code
from tempwitness.rulebook.load import load_code, load_code_folder

_HEAD = """
order = ["cook"]
[head]
id = "x/y"
title = "A code"
edition = "1"
issuer = "nobody"
authority = "The authority decides."
"""
_COOK = """
[[requirement]]
id = "ladder"
title = "By the ladder"
section = "1"
weight = "law"
stages = ["cook"]
confirmed = "memory"
source = ["own-reading"]
test = { form = "reach", rows = [{ f = 140, c = 60, hold = "12 min" }] }

[[requirement]]
id = "other"
title = "By the same ladder"
section = "2"
weight = "law"
stages = ["reheat"]
confirmed = "memory"
source = ["own-reading"]
test = { form = "reach", rows_of = "NAMED" }
"""


def _code(folder: Path, named: str) -> Path:
    (folder / "code.toml").write_text(_HEAD, encoding="utf-8")
    (folder / "cook.toml").write_text(_COOK.replace("NAMED", named), encoding="utf-8")
    return folder


def test_a_ladder_that_is_named_gives_its_rows(tmp_path: Path) -> None:
    code = load_code_folder("x/y", _code(tmp_path, "ladder"))
    own, other = (r.test.model_dump()["rows"] for r in code.requirements)
    assert other == own
    assert len(own) == 1


def test_a_ladder_that_nobody_has_is_refused(tmp_path: Path) -> None:
    with pytest.raises(RuleError, match="rows_of"):
        load_code_folder("x/y", _code(tmp_path, "laddder"))


_STATE = """
order = ["cooking"]
[head]
id = "test/state"
title = "State rule"
edition = "2024"
issuer = "nobody"
authority = "The authority decides."
[head.base]
id = "us/food-code/2022"
WITHOUT
"""
_OWN_LADDER = """
[[amend]]
id = "cook-roast"
[amend.test]
rows = [{ f = 145, c = 63, hold = "4 min" }]
"""
_ALTERNATIVES = ("reheat-roast-unsliced", "reheat-roast-unsliced-time")


def _state(folder: Path, cooking: str, without: str = "") -> dict[str, list[object]]:
    """Rows of each ladder, by the id of its requirement or alternative."""
    (folder / "code.toml").write_text(_STATE.replace("WITHOUT", without), encoding="utf-8")
    (folder / "cooking.toml").write_text(cooking, encoding="utf-8")
    return _rows(load_code_folder("test/state", folder))


def _rows(code: Code) -> dict[str, list[object]]:
    tests = {r.id: r.test for r in code.requirements}
    tests |= {a.id: a.test for r in code.requirements for a in r.alternatives}
    return {name: list(test.rows) for name, test in tests.items() if isinstance(test, Reach)}


def test_a_code_that_changes_a_ladder_changes_it_for_all_that_name_it(tmp_path: Path) -> None:
    """The base's reheating of unsliced roasts names the ladder of its cooking."""
    rows = _state(tmp_path, _OWN_LADDER)
    base = _rows(load_code("us/food-code/2022"))
    assert len(base["cook-roast"]) > len(rows["cook-roast"]) == 1
    for name in _ALTERNATIVES:
        assert base[name] == base["cook-roast"]
        assert rows[name] == rows["cook-roast"]


def test_a_ladder_that_is_left_out_still_lends_its_rows(tmp_path: Path) -> None:
    sliced = """
[[amend]]
id = "reheat-165"
alternatives = []
[[amend]]
id = "reheat-in-2h"
[[amend.alternatives]]
id = "reheat-roast-unsliced-time"
title = "As the base says"
section = "1"
[amend.alternatives.test]
form = "reach"
rows_of = "cook-roast"
"""
    requiring = ("hot-hold-roast-130", "band-hold-roast-130", "nc-cooked-first-time")
    rows = _state(tmp_path, sliced, f"without = {json.dumps(['cook-roast', *requiring])}")
    assert rows["reheat-roast-unsliced-time"] == _rows(load_code("us/food-code/2022"))["cook-roast"]


def test_rows_of_its_own_stand_in_the_place_of_a_named_ladder(tmp_path: Path) -> None:
    naming = """
[[requirement]]
id = "cook-intact"
title = "By a ladder of its own"
section = "1"
weight = "law"
stages = ["cook"]
confirmed = "memory"
source = ["own-reading"]
test = { form = "reach", rows_of = "cook-roast" }
"""
    both = naming.replace('rows_of = "cook-roast"', 'rows_of = "cook-roast", rows = []')
    assert len(_state(tmp_path, naming + _OWN_LADDER)["cook-intact"]) == 1
    with pytest.raises(RuleError, match="rows_of"):
        _state(tmp_path, both)


def test_a_ladder_that_became_another_test_is_refused(tmp_path: Path) -> None:
    """Whoever takes the ladder away must say what those that name it go by."""
    other = '[amend.test]\nform = "duty"\nquestion = "Which ladder?"\n'
    with pytest.raises(RuleError, match="rows_of"):
        _state(tmp_path, '[[amend]]\nid = "cook-roast"\n' + other)


def test_an_amendment_may_give_rows_in_the_place_of_a_named_ladder(tmp_path: Path) -> None:
    base = _STATE.replace("us/food-code/2022", "us/plant/appendix-a/2021").replace("WITHOUT", "")
    (tmp_path / "code.toml").write_text(base, encoding="utf-8")
    own = _OWN_LADDER.replace("cook-roast", "cook-beef-6-5-log")
    (tmp_path / "cooking.toml").write_text(own, encoding="utf-8")
    rows = _rows(load_code_folder("test/state", tmp_path))
    assert len(rows["cook-beef-6-5-log"]) == 1
    assert len(rows["cook-meat-6-5-log"]) > 1
