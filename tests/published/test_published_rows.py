"""Every number of the rule files against the rows of the published texts, typed a second time.

``rows/<region>.csv`` was typed from the texts; ``rows/encoded_<region>.csv`` says where each row
stands in the rule files, or why it does not. Both ways are asked: no number of a row may be lost,
and none may stand in a rule file that no row prints.
"""

from __future__ import annotations

import pytest

from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.load import load_code
from tests.published.rows.check import Codes, accounted, missing, named_in, unknown
from tests.published.rows.pairs import mispaired
from tests.published.rows.sourced import doubtful, unsourced
from tests.published.rows.tables import Region, read_tables

#: Habits of the trade are printed in no text.
UNPUBLISHED = {"trade/smoking"}

CODES = Codes(load_code)
REGIONS = read_tables()
NAMING = named_in(REGIONS)
PUBLISHED = [code for code in code_ids() if code not in UNPUBLISHED]

each_region = pytest.mark.parametrize("region", REGIONS, ids=lambda region: region.name)
each_code = pytest.mark.parametrize("code", PUBLISHED)


def test_the_tables_are_there() -> None:
    # Seven tables; the smallest has more than thirty rows, and most rows print a number.
    assert len([region for region in REGIONS if region.typed]) == 7
    assert min(len(region.typed) for region in REGIONS) > 30
    lines = [line for region in REGIONS for row in region.typed.values() for line in row]
    assert sum(line.figure is not None for line in lines) > 1500


def test_no_row_stands_in_two_tables() -> None:
    rows = [row for region in REGIONS for row in region.typed]
    assert len(rows) == len(set(rows))


@each_region
def test_every_row_is_encoded_or_left_out_with_a_reason(region: Region) -> None:
    assert list(accounted(region)) == []


@each_region
def test_every_name_stands_for_a_code_or_a_requirement(region: Region) -> None:
    assert list(unknown(region, CODES)) == []


@each_region
def test_every_number_of_a_row_stands_where_the_row_is_encoded(region: Region) -> None:
    assert list(missing(region, CODES)) == []


@each_code
def test_every_number_of_a_code_is_printed_by_a_row(code: str) -> None:
    assert list(unsourced(load_code(code), CODES, NAMING)) == []


@each_code
def test_every_time_of_a_ladder_stands_beside_its_temperature(code: str) -> None:
    assert list(mispaired(load_code(code), NAMING)) == []


@each_code
def test_nothing_is_better_confirmed_than_its_rows_nor_weighs_otherwise(code: str) -> None:
    assert list(doubtful(load_code(code), CODES, NAMING)) == []
