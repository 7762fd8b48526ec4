"""What lies in the repository: its top level, and words that have no place in it."""

from __future__ import annotations

import pytest

from tests.architecture.tree import ROOT, shown, text_files

_TOP_LEVEL = {
    "DEVELOPERS.md",
    "README.md",
    "docs",
    "pyproject.toml",
    "rules",
    "sample_records",
    "src",
    "tests",
}
# Left by builds and runs, and ignored by git.
_PASSING = {"build", "dist", "lamb-report.pdf"}

# Each is put together here so that this file does not hold it.
_UNFINISHED = ("TO" + "DO", "FIX" + "ME", "XX" + "X:", "NotImplemented" + "Error")
_ELSEWHERE = (
    "/" + "work/",
    "shared" + "/reference",
    "/" + "tmp/" + "venv",
    "/root" + "/",
    "heat_and_probes" + ".md",
    "us_codes" + ".md",
    "intl_codes" + ".md",
    "house_style" + ".md",
    "practitioners" + ".md",
    "tran" + "script",
)
_SILENCED = ("pytest." + "skip", "mark." + "skip", "skip" + "if", "import" + "orskip")
# It is left out of the ordinary run, and says what is wanting where there is no browser.
_MAY_BE_SILENT = {"tests/report/test_html_browser.py"}


def test_the_top_level_holds_what_it_should_and_nothing_else() -> None:
    found = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")}
    assert found - _PASSING == _TOP_LEVEL


@pytest.mark.parametrize("word", [*_UNFINISHED, *_ELSEWHERE, *_SILENCED])
def test_a_word_that_has_no_place_here_stands_nowhere(word: str) -> None:
    found = {shown(p) for p in text_files() if word.encode() in p.read_bytes()}
    assert found - (_MAY_BE_SILENT if word in _SILENCED else set()) == set()


def test_the_search_reads_the_whole_repository() -> None:
    names = {shown(p) for p in text_files()}
    assert {"README.md", "pyproject.toml", ".ci/run", "docs/licence.md"} <= names
    assert any(name.startswith("rules/published/us/food-code/2022/") for name in names)


def test_what_is_read_at_work_is_utf8_with_plain_line_ends() -> None:
    # Files below tests/ are left out: some are broken on purpose.
    written = [p for p in text_files() if not p.is_relative_to(ROOT / "tests")]
    assert [shown(p) for p in written if b"\r" in p.read_bytes()] == []
    assert all(p.read_text(encoding="utf-8") is not None for p in written)
