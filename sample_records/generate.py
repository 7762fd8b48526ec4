"""Write the loggers' files of the sample records anew: ``python sample_records/generate.py``.

Everything in them is invented. The same run always gives the same bytes.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from curves import Stretch, curve, ripple, write_log

HERE = Path(__file__).parent


def lamb_all_day(folder: Path) -> None:
    """Two lamb shoulders from the refrigerator to the next morning's refrigerator."""
    start = datetime(2026, 6, 12, 21, 30)  # noqa: DTZ001 - a logger's clock knows no zone

    def shoulder(cold: float, tau: float) -> list[float]:
        return curve(
            cold,
            [
                Stretch(450, 37.0, 600.0),  # refrigerator until 05:00
                Stretch(540, 250.0, tau, stall=True),  # smoker until 14:00
                Stretch(150, 78.0, 1100.0),  # wrapped in the box until 16:30
                Stretch(110, 160.0, 240.0),  # heated cabinet until 18:20
                Stretch(10, 70.0, 90.0),  # sliced
                Stretch(90, 162.0, 120.0),  # chafing dish until 20:00
                Stretch(210, 33.0, 62.0, begin=150.0),  # shallow pans on ice
                Stretch(630, 37.0, 300.0),  # refrigerator until 10:00
            ],
        )

    write_log(
        folder / "meat.csv",
        start,
        {
            "left_f": ripple(shoulder(38.4, 300.0), 1, 0.2),
            "right_f": ripple(shoulder(38.9, 320.0), 2, 0.2),
        },
        every=5,
    )
    pit = curve(252.0, [Stretch(540, 256.0, 30.0)])
    write_log(
        folder / "pit.csv",
        datetime(2026, 6, 13, 5, 0),  # noqa: DTZ001 - a logger's clock knows no zone
        {"air_f": ripple(pit, 3, 6.0)},
        every=5,
        decimals=0,
    )


WRITERS = {"01-lamb-all-day": lamb_all_day}


def generate(target: Path) -> None:
    """Write every logger's file below a folder, which gets one folder a story."""
    for name, write in WRITERS.items():
        folder = target / name
        folder.mkdir(parents=True, exist_ok=True)
        write(folder)


if __name__ == "__main__":
    generate(HERE)
