"""Write the loggers' files of the sample records anew: ``python sample_records/generate.py``.

Everything in them is invented. The same run always gives the same bytes.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

from curves import Stretch, curve, ripple, write_log

HERE = Path(__file__).parent


def clock(text: str) -> datetime:
    """Read a logger's clock, which knows no zone."""
    return datetime.fromisoformat(text)


def lamb_all_day(folder: Path) -> None:
    """Two lamb shoulders from the refrigerator to the next morning's refrigerator."""
    start = clock("2026-06-12 21:30")

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
        clock("2026-06-13 05:00"),
        {"air_f": ripple(pit, 3, 6.0)},
        every=5,
        decimals=0,
    )


def brisket_box_gap(folder: Path) -> None:
    """Two briskets in the pit overnight; the logger ends when they go into the box."""
    large = curve(39.0, [Stretch(720, 245.0, 400.0, stall=True)])
    small = curve(39.6, [Stretch(720, 245.0, 370.0, stall=True)])
    write_log(
        folder / "pit.csv",
        clock("2026-05-15 18:00"),
        {"large_f": ripple(large, 21, 0.2), "small_f": ripple(small, 22, 0.2)},
        every=5,
    )


def sliced_at_131(folder: Path) -> None:
    """A rib roast in a slow oven, then slices in a drawer that is set too low."""
    roast = curve(
        40.0,
        [
            Stretch(360, 158.0, 190.0),  # slow oven until 16:00
            Stretch(10, 70.0, 110.0),  # sliced on the board
            Stretch(150, 131.2, 25.0),  # holding drawer until 18:40
        ],
    )
    write_log(
        folder / "roast.csv",
        clock("2026-04-18 10:00"),
        {"roast_f": ripple(roast, 61, 0.1)},
        every=5,
    )


def night_clocks_go_back(folder: Path) -> None:
    """Trays of lamb in a walk-in; the clock of the logger goes back an hour at 02:00."""
    tray = curve(
        158.0,
        [
            Stretch(150, 150.0, 60.0),  # cabinet until 23:30
            Stretch(135, 34.0, 85.0, begin=152.0),  # before the fan until 01:45
            Stretch(435, 36.5, 169.0),  # stacked and covered
        ],
    )
    start = clock("2026-10-31 21:00")
    change = clock("2026-11-01 02:00")
    rows = [
        f"{at if at < change else at - timedelta(hours=1):%Y-%m-%d %H:%M},{value:.1f}"
        for at, value in ((start + timedelta(minutes=m), tray[m]) for m in range(0, 721, 15))
    ]
    text = "\n".join(["time,tray_f", *rows]) + "\n"
    (folder / "night.csv").write_text(text, encoding="utf-8", newline="\n")


def thirty_hours_unnoted(folder: Path) -> None:
    """A lamb neck through a day and a night, every stage told by its curve alone."""
    neck = curve(
        38.5,
        [
            Stretch(120, 37.5, 400.0),  # refrigerator until 20:00
            Stretch(600, 240.0, 305.0, stall=True),  # smoker until 06:00
            Stretch(180, 75.0, 620.0),  # wrapped in the box until 09:00
            Stretch(240, 158.0, 35.0),  # cabinet until 13:00
            Stretch(300, 34.0, 75.0),  # shallow pans, refrigerator until 18:00
            Stretch(270, 36.5, 200.0),  # refrigerator until 22:30
            Stretch(80, 260.0, 85.0),  # stove until 23:50
            Stretch(10, 200.0, 300.0),  # low heat until 00:00
        ],
    )
    write_log(
        folder / "trace.csv",
        clock("2026-03-06 18:00"),
        {"neck_f": ripple(neck, 101, 0.2)},
        every=5,
    )


WRITERS = {
    "01-lamb-all-day": lamb_all_day,
    "02-brisket-box-gap": brisket_box_gap,
    "06-sliced-at-131": sliced_at_131,
    "07-night-clocks-go-back": night_clocks_go_back,
    "10-thirty-hours-unnoted": thirty_hours_unnoted,
}


def generate(target: Path) -> None:
    """Write every logger's file below a folder, which gets one folder a story."""
    for name, write in WRITERS.items():
        folder = target / name
        folder.mkdir(parents=True, exist_ok=True)
        write(folder)


if __name__ == "__main__":
    generate(HERE)
