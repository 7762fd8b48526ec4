"""The command that writes a report."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

if TYPE_CHECKING:
    from pathlib import Path

    from tests.cli.conftest import Run


def text_of(file: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(file.read_bytes())).pages)


@pytest.mark.parametrize(("record", "status"), [("met", 0), ("not_met", 1), ("not_shown", 3)])
def test_the_status_is_that_of_the_answer(
    run: Run, tmp_path: Path, request: pytest.FixtureRequest, record: str, status: int
) -> None:
    target = tmp_path / "out.pdf"
    ran = run("report", request.getfixturevalue(record), "-o", target)
    assert ran.status == status
    assert ran.out == ""
    assert str(target) in ran.err
    assert "2026" in text_of(target)


def test_another_file_is_never_written_over(run: Run, tmp_path: Path, met: Path) -> None:
    target = tmp_path / "precious.pdf"
    target.write_bytes(b"precious")
    ran = run("report", met, "-o", target)
    assert ran.status == 2
    assert "exists already" in ran.err
    assert target.read_bytes() == b"precious"


def test_another_file_is_written_over_when_told_so(run: Run, tmp_path: Path, met: Path) -> None:
    target = tmp_path / "precious.pdf"
    target.write_bytes(b"precious")
    assert run("report", met, "-o", target, "--force").status == 0
    assert target.read_bytes().startswith(b"%PDF-")


def test_the_record_itself_cannot_be_the_target(run: Run, met: Path) -> None:
    before = met.read_bytes()
    assert run("report", met, "-o", met).status == 2
    assert met.read_bytes() == before


def test_a_missing_folder_is_named(run: Run, tmp_path: Path, met: Path) -> None:
    ran = run("report", met, "-o", tmp_path / "nowhere" / "out.pdf")
    assert ran.status == 2
    assert "nowhere" in ran.err
    assert "folder" in ran.err


def test_a_failed_run_leaves_no_file_behind(run: Run, tmp_path: Path, met: Path) -> None:
    met.write_text("schema = 1\n", encoding="utf-8")
    assert run("report", met, "-o", tmp_path / "out.pdf").status == 2
    assert [p.name for p in tmp_path.iterdir()] == ["met.toml"]


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_the_paper_is_the_one_asked_for(
    run: Run, tmp_path: Path, met: Path, paper: str, size: tuple[int, int]
) -> None:
    # Sizes in points: 8.5 in × 11 in at 72 a inch; ISO 216 A4, 210 mm × 297 mm.
    target = tmp_path / "out.pdf"
    run("report", met, "-o", target, "--paper", paper)
    box = PdfReader(io.BytesIO(target.read_bytes())).pages[0].mediabox
    assert (round(box.width), round(box.height)) == size


@pytest.mark.parametrize("name", ["out.html", "OUT.HTM"])
def test_a_name_that_ends_in_html_gives_a_page(
    run: Run, tmp_path: Path, not_met: Path, name: str
) -> None:
    target = tmp_path / name
    ran = run("report", not_met, "-o", target)
    assert ran.status == 1
    assert ran.out == ""
    assert str(target) in ran.err
    content = target.read_text(encoding="utf-8")
    assert content.startswith("<!DOCTYPE html>")
    assert "NOT MET" in content


def test_the_option_decides_where_the_name_does_not(run: Run, tmp_path: Path, met: Path) -> None:
    page, paper = tmp_path / "page", tmp_path / "paper"
    assert run("report", met, "-o", page, "--format", "html").status == 0
    assert run("report", met, "-o", paper).status == 0
    assert page.read_bytes().startswith(b"<!DOCTYPE html>")
    assert paper.read_bytes().startswith(b"%PDF-")


def test_a_name_and_an_option_that_contradict_each_other_are_refused(
    run: Run, tmp_path: Path, met: Path
) -> None:
    ran = run("report", met, "-o", tmp_path / "out.pdf", "--format", "html")
    assert ran.status == 2
    assert "'.pdf'" in ran.err
    assert "--format" in ran.err
    assert [p.name for p in tmp_path.iterdir()] == ["met.toml"]


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_a_page_prints_on_the_paper_asked_for(
    run: Run, tmp_path: Path, met: Path, paper: str
) -> None:
    target = tmp_path / "out.html"
    run("report", met, "-o", target, "--paper", paper)
    # CSS Paged Media 3 names both sizes.
    size = {"letter": "size: letter;", "a4": "size: A4;"}[paper]
    assert size in target.read_text(encoding="utf-8")
