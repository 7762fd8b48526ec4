"""The document of all lots of an event: its list, its statements, and every lot's own pages."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pypdf
import pytest

from tempwitness.errors import ReportError
from tempwitness.pipeline import Checked, check
from tempwitness.report import to_event_pdf, to_pdf
from tests.cli.records import MET, NOT_MET, NOT_SHOWN, write_record
from tests.cli.running import in_process

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from tests.cli.running import Ran

    Run = Callable[..., Ran]

SAMPLES = Path(__file__).resolve().parents[2] / "sample_records"
NAMES = ("01-lamb-all-day", "02-brisket-box-gap", "08-still-steaming", "11-county-override")


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    return in_process(capsys)


@pytest.fixture(scope="module")
def lots() -> list[Checked]:
    return [check(SAMPLES / name / "record.toml") for name in NAMES]


@pytest.fixture(scope="module")
def document(lots: list[Checked]) -> bytes:
    return to_event_pdf([(lot.evaluation, lot.log) for lot in lots])


@pytest.fixture(scope="module")
def texts(document: bytes) -> list[str]:
    return [" ".join(text.split()) for text in texts_of(document)]


def texts_of(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(BytesIO(pdf)).pages]


def without_edges(text: str) -> list[str]:
    """Return the lines of a page without its head (name, page, of) and foot (tool, code)."""
    return text.splitlines()[5:]


def titles(outline: Iterable[Any], level: int = 0) -> list[tuple[int, str]]:
    found: list[tuple[int, str]] = []
    for entry in outline:
        if isinstance(entry, list):
            found += titles(entry, level + 1)
        else:
            found.append((level, entry.title))
    return found


def test_the_list_names_every_lot_the_worst_first(texts: list[str]) -> None:
    # Answers: sample_records/README.md.
    order = ["2026-05-16 briskets", "2026-06-20 lamb legs", "2026-09-05 brisket", "2026-06-13 lamb"]
    places = [texts[0].index(name) for name in order]
    assert places == sorted(places)
    assert "1 of 4 lots met" in texts[0]
    # The answer of them all, and two rows.
    assert texts[0].count("NOT MET") == 3


def test_lots_that_were_broken_get_a_statement_with_limit_and_section(texts: list[str]) -> None:
    (page,) = [text for text in texts if "Corrective actions" in text]
    assert "Lot 2026-05-16 briskets" in page
    assert "Lot 2026-06-20 lamb legs" in page
    assert "2026-06-13" not in page
    # FDA Food Code 2022, 3-501.16(A)(1): hot food is held at 57 °C (135 °F) or above.
    assert "limit: at least 135 °F (57 °C)" in page
    assert "3-501.16(A)(1)" in page
    assert page.count("Seen by (person in charge)") == 2


def test_what_was_discarded_stands_with_its_weight(texts: list[str]) -> None:
    (page,) = [text for text in texts if "The weight" in text or "Discarded What" in text]
    # The record of the briskets: piece "small" of 10.5 lb, thrown out at 14:50.
    assert "2026-05-16 briskets, small" in page
    assert "10.5 lb" in page
    assert "Sat 16 May 2026 14:50" in page


def test_every_lot_s_own_report_is_in_it_page_by_page(lots: list[Checked], document: bytes) -> None:
    inside = [without_edges(text) for text in texts_of(document)]
    for lot in lots:
        for text in texts_of(to_pdf(lot.evaluation, lot.log)):
            assert without_edges(text) in inside


def test_bookmarks_lead_to_each_lot_and_its_parts(document: bytes) -> None:
    reader = pypdf.PdfReader(BytesIO(document))
    found = titles(reader.outline)
    top = [title for level, title in found if level == 0]
    assert top[:3] == ["Event", "Corrective actions", "Discarded"]
    assert [t.split()[1] for t in top[3:]] == [
        "2026-05-16",
        "2026-06-20",
        "2026-09-05",
        "2026-06-13",
    ]
    assert [title for level, title in found if level == 1].count("The whole record") == 4
    # Each leads to a page of its own: no lot's mark was taken by another's.
    marks = [m for m in reader.outline if not isinstance(m, list)]
    pages = [reader.get_destination_page_number(m) for m in marks]
    assert len(set(pages)) == len(pages)


def test_the_head_of_a_page_names_its_lot(document: bytes) -> None:
    heads = [" ".join(text.split())[:60] for text in texts_of(document)]
    assert sum(head.startswith("Lot 2026-06-13 lamb shoulders") for head in heads) > 3
    assert heads[0].startswith("Event – 4 lots")


def test_the_same_lots_give_the_same_bytes(lots: list[Checked], document: bytes) -> None:
    assert to_event_pdf([(lot.evaluation, lot.log) for lot in lots]) == document


def test_an_event_of_which_all_is_met_has_nothing_to_sign(lots: list[Checked]) -> None:
    pdf = to_event_pdf([(lots[0].evaluation, lots[0].log)] * 2)
    text = "".join(texts_of(pdf))
    assert "2 of 2 lots met" in text
    assert "Corrective actions" not in text
    assert "Written by" not in text


def test_no_lot_is_no_event() -> None:
    with pytest.raises(ReportError, match="there is no lot"):
        to_event_pdf([])


def test_a_folder_is_reported_as_a_whole(run: Run, tmp_path: Path) -> None:
    fair = tmp_path / "fair"
    (fair / "pit").mkdir(parents=True)
    write_record(fair, MET, lot="met")
    write_record(fair / "pit", NOT_MET, lot="not-met")
    write_record(fair / "pit", NOT_SHOWN, lot="not-shown")
    (fair / "county.toml").write_text('[override]\nid = "county"\n', encoding="utf-8")
    (fair / "readings.csv").write_text("time,temp_f\n", encoding="utf-8")
    target = tmp_path / "fair.pdf"
    done = run("report", fair, "-o", target)
    assert done.status == 1
    assert done.err.count(" is ") == 3
    assert "1 of 3 lots met" in texts_of(target.read_bytes())[0]


def test_one_record_alone_is_its_own_report(run: Run, tmp_path: Path) -> None:
    record = write_record(tmp_path, MET)
    assert run("report", tmp_path, "-o", tmp_path / "a.pdf").status == 0
    assert run("report", record, "-o", tmp_path / "b.pdf").status == 0
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


def test_a_record_named_twice_and_a_folder_without_any_are_refused(
    run: Run, tmp_path: Path
) -> None:
    record = write_record(tmp_path, MET)
    twice = run("report", record, tmp_path, "-o", tmp_path / "a.pdf")
    assert twice.status == 2
    assert "named twice" in twice.err
    (tmp_path / "empty").mkdir()
    empty = run("report", tmp_path / "empty", "-o", tmp_path / "a.pdf")
    assert empty.status == 2
    assert "no record lies in this folder" in empty.err
