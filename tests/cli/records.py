"""Small records whose answer follows by hand from the Food Code.

All of them speak of one intact lamb shoulder that was cooked from 06:00 to 14:00, rested in a
box until 17:00 and was served until 19:00 on 4 July 2026, local time in Chicago (UTC-5).

FDA Food Code 2022 3-501.16(A): time/temperature control for safety food is held at 57 °C
(135 °F) or above, or at 5 °C (41 °F) or less; 3-401.11(B), the ladder for whole roasts, ends at
70.0 °C (158 °F) held for less than a second.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

_HEAD = """\
schema = 1
lot = "{lot}"
code = "us/food-code/2022"
zone = "America/Chicago"

[food]
name = "lamb shoulder"
form = "intact"
weight = "9 lb"
facts = {{ cured = "no" }}

[[probe]]
id = "A"
check = [{{ at = "2026-07-04 05:30", kind = "ice", read = "32.0 F" }}]
"""
_STEPS = {"06:00": "cook", "14:00": "rest", "17:00": "serve"}

#: Hot from the end of the cook to the end of service: every limit is kept.
MET = {"06:00": 40, "10:00": 150, "14:00": 203, "17:00": 151, "19:00": 141}

#: 120 °F on the line: above 41, below 135, and below the 130 °F at which whole roasts may be held.
NOT_MET = {**MET, "19:00": 120}

#: Nothing was read after the food came out of the smoker.
NOT_SHOWN = {"06:00": 40, "10:00": 150, "14:00": 203}


def write_record(
    folder: Path, readings: dict[str, int], *, lot: str = "lamb", finished: bool = True
) -> Path:
    """Write a record with readings [°F] by clock time; `finished` notes the end of service."""
    parts = [_HEAD.format(lot=lot)]
    for clock, step in _STEPS.items():
        parts.append(f'[[note]]\nat = "2026-07-04 {clock}"\nstep = "{step}"\n')
    if finished:
        parts.append('[[note]]\nat = "2026-07-04 19:00"\nevent = "finished"\n')
    for clock, value in readings.items():
        parts.append(f'[[reading]]\nat = "2026-07-04 {clock}"\ntemp = "{value} F"\nprobe = "A"\n')
    path = folder / f"{lot}.toml"
    path.write_text("\n".join(parts), encoding="utf-8")
    return path
