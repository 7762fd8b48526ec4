"""Coverage-guided fuzzing of every reader: ``python -m tests.fuzz [SECONDS] [TARGET]``.

Each target runs in a process of its own, for so many seconds, because a fault ends the engine. An
input that is at fault is kept in a folder that is named at the end; the exit status is then 1.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

_SECONDS = 60
# An input that takes so long counts as a hang.
_HANG_SECONDS = 10
_LONGEST = 8192
_ALONE = "--alone"


def _print(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def _run_alone(name: str, arguments: list[str]) -> None:
    """Fuzz one target in this process; never returns."""
    import atheris  # noqa: PLC0415 - only fuzzing needs it

    # Whatever is loaded before this is not watched, so the targets come in here.
    with atheris.instrument_imports(include=["tempwitness"], enable_loader_override=False):
        for room in ("files", "json_rows", "plain", "record", "swift", "workbook"):
            import_module(f"tempwitness.readers.{room}")
        target: Callable[[bytes, Path], None] = import_module("tests.fuzz.targets").TARGETS[name]
    with tempfile.TemporaryDirectory(prefix="fuzz-") as folder:
        atheris.Setup([sys.argv[0], *arguments], lambda data: target(data, Path(folder)))
        atheris.Fuzz()


def _fuzz(name: str, seconds: int, kept: Path) -> bool:
    """Fuzz one target in a process; whether it is without fault."""
    from tests.fuzz.targets import seeds_of  # noqa: PLC0415 - see _run_alone

    corpus = kept / f"{name}-seeds"
    corpus.mkdir(parents=True, exist_ok=True)
    for at, data in enumerate(seeds_of(name)):
        (corpus / f"{at:03d}").write_bytes(data[:_LONGEST])
    command = [
        sys.executable, "-m", "tests.fuzz", _ALONE, name, f"-max_total_time={seconds}",
        f"-timeout={_HANG_SECONDS}", f"-max_len={_LONGEST}", "-rss_limit_mb=4096",
        "-print_final_stats=1", f"-artifact_prefix={kept}/{name}-", str(corpus),
    ]  # fmt: skip
    done = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)  # noqa: S603
    (kept / f"{name}.log").write_text(done.stdout + done.stderr, encoding="utf-8")
    runs = re.search(r"stat::number_of_executed_units:\s*(\d+)", done.stderr)
    said = runs.group(1) if runs else "unknown"
    _print(f"{name:12} {said:>9} executions  {'no fault' if not done.returncode else 'FAULT'}")
    return not done.returncode


def main() -> int:
    """Fuzz the targets one after the other."""
    from tests.fuzz.targets import TARGETS  # noqa: PLC0415 - see _run_alone

    words = sys.argv[1:]
    seconds = next((int(word) for word in words if word.isdecimal()), _SECONDS)
    names = [word for word in words if not word.isdecimal()] or list(TARGETS)
    kept = Path(tempfile.mkdtemp(prefix="tempwitness-fuzz-"))
    faults = [name for name in names if not _fuzz(name, seconds, kept)]
    if not faults:
        return 0
    _print(f"inputs at fault, and what was said, lie in {kept}: {', '.join(faults)}")
    return 1


if __name__ == "__main__":
    if sys.argv[1:2] == [_ALONE]:
        _run_alone(sys.argv[2], sys.argv[3:])
    else:
        sys.exit(main())
