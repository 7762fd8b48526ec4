"""Records and names that nobody expects: the report is printed all the same."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from tempwitness.model.finding import Action, Evidence
from tempwitness.model.logs import Doubt
from tempwitness.model.vocabulary import Flag, Place, Verdict

from .lamb_log import START, channel, empty_log, staged
from .reread import pages, read, squeezed

if TYPE_CHECKING:
    from tempwitness.model.finding import Evaluation
    from tempwitness.model.logs import StagedLog


def test_markup_in_names_is_printed_as_it_stands(evaluation: Evaluation, log: StagedLog) -> None:
    hostile = "<b>lamb</b> & <img src='x'/> \u202e羊 &amp; 🍖"
    lot = replace(evaluation.lot, food=hostile, id="<L&1>", pieces=("A<b>", "B"))
    findings = tuple(replace(f, title=hostile, reason=hostile) for f in evaluation.findings)
    text = " ".join(pages(read(replace(evaluation, lot=lot, findings=findings), log)))
    assert "<b>lamb</b> & <img src='x'/>" in text
    assert "&amp; \ufffd" in text
    assert "Lot <L&1>" in text


def test_very_long_names_neither_fail_nor_vanish(evaluation: Evaluation, log: StagedLog) -> None:
    long_name, long_word = "smoked lamb " * 400, "lamb" * 1500
    lot = replace(evaluation.lot, food=long_name, id=long_word[:300])
    findings = tuple(replace(f, title=long_name, measured=long_word) for f in evaluation.findings)
    action = Action(long_name, None, "practice")
    hostile = replace(
        evaluation, lot=lot, findings=findings, headline=long_name, do_now=(action,) * 3
    )
    text = squeezed("".join(pages(read(hostile, log))))
    assert text.count("smokedlamb") > 400 * len(findings)


def test_two_hundred_findings_are_all_there(evaluation: Evaluation, log: StagedLog) -> None:
    broken = next(f for f in evaluation.findings if f.verdict is Verdict.NOT_MET)
    findings = tuple(replace(broken, title=f"Rule number {k:03d}") for k in range(200))
    sheets = pages(read(replace(evaluation, findings=findings), log))
    text = "".join(sheets)
    for k in range(200):
        # Once on its own page and once in the table.
        assert text.count(f"Rule number {k:03d}") >= 2
    assert "and 192 more" in sheets[0]


def test_a_finding_with_many_readings_says_how_many_are_printed(
    evaluation: Evaluation, log: StagedLog
) -> None:
    broken = next(f for f in evaluation.findings if f.verdict is Verdict.NOT_MET)
    many = replace(broken, evidence=Evidence(readings=broken.evidence.readings * 20))
    text = " ".join(pages(read(replace(evaluation, findings=(many,)), log)))
    assert "40 of 80 readings are printed here." in text


def test_a_record_without_readings_or_findings_is_still_a_report(evaluation: Evaluation) -> None:
    lot = replace(evaluation.lot, first_entry=None, last_entry=None)
    bare = replace(
        evaluation, lot=lot, findings=(), do_now=(), doubts=(), verdict=Verdict.NOT_APPLICABLE
    )
    text = " ".join(pages(read(bare, empty_log())))
    assert "No reading is on record" in text
    assert "No action follows from this record." in text


def _odd_log(kind: str) -> StagedLog:
    nothing = np.array([], dtype=np.float64)
    lost = np.array([np.nan, np.nan])
    two = np.array([START, START + 600])
    made = {
        "an empty channel": channel(nothing, nothing, piece="A"),
        "no number at all": channel(two, lost, piece="A"),
        "one reading": channel(two[:1], np.array([140.0]), piece="A"),
        "one moment": channel(two[[0, 0]], np.array([140.0, 141.0]), piece="A"),
        "a surface alone": channel(two, np.array([140.0, 9.0]), piece="B", place=Place.SURFACE),
    }[kind]
    missing = len(made) and bool(np.isnan(made.value).any())
    doubts = (Doubt(0, 0, 1, Flag.MISSING, "sentinel", "no number"),) if missing else ()
    return staged((made,), doubts)


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("an empty channel", "All 0 readings are printed."),
        ("no number at all", "14 Jun 06:10 no number M"),
        ("one reading", "14 Jun 06:00 140 °F"),
        ("one moment", "14 Jun 06:00 141 °F"),
        ("a surface alone", "Piece B, surface, probe PB (lamb.csv)"),
    ],
)
def test_odd_records_are_printed_too(evaluation: Evaluation, kind: str, words: str) -> None:
    assert words in " ".join(pages(read(evaluation, _odd_log(kind))))


def test_a_failed_probe_check_prints_both_bounds(evaluation: Evaluation) -> None:
    made = staged((channel(np.array([START]), np.array([140.0]), piece="A"),))
    wide = replace(made.corrected, lower=(np.array([137.5]),), upper=(np.array([140.0]),))
    text = " ".join(pages(read(evaluation, replace(made, corrected=wide))))
    assert "140 °F → 137.5–140" in text
