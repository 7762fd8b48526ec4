"""Sheets and labels: their times against the evaluation's own, their words, their square codes."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.graphics.barcode.qr import QrCodeWidget

from tempwitness.cli.day import _LAYOUTS
from tempwitness.cli.main import cli
from tempwitness.errors import ReportError, TempwitnessError
from tempwitness.model.figures import parse_duration
from tempwitness.model.vocabulary import StageName
from tempwitness.papers import labels_of, to_labels, to_sheets
from tempwitness.papers.due import date_marks, log_of
from tempwitness.papers.pages.labels import LAYOUTS
from tempwitness.papers.plan import Plan
from tests.papers.made import BARE, ROOT, opened, plan_of, supper, text_of
from tests.published.test_vectors_dates_and_probes import kept_until
from tests.report.reread import squeezed
from tests.support import ZERO, channel, found, judge, note, staged

_HEAD = BARE.partition("[[kitchen]]")[0]
_COOKED = '[[food]]\nname = "brisket"\n[[food.step]]\ndo = "cook"\nend = "{}T12:00"\n'
_COLD = '[[food.step]]\ndo = "cold_hold"\n'


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("events")


def kept(folder: Path, made: date, frozen: tuple[date, date] | None = None) -> Plan:
    text = _HEAD + _COOKED.format(made) + _COLD
    if frozen is not None:
        text += f'[[food.step]]\ndo = "freeze"\nstart = "{frozen[0]}T23:59"\n'
        text += f'[[food.step]]\ndo = "thaw"\nstart = "{frozen[1]}T09:00"\n{_COLD}'
    return plan_of(folder, text)


@pytest.mark.parametrize(
    ("made", "frozen", "last"),
    [
        # Food Code 3-501.17(A), counted by hand; see test_days.
        (date(2024, 5, 31), None, date(2024, 6, 6)),
        (date(2024, 2, 26), None, date(2024, 3, 3)),
        (date(2024, 6, 3), (date(2024, 6, 4), date(2024, 6, 15)), date(2024, 6, 19)),
    ],
)
def test_a_label_carries_day_one_and_the_last_day(
    folder: Path, made: date, frozen: tuple[date, date] | None, last: date
) -> None:
    plan = kept(folder, made, frozen)
    (mark,) = date_marks(plan)
    assert (mark.made, mark.last) == (made, last)
    (label,) = labels_of(plan)
    assert f"Use or discard by end of {last:%a} {last.day} {last:%b} {last.year}" in label.words


@settings(deadline=None, max_examples=25)
@given(
    st.dates(date(2020, 1, 1), date(2027, 12, 31)),
    st.none() | st.tuples(st.integers(0, 4), st.integers(1, 40)),
)
def test_the_last_day_of_a_label_is_that_of_the_evaluation(
    folder: Path, made: date, spans: tuple[int, int] | None
) -> None:
    frozen = None
    if spans is not None:
        out = made + timedelta(days=spans[0])
        frozen = (out, out + timedelta(days=spans[1]))
    (mark,) = date_marks(kept(folder, made, frozen))
    assert mark.last is not None
    texts = None if frozen is None else (frozen[0].isoformat(), frozen[1].isoformat())
    for day, verdict in ((mark.last, "met"), (mark.last + timedelta(days=1), "not_met")):
        finding = kept_until(day.isoformat(), prepared=made.isoformat(), frozen=texts)
        assert finding.verdict.value == verdict


def test_the_oldest_ingredient_is_day_one(folder: Path) -> None:
    # Food Code 3-501.17(D): combined food keeps the date of its earliest ingredient.
    text = _HEAD + _COOKED.format("2026-10-01") + _COLD
    text = text.replace('name = "brisket"', 'name = "brisket"\noldest = 2026-09-29')
    (mark,) = date_marks(plan_of(folder, text))
    assert (mark.made, mark.last) == (date(2026, 9, 29), date(2026, 10, 5))


def test_food_in_the_freezer_says_how_many_days_are_left(folder: Path) -> None:
    text = _HEAD + _COOKED.format("2024-06-03") + _COLD
    text += f'[[food.step]]\ndo = "freeze"\nstart = "2024-06-04T20:00"\n{_COLD}'
    (label,) = labels_of(plan_of(folder, text))
    # Two of seven days are used: 3 and 4 June.
    assert "5 days left, the day of thawing included" in label.words
    assert "by end of __________" in label.words


def test_a_day_that_is_not_known_is_a_line_to_write_on(folder: Path) -> None:
    text = _HEAD + _COOKED.format("2024-06-03").rpartition("end =")[0] + _COLD
    (label,) = labels_of(plan_of(folder, text))
    assert "Prepared __________ (day 1)" in label.words
    assert not re.search(r"\d{4}", label.words)


def test_time_control_ends_four_hours_later() -> None:
    label = next(one for one in labels_of(supper()) if one.head == "turkey breast")
    # Planned out at 12:30, 4 h (Food Code 3-501.19(B)).
    assert "Discard at Sat 3 Oct 16:30" in label.words


@settings(deadline=None, max_examples=15)
@given(st.integers(0, 60))
def test_a_cooling_is_due_when_the_evaluation_says_so(minutes: int) -> None:
    # The clock starts at the last reading of 135 °F or more, so far as it is known.
    start = minutes / 60
    readings = [(0.0, 150.0), (start + 0.1, 135.0), (start + 0.2, 130.0)]
    log = staged([channel(readings)], [note(-2, "cook"), note(0, "cool")])
    (step,) = supper().foods[1].of(StageName.COOL)
    due = log_of(supper().foods[1], step, supper()).due
    for requirement, words in (("cool-135-to-70", "70 °F"), ("cool-135-to-41", "41 °F")):
        row = next(one for one in due if words in one)
        hours = parse_duration(row.removeprefix("+ ").partition(" by here")[0])
        asked = ZERO + (start + 0.25) * 3600
        finding = found(judge(log, asked=asked, explicit=True), requirement)
        assert finding.deadline is not None
        deadline = datetime.fromisoformat(finding.deadline).timestamp()
        assert deadline == pytest.approx(ZERO + (start + 0.1) * 3600 + hours, abs=1.0)


def test_hourly_readings_stand_at_the_hours_between() -> None:
    (step,) = supper().foods[1].of(StageName.COOL)
    due = log_of(supper().foods[1], step, supper()).due
    assert [row.partition(" by")[0] for row in due] == [
        *("clock starts", "+ 1 h", "+ 2 h", "+ 3 h", "+ 4 h", "+ 5 h", "+ 6 h"),
    ]


def test_readings_round_the_clock_change_keep_their_distance(folder: Path) -> None:
    # America/Chicago leaves summer time on 1 November 2026 at 02:00 (IANA time zone database):
    # every hour from 00:30 on the wall is 00:30, 01:30, 01:30 again, 02:30.
    text = _HEAD + '[[food]]\nname = "brisket"\n[[food.step]]\ndo = "cook"\nevery = "1 h"\n'
    text += 'start = "2026-11-01T00:30"\nend = "2026-11-01T02:30"\n'
    plan = plan_of(folder, text)
    due = log_of(plan.foods[0], plan.foods[0].steps[0], plan).due
    assert [one[-5:] for one in due] == ["00:30", "01:30", "01:30", "02:30"]


def test_every_step_has_its_page_with_its_limits() -> None:
    sheets = [" ".join(p.extract_text().split()) for p in opened(to_sheets(supper())).pages]
    steps = [(food, step) for food in supper().foods for step in food.steps]
    assert len(sheets) == len(steps) + 3
    for (food, step), page in zip(steps, sheets, strict=False):
        assert f"{food.part.name}: {step.part.do.words}" in page
        for limit in log_of(food, step, supper()).limits:
            assert squeezed(limit) in squeezed(page)
        assert "Typed in later by" in page
    for words, page in zip(
        ("Thermometer check", "Discards", "Corrective"), sheets[-3:], strict=True
    ):
        assert words in page


def test_sheets_and_labels_are_the_same_twice() -> None:
    assert to_sheets(supper(), paper="a4") == to_sheets(supper(), paper="a4")
    labels = labels_of(supper())
    once, twice = (to_labels(labels, supper(), layout="a4-2x7") for _ in range(2))
    assert once == twice


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_word_of_a_label_is_on_it(layout: str) -> None:
    labels = labels_of(supper())
    text = squeezed(text_of(to_labels(labels, supper(), layout=layout)))
    for label in labels:
        for line in (label.head, *(words for words, _ in label.lines)):
            assert squeezed(line) in text or line.startswith("By ")


def test_the_help_names_the_layouts_that_there_are() -> None:
    assert list(_LAYOUTS) == list(LAYOUTS)


@pytest.mark.parametrize("layout", LAYOUTS)
def test_labels_lie_on_their_sheet_and_beside_each_other(layout: str) -> None:
    place = LAYOUTS[layout]
    across = place.left + place.across * place.size[0] + (place.across - 1) * place.gap
    assert across <= place.page[0] + 0.5
    assert place.top + place.down * place.size[1] <= place.page[1] + 0.5


def test_a_name_too_long_for_a_label_is_refused_and_never_cut(folder: Path) -> None:
    name = "brisket with very much more to say than a label takes " * 6
    text = (_HEAD + _COOKED.format("2026-10-01") + _COLD).replace('"brisket"', f'"{name}"')
    plan = plan_of(folder, text)
    with pytest.raises(ReportError, match="without being cut"):
        to_labels(labels_of(plan), plan, layout="letter-3x10")


def test_a_sheet_that_was_begun_goes_on(folder: Path) -> None:
    labels = labels_of(supper())
    content = to_labels(labels, supper(), layout="letter-2x5", copies=6, first=10)
    assert len(opened(content).pages) == 3  # 1 + 10 + 1 of 12 labels
    with pytest.raises(ReportError, match="10 labels"):
        to_labels(labels, supper(), layout="letter-2x5", first=11)


def test_an_event_without_anything_to_label_says_so(folder: Path) -> None:
    plan = plan_of(folder, BARE.partition("[[kitchen]]")[0] + '[[food]]\nname = "beans"\n')
    with pytest.raises(ReportError, match="no food of this event"):
        to_labels(labels_of(plan), plan, layout="single")


def test_the_square_code_says_the_same_words() -> None:
    # Read by another library than the one that draws it (ISO/IEC 18004).
    for label in labels_of(supper()):
        widget = QrCodeWidget(label.words, barLevel="M", barBorder=4)
        widget.getBounds()
        code = widget.qr  # type: ignore[attr-defined]
        side = code.getModuleCount()
        dark = np.array([[code.isDark(r, c) for c in range(side)] for r in range(side)])
        image = np.kron(np.pad(~dark, 4, constant_values=True), np.ones((6, 6))) * 255
        (read,) = zxingcpp.read_barcodes(image.astype(np.uint8))
        assert read.text == label.words


@pytest.mark.parametrize("name", ["16-still-cooling", "01-lamb-all-day"])
def test_a_record_makes_sheets_too(name: str, tmp_path: Path) -> None:
    target = tmp_path / "logs.pdf"
    record = ROOT / "sample_records" / name / "record.toml"
    told = CliRunner().invoke(cli, ["sheets", str(record), "-o", str(target)])
    assert told.exit_code == 0, told.output
    text = squeezed(text_of(target.read_bytes()))
    assert squeezed("From 135 °F (57 °C) to 70 °F (21 °C) within 2 h") in text


def test_a_record_makes_labels_too(tmp_path: Path) -> None:
    target = tmp_path / "labels.pdf"
    record = ROOT / "sample_records" / "01-lamb-all-day" / "record.toml"
    told = CliRunner().invoke(cli, ["labels", str(record), "-o", str(target)])
    assert told.exit_code == 0, told.output
    # Cooked until 14:00 on 13 June 2026; 7 days with that day as day 1 end on 19 June.
    assert squeezed("by end of Fri 19 Jun 2026") in squeezed(text_of(target.read_bytes()))


def test_a_record_without_steps_says_so(tmp_path: Path) -> None:
    record = ROOT / "sample_records" / "10-thirty-hours-unnoted" / "record.toml"
    told = CliRunner().invoke(cli, ["sheets", str(record), "-o", str(tmp_path / "x.pdf")])
    assert isinstance(told.exception, TempwitnessError)
    assert "no note of the record begins a step" in str(told.exception)


def test_the_zero_of_the_tests_is_a_plain_day() -> None:
    assert datetime.fromtimestamp(ZERO, UTC).hour == 5
