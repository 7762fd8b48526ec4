"""One word in a record changed: what the same readings then come to."""

from __future__ import annotations

import json
import shutil
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

from tempwitness.cli.check import check
from tests.records.stories import LATER, SAMPLES

if TYPE_CHECKING:
    from pathlib import Path

#: Story, text taken out of its record, text put in, requirement, verdict it then has, and why.
_VARIANTS = [
    # FDA Food Code 2022 3-401.11(A)(1): whole muscle needs 145 °F for 15 s; it had 145.3 °F at
    # 12:38:20 and was above until 12:40:10.
    (
        "05-injected-leg",
        'pumped with brine"\nspecies = "lamb"\ncut = "steak"\nform = "injected"',
        'rubbed with salt"\nspecies = "lamb"\ncut = "steak"\nform = "intact"',
        "cook-intact",
        "met",
    ),
    # 3-501.16(A)(1): a whole roast may be held at 130 °F if its oven was in line; lowest 131.1 °F.
    # The record does not speak of the oven, so it is asked.
    ("06-sliced-at-131", 'event = "sliced"\n', "", "hot-hold", "not_shown"),
    ("06-sliced-at-131", 'event = "sliced"\n', 'event = "shredded"\n', "hot-hold", "not_met"),
    # A finish of 127 °F alone: the core may have been hotter before, or have risen in the box.
    ("08-still-steaming", "203 F", "127 F", "cook-roast", "not_shown"),
    # 3-501.19(A): a procedure written on the day after is none, so the trays are judged as held:
    # nothing was read after 12:00 and 12:30.
    ("14-time-control", "written = 2026-05-01", "written = 2026-10-04", "band-hold", "not_shown"),
    ("14-time-control", "written = 2026-05-01", "written = 2026-10-04", "tphc-written", "not_met"),
]


@pytest.mark.parametrize(("story", "old", "new", "requirement", "verdict"), _VARIANTS)
def test_one_word_changes_the_answer(
    tmp_path: Path, story: str, old: str, new: str, requirement: str, verdict: str
) -> None:
    folder = tmp_path / story
    shutil.copytree(SAMPLES / story, folder)
    record = folder / "record.toml"
    text = record.read_text(encoding="utf-8")
    assert old in text
    record.write_text(text.replace(old, new), encoding="utf-8")
    result = CliRunner().invoke(check, [str(record), "--json", "--at", LATER])
    findings: list[dict[str, Any]] = json.loads(result.stdout)["findings"]
    found = {
        f["verdict"]
        for f in findings
        if f["requirement"].endswith(f"#{requirement}") and f["verdict"] != "not_applicable"
    }
    assert found == {verdict}
