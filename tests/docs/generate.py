"""Write the reference pages anew, or check that they are current.

``python -m tests.docs.generate`` writes ``docs/reference``; ``--check`` only compares and exits
with 1 if a page differs.
"""

from __future__ import annotations

import sys
from pathlib import Path

from tests.docs.answers import answers_page
from tests.docs.codes import code_pages, codes_page, sources_page
from tests.docs.commands import commands_page
from tests.docs.comparison import comparison_pages
from tests.docs.event_keys import event_page
from tests.docs.record_keys import record_page

REFERENCE = Path(__file__).resolve().parents[2] / "docs" / "reference"

_MARK = "<!-- Drawn from the code: python -m tests.docs.generate. Changes here are lost. -->\n\n"


def pages() -> dict[str, str]:
    """Return every generated page by its path below ``docs/reference``."""
    drawn = {
        "answers.md": answers_page(),
        "commands.md": commands_page(),
        "event.md": event_page(),
        "record.md": record_page(),
        "codes.md": codes_page(),
        "sources.md": sources_page(),
        **code_pages(),
        **comparison_pages(),
    }
    return {name: _MARK + text.rstrip("\n") + "\n" for name, text in drawn.items()}


def differing() -> list[str]:
    """Return what is not as it would be written now: changed, missing or left over."""
    drawn = pages()
    present = {p.relative_to(REFERENCE).as_posix(): p for p in REFERENCE.rglob("*.md")}
    changed = [
        name
        for name, text in drawn.items()
        if name not in present or present[name].read_text(encoding="utf-8") != text
    ]
    return sorted([*changed, *(present.keys() - drawn.keys())])


def write() -> None:
    """Write every page, and remove those that are no longer drawn."""
    drawn = pages()
    for path in REFERENCE.rglob("*.md"):
        if path.relative_to(REFERENCE).as_posix() not in drawn:
            path.unlink()
    for name, text in drawn.items():
        target = REFERENCE / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8")


def main(arguments: list[str]) -> int:
    """Write, or with ``--check`` compare."""
    if arguments == ["--check"]:
        stale = differing()
        for name in stale:
            sys.stderr.write(f"docs/reference/{name} is not current\n")
        if stale:
            sys.stderr.write("run: python -m tests.docs.generate\n")
        return 1 if stale else 0
    write()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
