"""The tables of the plant guideline (FSIS-GD-2021-14), cell by cell."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tempwitness.model.forms import Reach, ReachBy
from tempwitness.rulebook.load import load_code
from tests.published.rows.ladders import (
    Cells,
    longer_of,
    of_reach,
    of_reach_by,
    typed_column,
    typed_table,
)

A21 = "us/plant/appendix-a/2021"
A99 = "us/plant/appendix-a/1999"
#: Table 1: options 1 and 2 may use the rows of 145 °F and more alone.
MOIST = Decimal(145)
SIX, SEVEN, FIVE = "log65_s", "log7_s", "log5_s"
# Table 2, p. 35, columns 6.5-log and 7-log; Table 6, p. 59, 5-log. The 1999 table has the same
# minutes in its two columns.
MEAT = [
    (A21, "cook-meat-6-5-log", SIX),
    (A21, "cook-beef-6-5-log", SIX),
    (A21, "cook-mixed-meat", SIX),
    (A21, "cook-meat-7-log", SEVEN),
    (A21, "cook-meat-5-log", FIVE),
    (A21, "cook-shelf-stable-5-log", FIVE),
    (A99, "cook-meat-6-5-log", SIX),
    (A99, "cook-meat-7-log", SEVEN),
]
MOIST_MEAT = [
    ("moist-rows-6-5-log", SIX),
    ("moist-rows-beef", SIX),
    ("moist-rows-mixed-meat", SIX),
    ("moist-rows-7-log", SEVEN),
    ("moist-rows-5-log", FIVE),
    ("moist-rows-shelf-stable", FIVE),
]
# Table 3, p. 37, chicken; Table 4, p. 38, turkey; other and mixed poultry: the longer of both.
POULTRY = {
    "chicken": "chicken",
    "turkey": "turkey",
    "other-poultry": "both",
    "mixed-poultry": "both",
    "meat-with-poultry": "both",
}


def reach(code: str, name: str) -> Cells:
    requirement = load_code(code).find(name)
    assert requirement is not None
    assert isinstance(requirement.test, Reach)
    return of_reach(requirement.test)


def poultry(species: str) -> tuple[list[Decimal], Cells]:
    if species != "both":
        return typed_table(f"fsis_{species}")
    (heads, chicken), (_, turkey) = typed_table("fsis_chicken"), typed_table("fsis_turkey")
    return heads, longer_of(chicken, turkey)


def moist(cells: Cells) -> Cells:
    return [cell for cell in cells if cell[0] >= MOIST]


def test_the_typed_tables_have_every_row_and_column() -> None:
    # Table 2 runs from 130 to 160 °F, Tables 3 and 4 from 136 to 165 °F, for 1 to 12 % of fat.
    assert [f for f, _, _ in typed_column("fsis_meat", SIX)] == list(range(130, 161))
    for species in ("chicken", "turkey"):
        heads, cells = typed_table(f"fsis_{species}")
        assert heads == list(range(1, 13))
        assert [f for f, _, _ in cells] == list(range(136, 166))


@pytest.mark.parametrize(("code", "name", "column"), MEAT)
def test_meat(code: str, name: str, column: str) -> None:
    assert reach(code, name) == typed_column("fsis_meat", column)


@pytest.mark.parametrize(("name", "column"), MOIST_MEAT)
def test_meat_in_moist_air(name: str, column: str) -> None:
    assert reach(A21, name) == moist(typed_column("fsis_meat", column))


@pytest.mark.parametrize("dry", [True, False], ids=["cook", "moist-rows"])
@pytest.mark.parametrize(("name", "species"), POULTRY.items())
def test_poultry(name: str, species: str, dry: bool) -> None:
    requirement = load_code(A21).find(f"{'cook' if dry else 'moist-rows'}-{name}")
    assert requirement is not None
    assert isinstance(requirement.test, ReachBy)
    heads, cells = poultry(species)
    assert requirement.test.by == "fat_percent"
    assert list(requirement.test.columns) == heads
    assert of_reach_by(requirement.test) == (cells if dry else moist(cells))


def test_california_prints_the_seven_log_minutes_and_at_once_at_145() -> None:
    # 3 CCR 910.11: the minutes of the 7-log column up to 144 °F, and none at 145 °F.
    below = [cell for cell in typed_column("fsis_meat", SEVEN) if cell[0] < MOIST]
    (f, _, holds) = reach("us/ca/3-ccr-910", "cook-beef")[-1]
    assert (f, holds) == (MOIST, (Decimal(0),))
    assert [(f, holds) for f, _, holds in reach("us/ca/3-ccr-910", "cook-beef")[:-1]] == [
        (f, holds) for f, _, holds in below
    ]


def test_printed_oddities_are_kept() -> None:
    # Table 2 prints 58.4 and 59.5 °C where Tables 3 and 4 print 58.3 and 59.4 °C; times fall with
    # more fat at 151 °F in chicken; turkey is done at once at 165 °F alone.
    celsius = {f: c for f, c, _ in typed_column("fsis_meat", SIX)}
    assert (celsius[Decimal(137)], celsius[Decimal(139)]) == (Decimal("58.4"), Decimal("59.5"))
    chicken = {f: (c, holds) for f, c, holds in typed_table("fsis_chicken")[1]}
    assert (chicken[Decimal(137)][0], chicken[Decimal(139)][0]) == (
        Decimal("58.3"),
        Decimal("59.4"),
    )
    assert chicken[Decimal(151)][1][0] > chicken[Decimal(151)][1][1]
    turkey = {f: holds for f, _, holds in typed_table("fsis_turkey")[1]}
    assert min(turkey[Decimal(164)]) > 0
    assert set(turkey[Decimal(165)]) == {Decimal(0)}
