"""Verdicts against those derived by hand, then every byte against the last run that was read."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

from tempwitness.cli.check import check
from tempwitness.cli.report import report
from tests.records.stories import SAMPLES, Expected, Story, printed, stories

if TYPE_CHECKING:
    from pathlib import Path

every_story = pytest.mark.parametrize("story", stories(), ids=lambda s: s.name)

#: Hashes of rule files and the tool's version change with every comment; the answer does not.
_CHANGES = re.compile(r'("tool": ")[^"]*|((?:"authority"|"file"): "[^"]*",\s*"sha256": ")[0-9a-f]+')


def _ask(story: Story) -> tuple[int, str]:
    result = CliRunner().invoke(check, [str(story.path), "--json", *story.arguments])
    assert result.stderr == ""
    return result.exit_code, result.stdout


def _fits(finding: dict[str, Any], expected: Expected) -> bool:
    return (
        finding["requirement"].rpartition("#")[2] == expected.requirement
        and expected.piece in ("", finding["piece"])
        and expected.stage in (0, finding["stage_number"])
        and (finding["verdict"] != "not_applicable" or expected.verdict == "not_applicable")
    )


@every_story
def test_verdicts_are_those_derived_by_hand(story: Story) -> None:
    exit_code, line = _ask(story)
    answer = json.loads(line)
    assert (exit_code, answer["verdict"]) == (story.exit_code, story.verdict), answer["headline"]
    for expected in story.expected:
        found = [f for f in answer["findings"] if _fits(f, expected)]
        assert found, expected
        for finding in found:
            assert finding["verdict"] == expected.verdict, (expected.because, finding["reason"])
            text = json.dumps(finding, ensure_ascii=False)
            missing = [words for words in expected.says if words not in text]
            assert not missing, finding


@every_story
def test_evaluation_is_the_one_that_was_read(story: Story) -> None:
    wanted = (story.folder / "expected.json").read_text(encoding="utf-8")
    assert _CHANGES.sub(r"\1\2", printed(_ask(story)[1])) == _CHANGES.sub(r"\1\2", wanted)


@every_story
def test_paper_is_the_same_twice(story: Story, tmp_path: Path) -> None:
    papers = []
    for number in (1, 2):
        target = tmp_path / f"{number}.pdf"
        arguments = [str(story.path), "-o", str(target), *story.arguments]
        assert CliRunner().invoke(report, arguments).exit_code == story.exit_code
        papers.append(target.read_bytes())
    assert papers[0].startswith(b"%PDF-")
    assert papers[0] == papers[1]


def test_every_folder_is_a_story_in_three_lines() -> None:
    folders = sorted(p.name for p in SAMPLES.iterdir() if (p / "story.md").exists())
    assert folders == [story.name for story in stories()]
    for name in folders:
        lines = (SAMPLES / name / "story.md").read_text(encoding="utf-8").splitlines()
        assert len(lines) == 3, name


@every_story
def test_the_list_of_stories_gives_each_its_answer(story: Story) -> None:
    text = (SAMPLES / "README.md").read_text(encoding="utf-8")
    assert f"| `{story.name}` | {story.verdict.replace('_', ' ')} |" in text


def test_a_remark_is_printed_as_what_it_is() -> None:
    # "Still steaming" proves nothing, and whoever reads the paper must see that it was written.
    record = SAMPLES / "08-still-steaming" / "record.toml"
    text = " ".join(CliRunner().invoke(check, [str(record)]).stdout.split())
    assert "remark, which is no reading: opened the box: still steaming" in text


def test_a_night_with_two_clocks_is_said() -> None:
    # America/Chicago leaves summer time on 1 November 2026 at 02:00 (IANA time zone database).
    record = SAMPLES / "07-night-clocks-go-back" / "record.toml"
    text = " ".join(CliRunner().invoke(check, [str(record)]).stdout.split())
    assert "The clocks in America/Chicago were put back by 1 h during this record." in text
