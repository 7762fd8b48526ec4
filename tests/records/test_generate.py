"""The generator writes the loggers' files byte for byte as they are committed."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

from tests.records.stories import SAMPLES

if TYPE_CHECKING:
    from pathlib import Path


def test_generator_writes_what_is_committed(tmp_path: Path) -> None:
    script = (
        f"import generate; from pathlib import Path; generate.generate(Path({str(tmp_path)!r}))"
    )
    subprocess.run([sys.executable, "-c", script], cwd=SAMPLES, check=True)  # noqa: S603 - own code
    made = sorted(p.relative_to(tmp_path) for p in tmp_path.rglob("*.csv"))
    assert made
    for name in made:
        assert (tmp_path / name).read_bytes() == (SAMPLES / name).read_bytes(), name
