"""Pages as they are written: their links, and the blocks of code that they show.

What stands after the three backticks says what a block is:

``sh``
    commands; those that call tempwitness are run, in order, in one folder for each page that
    holds a copy of ``sample_records``. ``# exits with 3`` behind a command names its status, 0 if
    nothing is said.
``text``
    lines that the command before printed, in that order; a line ``…`` stands for left-out ones.
``python``
    a program that is run in the same folder.
``toml NAME`` and ``csv NAME``
    a file that is put into the folder.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

_FENCE = re.compile(r"^```([^\n`]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_LINK = re.compile(r"\[[^\]]+\]\(([^)\s]+)\)")
_STATUS = re.compile(r"\s+# exits with (\d+)$")


@dataclass(frozen=True, slots=True)
class Block:
    """A block of code: what it is, the name of its file if any, and its text."""

    kind: str
    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Call:
    """A command that a page shows, and the exit status that it names."""

    words: str
    status: int


def written_pages() -> list[Path]:
    """Return the pages that people wrote, the generated ones left out."""
    found = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")]
    found += [ROOT / "rules" / "README.md", ROOT / "sample_records" / "README.md"]
    drawn = ROOT / "docs" / "reference"
    return sorted(p for p in found if not p.is_relative_to(drawn) and p.name != "licence.md")


def blocks(page: Path) -> list[Block]:
    """Return the blocks of a page in order."""
    found = []
    for info, text in _FENCE.findall(page.read_text(encoding="utf-8")):
        kind, _, name = info.partition(" ")
        found.append(Block(kind, name, text))
    return found


def links(page: Path) -> list[str]:
    """Return the targets of a page's links."""
    return _LINK.findall(_FENCE.sub("", page.read_text(encoding="utf-8")))


def calls(block: Block) -> list[Call]:
    """Return the calls of tempwitness in a block of commands."""
    found = []
    for line in block.text.replace("\\\n", " ").splitlines():
        status = _STATUS.search(line)
        for part in _STATUS.sub("", line).split(" && "):
            words = part.strip().removeprefix(".venv/bin/")
            if words.startswith("tempwitness "):
                found.append(Call(words, int(status[1]) if status else 0))
    return found


def printed_in_order(shown: str, output: str) -> list[str]:
    """Return the lines of a block that the output does not hold in that order."""
    rest = iter(line.rstrip() for line in output.splitlines())
    wanted = [line.rstrip() for line in shown.splitlines()]
    return [w for w in wanted if w not in ("", "…") and not any(w == line for line in rest)]
