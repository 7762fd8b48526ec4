"""A change that begins or ends while a lot is handled: looser only if it holds all days.

What is stricter is taken if it holds on any of them, which can only make an answer worse. Limits of
FDA Food Code 2022 3-501.16(A): 135 °F; the county is invented.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tempwitness.rulebook.load import load_code
from tempwitness.rulebook.override import apply_overrides, load_override

CODE = "us/food-code/2022"
_HEAD = """[override]
id = "our-county"
title = "Our county"
authority = "Our County Health District"
citation = "county code 1-1"
from = 2026-07-01
to = 2026-07-31
"""
_STRICTER = """
[[change]]
requirement = "us/food-code/2022#hot-hold"
limit = { f = 140, c = 60, op = ">=" }
reason = "stricter"
"""
_LOOSER = """
[[change]]
requirement = "us/food-code/2022#hot-hold"
limit = { f = 130, c = 54.4, op = ">=" }
reason = "approved plan"
[change.approval]
kind = "variance"
authority = "Our County"
number = "7"
granted = 2026-07-01
expires = 2026-07-20
"""


def _limit(folder: Path, body: str, first: date, last: date) -> tuple[float, str]:
    path = folder / "county.toml"
    path.write_text(_HEAD + body, encoding="utf-8")
    code, (used,) = apply_overrides(load_code(CODE), [load_override(path)], first, last)
    found = code.find("hot-hold")
    assert found is not None
    assert found.test.form == "throughout"
    return float(found.test.limit.f), used.reason


@pytest.mark.parametrize(
    ("first", "last", "limit"),
    [
        (date(2026, 7, 4), date(2026, 7, 5), 140.0),
        (date(2026, 6, 30), date(2026, 7, 1), 140.0),
        (date(2026, 7, 31), date(2026, 8, 1), 140.0),
        (date(2026, 6, 29), date(2026, 6, 30), 135.0),
        (date(2026, 8, 1), date(2026, 8, 2), 135.0),
    ],
)
def test_a_stricter_limit_holds_if_it_holds_on_any_day(
    tmp_path: Path, first: date, last: date, limit: float
) -> None:
    found, reason = _limit(tmp_path, _STRICTER, first, last)
    assert found == limit
    whole = date(2026, 7, 1) <= first and last <= date(2026, 7, 31)
    assert ("taken for all" in reason) == (limit == 140.0 and not whole)


@pytest.mark.parametrize(
    ("first", "last", "limit", "why"),
    [
        (date(2026, 7, 4), date(2026, 7, 5), 130.0, "looser by variance"),
        (date(2026, 6, 30), date(2026, 7, 1), 135.0, "not yet in force"),
        (date(2026, 7, 20), date(2026, 7, 21), 135.0, "had expired on 2026-07-21"),
        (date(2026, 7, 31), date(2026, 8, 1), 135.0, "no longer in force"),
    ],
)
def test_a_looser_limit_holds_only_if_it_holds_on_all_days(
    tmp_path: Path, first: date, last: date, limit: float, why: str
) -> None:
    found, reason = _limit(tmp_path, _LOOSER, first, last)
    assert found == limit
    assert why in reason
