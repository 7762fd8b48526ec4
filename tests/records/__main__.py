"""Write expected.json of every story anew: ``python -m tests.records --update``.

Look at the differences before they are committed: what the stories must come to was derived by
hand in expected_verdicts.toml and is not touched here.
"""

from __future__ import annotations

import sys

from click.testing import CliRunner

from tempwitness.cli.check import check
from tests.records.stories import printed, stories


def main() -> int:
    """Compare, or write with ``--update``; return 1 if anything differs."""
    update = "--update" in sys.argv[1:]
    different = 0
    for story in stories():
        result = CliRunner().invoke(check, [str(story.path), "--json", *story.arguments])
        if not result.stdout:
            sys.stderr.write(f"{story.name}: {result.stderr or result.exception}\n")
            return 1
        target = story.folder / "expected.json"
        text = printed(result.stdout)
        if target.exists() and target.read_text(encoding="utf-8") == text:
            continue
        different += 1
        sys.stdout.write(f"{story.name}: {'written anew' if update else 'differs'}\n")
        if update:
            target.write_text(text, encoding="utf-8", newline="\n")
    return 1 if different and not update else 0


if __name__ == "__main__":
    sys.exit(main())
