"""Bounds that a writer gave in place of a figure, from the record to the answer.

Limits: FDA Food Code 2022, 3-501.16(A)(1) hot holding 135 °F, (A)(2) cold holding 41 °F,
3-401.11(A)(3) poultry 165 °F, 3-401.11(A)(1) 145 °F.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

import pytest

from tempwitness.model.vocabulary import Verdict
from tempwitness.pipeline import check
from tests.readers.build import HEAD

if TYPE_CHECKING:
    from pathlib import Path

    from tempwitness.model.finding import Evaluation, Finding

MET, NOT_MET, NOT_SHOWN = Verdict.MET, Verdict.NOT_MET, Verdict.NOT_SHOWN


def evaluation(folder: Path, step: str, *temps: str, head: str = HEAD) -> Evaluation:
    """Readings an hour apart from 10:00 on; the lot is finished with the last."""
    body = f'[[note]]\nat = "2026-07-04 10:00"\nstep = "{step}"\n'
    for i, temp in enumerate(temps):
        body += f'[[reading]]\nat = "2026-07-04 {10 + i}:00"\ntemp = "{temp}"\n'
    body += f'[[note]]\nat = "2026-07-04 {9 + len(temps)}:00"\nevent = "finished"\n'
    path = folder / "lot.toml"
    path.write_text(head.format(more="") + body, encoding="utf-8")
    return check(path, at=datetime(2026, 7, 5, 12, tzinfo=UTC)).evaluation


def found(folder: Path, step: str, *temps: str, ending: str, head: str = HEAD) -> Finding:
    made = evaluation(folder, step, *temps, head=head)
    return next(f for f in made.findings if f.requirement == f"us/food-code/2022#{ending}")


@pytest.mark.parametrize(
    ("temps", "verdict"),
    [
        # Below 41 is at most 41.
        (("<41 F", "<41 F", "<41 F"), MET),
        (("<=41 F", "36 F"), MET),
        (("<5 C", "<5 C"), MET),
        # Below 42 may be 41.5.
        (("<42 F", "<41 F"), NOT_SHOWN),
        (("38-41 F", "38-41 F"), MET),
        (("38-42 F", "38 F"), NOT_SHOWN),
        ((">41 F", "38 F"), NOT_MET),
        # At least 41 may be 41 itself, which keeps the limit.
        ((">=41 F", "38 F"), NOT_SHOWN),
        (("42-45 F", "38 F"), NOT_MET),
        (("~45 F", "38 F"), NOT_SHOWN),
    ],
)
def test_a_cold_hold(tmp_path: Path, temps: tuple[str, ...], verdict: Verdict) -> None:
    assert found(tmp_path, "cold_hold", *temps, ending="cold-hold").verdict is verdict


@pytest.mark.parametrize(
    ("temps", "verdict"),
    [
        ((">135 F", ">=135 F", "140 F"), MET),
        (("140 F", "<41 F", "140 F"), NOT_MET),
        (("140 F", "<135 F", "140 F"), NOT_MET),
        (("140 F", "<=135 F", "140 F"), NOT_SHOWN),
        (("140 F", "130-140 F", "140 F"), NOT_SHOWN),
        (("140 F", ">130 F", "140 F"), NOT_SHOWN),
        (("140 F", "~130 F", "140 F"), NOT_SHOWN),
        (("140 F", "~140 F", "140 F"), NOT_SHOWN),
    ],
)
def test_a_hot_hold(tmp_path: Path, temps: tuple[str, ...], verdict: Verdict) -> None:
    assert found(tmp_path, "hot_hold", *temps, ending="hot-hold").verdict is verdict


TURKEY = HEAD.replace('"lamb shoulder"\nform = "intact"', '"whole turkey"')


@pytest.mark.parametrize(
    ("last", "verdict"),
    [
        (">165 F", MET),
        (">=165 F", MET),
        ("165-170 F", MET),
        ("160-165 F", NOT_SHOWN),
        ("<170 F", NOT_SHOWN),
        (">160 F", NOT_SHOWN),
        ("~170 F", NOT_SHOWN),
        ("<165 F", NOT_MET),
        ("155-160 F", NOT_MET),
    ],
)
def test_a_cook_of_poultry(tmp_path: Path, last: str, verdict: Verdict) -> None:
    made = evaluation(tmp_path, "cook", "40 F", last, head=TURKEY)
    cook = next(f for f in made.binding if f.stage == "cook")
    assert cook.verdict is verdict


def test_a_range_is_compared_by_its_lower_end(tmp_path: Path) -> None:
    # Fish is cooked at 145 °F for 15 seconds (3-401.11(A)(1)); 140 to 145 may be 140, 145 to 150
    # may not, and an hour lies between the two readings of it.
    fish = HEAD.replace('"lamb shoulder"', '"salmon fillet"')
    for last, verdict in (("140-145 F", NOT_SHOWN), ("145-150 F", MET)):
        made = evaluation(tmp_path, "cook", "40 F", last, last, head=fish)
        assert next(f for f in made.binding if f.stage == "cook").verdict is verdict


def test_bounds_are_read_aloud_as_they_were_written(tmp_path: Path) -> None:
    cold = found(tmp_path, "cold_hold", "<41 F", "<41 F", ending="cold-hold")
    assert cold.measured == "highest below 41 °F at 10:00"
    assert cold.evidence.readings[0].reading == "below 41 °F"
    hot = found(tmp_path, "hot_hold", "140 F", "120-125 F", ending="hot-hold")
    assert hot.measured.startswith("120 to 125 °F at 11:00")
    assert "showed" not in hot.measured


def test_the_evaluation_lists_what_was_not_taken_as_it_stands(tmp_path: Path) -> None:
    made = evaluation(tmp_path, "cold_hold", "<41 F", "38 F", "~38 F")
    assert [(c.source, c.lines, c.written, c.used) for c in made.changes] == [
        ("record", "1", "<41 F", "below 41 °F"),
        ("record", "3", "~38 F", "about 38 °F"),
    ]
    # A bound is no doubt; an approximate figure is.
    assert [(d.reading, d.code) for d in made.doubts] == [("~38 F", "rough")]


def test_a_corrected_bound_is_widened_and_not_narrowed(tmp_path: Path) -> None:
    # The probe read ice as 28 °F, 4 °F too low: below 40 as it showed is below 44 in truth.
    probe = (
        '[[probe]]\nid = "pen"\ndrift = "constant"\n[[probe.check]]\nat = "2026-07-04 09:00"\n'
        'kind = "ice"\nread = "28 F"\n'
    )
    cold = found(tmp_path, "cold_hold", "<40 F", "<40 F", ending="cold-hold", head=HEAD + probe)
    assert cold.verdict is NOT_SHOWN
    cold = found(tmp_path, "cold_hold", "<37 F", "<37 F", ending="cold-hold", head=HEAD + probe)
    assert cold.verdict is MET
