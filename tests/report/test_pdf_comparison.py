"""The page of a report that sets the lot beside many codes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from tempwitness.model.under import UnderCode
from tempwitness.model.vocabulary import Confirmed, Verdict, Weight

from .reread import pages, read

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog


def under(name: str, verdict: Verdict, *, row: str = "", dated: str = "") -> UnderCode:
    return UnderCode(
        id=name,
        title=name,
        edition="2020",
        place="",
        verdict=verdict,
        weight=Weight.LAW,
        row=row,
        limit="at least 63 °C" if row else "",
        confirmed=Confirmed.MEMORY if name == "eg/b" else Confirmed.TEXT,
        dated=dated,
    )


CODES = (
    under("eg/a", Verdict.NOT_MET, row="Hold it hot"),
    under("eg/b", Verdict.NOT_MET, row="Hold it hot"),
    under("eg/old", Verdict.NOT_SHOWN, row="Cool it", dated="in force until 2001-12-31"),
    under("eg/c", Verdict.NEEDS_LIMIT, row="Heat it"),
    under("eg/d", Verdict.MET, row="Cook it"),
    under("eg/e", Verdict.NOT_APPLICABLE),
)


def comparison(evaluation: Evaluation, log: StagedLog, codes: tuple[UnderCode, ...]) -> list[str]:
    sheets = pages(read(replace(evaluation, under=codes), log))
    return [sheet for sheet in sheets if "The same lot under" in sheet]


def test_codes_that_share_the_row_stand_together(evaluation: Evaluation, log: StagedLog) -> None:
    (page,) = comparison(evaluation, log, CODES)
    assert "The same lot under 6 codes" in page
    assert "NOT MET eg/a, eg/b* Hold it hot: at least 63 °C law" in page.replace("\u00a0", " ")
    assert "Not met under 2 codes; not shown under 1 code" in page
    for words in ("(eg/old)", "law: eg/c", "law: eg/d", "Nothing about this food: eg/e"):
        assert words in page


def test_many_codes_fit_one_page_and_the_rest_is_counted(
    evaluation: Evaluation, log: StagedLog
) -> None:
    broken = tuple(
        under(f"eg/number-{n}", Verdict.NOT_MET, row=f"Row number {n} of a long table")
        for n in range(60)
    )
    met = tuple(under(f"eg/kept-{n}", Verdict.MET, row="Cook it") for n in range(60))
    (page,) = comparison(evaluation, log, broken + met)
    assert "Row number 0 of" in page
    assert "40 more rows have no room here" in page
    assert "eg/kept-59" in page


def test_no_page_without_other_codes(evaluation: Evaluation, log: StagedLog) -> None:
    assert comparison(evaluation, log, ()) == []
