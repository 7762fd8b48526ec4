"""A ladder is written once; others name it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tempwitness.errors import RuleError
from tempwitness.rulebook.load import load_code_folder

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
