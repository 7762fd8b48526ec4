"""The checks of a probe: what it showed, and what it should have shown as far as that is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from tempwitness.model.lot import ProbeCheck
from tempwitness.readers.boiling import boiling_at_height, boiling_by_barometer, unlike_station
from tempwitness.readers.hand import times
from tempwitness.units import Unit, convert, format_degrees

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.readers.boiling import Boiling
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import CheckTable
    from tempwitness.readers.timeline import Frame

__all__ = ["probe_checks"]

# Melting ice: 0 °C by the definition of the old Celsius scale, within 0.01 °C on ITS-90.
_ICE_C = 0.0
_HIGHEST_M = 11_000.0


@dataclass(frozen=True, slots=True)
class _Due:
    """What a probe should have shown, and bounds where nobody knows it exactly."""

    expected: float
    least: float | None = None
    most: float | None = None

    def words(self, unit: Unit) -> str:
        """Write it for a person."""
        text = format_degrees(self.expected, unit)
        if self.least is None or self.most is None:
            return text
        least, most = (format_degrees(side, unit) for side in (self.least, self.most))
        return f"{text}, at the least {least} and at the most {most}"


def probe_checks(
    tables: Sequence[CheckTable], key: str, frame: Frame, problems: Problems
) -> tuple[ProbeCheck, ...]:
    """Return the checks of a probe in order of time."""
    if not tables:
        return ()
    placed = times(tables, key, frame, problems)
    if placed.assumption:
        # Before or after the lot: that decides what a failed check means, so it is not assumed.
        problems.stop(
            "a probe check needs its date: what it proves depends on whether it came before or "
            "after the readings",
            'write it as at = "2026-07-04 04:30"',
            key=f"{key}[1].at",
        )
    at = placed.at
    checks = [
        _check(table, float(at[i]), f"{key}[{i + 1}]", problems) for i, table in enumerate(tables)
    ]
    return tuple(sorted((c for c in checks if c is not None), key=lambda c: c.at))


def _check(table: CheckTable, at: float, key: str, problems: Problems) -> ProbeCheck | None:
    read, unit = table.read
    due = _expected(table, unit, key, problems)
    if due is None:
        return None
    text = f"{table.kind}: read {format_degrees(read, unit)}, should read {due.words(unit)}"
    return ProbeCheck(at, table.kind, read, due.expected, unit, text, due.least, due.most)


def _expected(table: CheckTable, unit: Unit, key: str, problems: Problems) -> _Due | None:
    """What the probe should have shown, on the scale on which it was read."""
    if table.expected is not None and table.elevation is not None:
        problems.add("give 'expected' or 'elevation', not both", key=f"{key}.elevation")
        return None
    if table.station_pressure is not None and (table.kind != "boiling" or table.elevation is None):
        problems.add(
            "a pressure belongs to a boiling check and needs 'elevation' beside it, which tells "
            "a pressure of the place from one reduced to sea level",
            'add elevation = "5280 ft" to a boiling check; leave the pressure out of any other',
            key=f"{key}.station_pressure",
        )
        return None
    if table.expected is not None:
        return _Due(convert(table.expected[0], table.expected[1], unit))
    if table.kind == "ice":
        return _Due(convert(_ICE_C, Unit.C, unit))
    if table.kind == "boiling" and table.elevation is not None:
        found = _boiling(table.elevation, table.station_pressure, key, problems)
        return None if found is None else _on_scale(found, unit)
    needs = "'elevation' or 'expected'" if table.kind == "boiling" else "'expected'"
    problems.add(
        f"a {table.kind} check does not say what the probe should have shown",
        f"add {needs}, such as "
        + ('elevation = "5280 ft"' if table.kind == "boiling" else 'expected = "140.0 F"'),
        key=key,
    )
    return None


def _on_scale(found: Boiling, unit: Unit) -> _Due:
    expected = convert(found.celsius, Unit.C, unit)
    if found.least == found.most:
        return _Due(expected)
    return _Due(expected, convert(found.least, Unit.C, unit), convert(found.most, Unit.C, unit))


def _boiling(height: float, pascal: float | None, key: str, problems: Problems) -> Boiling | None:
    if height > _HIGHEST_M:
        problems.add("this height is above all kitchens", key=f"{key}.elevation")
        return None
    if pascal is None:
        return boiling_at_height(height)
    wrong = unlike_station(pascal, height)
    if wrong:
        problems.add(
            wrong,
            "read a barometer on the spot, or leave the pressure out",
            key=f"{key}.station_pressure",
        )
        return None
    return boiling_by_barometer(pascal, height)
