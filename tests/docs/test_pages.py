"""What the pages show is what happens, and their links lead somewhere."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.docs.pages import ROOT, Block, blocks, calls, links, printed_in_order, written_pages

PAGES = written_pages()


def shown(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def ran(arguments: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(  # noqa: S603 - our own interpreter
        [sys.executable, *arguments],
        cwd=folder,
        env={**os.environ, "COLUMNS": "80", "NO_COLOR": "1"},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def commands(block: Block, folder: Path) -> str:
    """Run the commands of a block and return what the last one printed."""
    output = ""
    for call in calls(block):
        done = ran(["-m", *shlex.split(call.words)], folder)
        assert done.returncode == call.status, f"{call.words}\n{done.stdout}{done.stderr}"
        output = done.stdout + done.stderr
    return output


@pytest.mark.parametrize("page", PAGES, ids=shown)
def test_the_examples_of_a_page_do_what_it_says(page: Path, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "sample_records", tmp_path / "sample_records")
    output = ""
    for block in blocks(page):
        if block.kind in ("toml", "csv") and block.name:
            (tmp_path / block.name).write_text(block.text, encoding="utf-8")
        elif block.kind == "sh":
            output = commands(block, tmp_path) or output
        elif block.kind == "python":
            done = ran(["-c", block.text], tmp_path)
            assert done.returncode == 0, done.stderr
            output = done.stdout
        elif block.kind == "text":
            assert printed_in_order(block.text, output) == [], output


@pytest.mark.parametrize("page", PAGES, ids=shown)
def test_the_links_of_a_page_lead_to_files_that_exist(page: Path) -> None:
    inside = [link.partition("#")[0] for link in links(page) if "://" not in link]
    missing = [link for link in inside if link and not (page.parent / link).exists()]
    assert missing == []


def test_an_invented_line_of_output_is_noticed() -> None:
    output = "one\n  two\nthree\n"
    assert printed_in_order("one\n…\nthree\n", output) == []
    assert printed_in_order("three\none\n", output) == ["one"]
    assert printed_in_order("four\n", output) == ["four"]


def test_every_page_can_be_reached_from_the_readme() -> None:
    reached: set[Path] = set()
    waiting = [ROOT / "README.md"]
    while waiting:
        page = waiting.pop()
        if page in reached or page.suffix != ".md":
            continue
        reached.add(page)
        targets = (link.partition("#")[0] for link in links(page) if "://" not in link)
        waiting += [(page.parent / target).resolve() for target in targets if target]
    everything = {p.resolve() for p in (*PAGES, *(ROOT / "docs").rglob("*.md"))}
    assert sorted(map(shown, everything - reached)) == []


def test_every_kind_of_block_is_one_that_is_checked() -> None:
    kinds = {block.kind for page in PAGES for block in blocks(page)}
    assert kinds <= {"sh", "text", "python", "toml", "csv", "json"}


def test_the_tests_of_the_readme_are_those_of_the_ci() -> None:
    named = [block for block in blocks(ROOT / "README.md") if block.kind == "sh" and block.name]
    assert [block.name for block in named] == ["sample", "tests"]
    (command,) = named[1].text.splitlines()
    assert command.startswith("python3 -m venv .venv && ")
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert re.search(r"sed -n '/\^```sh tests\$/,/\^```\$/p' README\.md", script)
    assert 'bash -euo pipefail -c "$command"' in script


def test_the_first_words_of_the_readme_defer_to_the_authority() -> None:
    first = (ROOT / "README.md").read_text(encoding="utf-8").split("\n\n")[1]
    assert "defers to the local health authority" in " ".join(first.split())
