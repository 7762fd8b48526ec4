"""The contracts of pyproject.toml on who may import whom."""

from __future__ import annotations

import subprocess
import sys
import tomllib

from tests.architecture.tree import ROOT, SOURCE

_CONFIG = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
_LAYERS = _CONFIG["tool"]["importlinter"]["contracts"][0]["layers"]


def test_every_room_has_its_place_in_the_layers() -> None:
    rooms = {
        f"tempwitness.{p.stem}"
        for p in SOURCE.iterdir()
        if (p.is_dir() and (p / "__init__.py").exists())
        or (p.suffix == ".py" and not p.name.startswith("__"))
    }
    placed = [name.strip() for layer in _LAYERS for name in layer.split("|")]
    assert sorted(rooms) == sorted({name.strip("()") for name in placed} & rooms)
    assert [name for name in placed if not name.startswith("(") and name not in rooms] == []


def test_the_core_loads_without_the_edges() -> None:
    # What one evaluation needs in memory: no command line, no tables, no drawing.
    program = (
        "import sys, tempwitness.evaluate, tempwitness.stages\n"
        "print(sorted({'click', 'pandas', 'reportlab'} & set(sys.modules)))"
    )
    done = subprocess.run(  # noqa: S603 - our own interpreter and program
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
