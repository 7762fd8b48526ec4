"""The probes of a record with their checks."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from tempwitness.model.lot import Probe, ProbeCheck
from tempwitness.model.vocabulary import Place
from tempwitness.readers.boiling import boiling_point_c, boiling_under_c, unlike_station
from tempwitness.readers.hand import times
from tempwitness.units import Unit, convert, format_degrees

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Channel
    from tempwitness.readers.names import Names
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import CheckTable, ProbeTable
    from tempwitness.readers.timeline import Frame

__all__ = ["all_probes", "listed_probes"]

# Melting ice: 0 °C by the definition of the old Celsius scale, within 0.01 °C on ITS-90.
_ICE_C = 0.0
_HIGHEST_M = 11_000.0


def listed_probes(
    tables: Sequence[ProbeTable], frame: Frame, problems: Problems
) -> dict[str, tuple[Probe, bool]]:
    """Probes that the record lists, each with whether its scale was stated."""
    found: dict[str, tuple[Probe, bool]] = {}
    for i, table in enumerate(tables):
        key = f"probe[{i + 1}]"
        if table.id in found:
            problems.add(
                f"there are two probes '{table.id}'", "give each its own id", key=f"{key}.id"
            )
        found[table.id] = (_probe(table, key, frame, problems), table.scale is not None)
    return found


def _probe(table: ProbeTable, key: str, frame: Frame, problems: Problems) -> Probe:
    checks = _checks(table.check, f"{key}.check", frame, problems)
    if table.accuracy is not None and table.accuracy[0] <= 0:
        problems.add("an accuracy is plus or minus a number above nothing", key=f"{key}.accuracy")
    return Probe(
        id=table.id,
        kind=table.kind,
        scale=table.scale or _scale({check.unit for check in checks}),
        reads=table.reads,
        accuracy=table.accuracy[0] if table.accuracy else None,
        accuracy_unit=table.accuracy[1] if table.accuracy else Unit.F,
        correct=table.correct,
        drift=table.drift,
        checks=checks,
    )


def _checks(
    tables: Sequence[CheckTable], key: str, frame: Frame, problems: Problems
) -> tuple[ProbeCheck, ...]:
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
    expected = _expected(table, unit, key, problems)
    if expected is None:
        return None
    text = (
        f"{table.kind}: read {format_degrees(read, unit)}, "
        f"should read {format_degrees(expected, unit)}"
    )
    return ProbeCheck(at, table.kind, read, expected, unit, text)


def _expected(table: CheckTable, unit: Unit, key: str, problems: Problems) -> float | None:
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
        return convert(table.expected[0], table.expected[1], unit)
    if table.kind == "ice":
        return convert(_ICE_C, Unit.C, unit)
    if table.kind == "boiling" and table.elevation is not None:
        celsius = _boiling_c(table.elevation, table.station_pressure, key, problems)
        return None if celsius is None else convert(celsius, Unit.C, unit)
    needs = "'elevation' or 'expected'" if table.kind == "boiling" else "'expected'"
    problems.add(
        f"a {table.kind} check does not say what the probe should have shown",
        f"add {needs}, such as "
        + ('elevation = "5280 ft"' if table.kind == "boiling" else 'expected = "140.0 F"'),
        key=key,
    )
    return None


def _boiling_c(height: float, pascal: float | None, key: str, problems: Problems) -> float | None:
    if height > _HIGHEST_M:
        problems.add("this height is above all kitchens", key=f"{key}.elevation")
        return None
    if pascal is None:
        return boiling_point_c(height)
    wrong = unlike_station(pascal, height)
    if wrong:
        problems.add(
            wrong,
            "read a barometer on the spot, or leave the pressure out",
            key=f"{key}.station_pressure",
        )
        return None
    return boiling_under_c(pascal)


def _scale(units: set[Unit]) -> Literal["F", "C", "both"]:
    if units == {Unit.C}:
        return "C"
    return "both" if len(units) > 1 else "F"


def all_probes(
    listed: dict[str, tuple[Probe, bool]], channels: Sequence[Channel], names: Names
) -> tuple[Probe, ...]:
    """Listed probes, then those that readings alone mention.

    What was not stated is taken from the readings: a probe read in °C only has a Celsius scale,
    one that only took air readings is an air probe.
    """
    units: dict[str, set[Unit]] = {}
    food: set[str] = set()
    for channel in channels:
        kinds = {Unit.C} if bool(channel.celsius.any()) else set()
        kinds |= set() if bool(channel.celsius.all()) else {Unit.F}
        for probe in set(channel.probe):
            units.setdefault(probe, set()).update(kinds)
            if channel.place is not Place.AIR:
                food.add(probe)
    found = []
    for known, stated in listed.values():
        seen = units.get(known.id, set()) | {c.unit for c in known.checks}
        found.append(known if stated or not seen else replace(known, scale=_scale(seen)))
    for name in names.met_probes:
        if name not in listed and name in units:
            reads: Literal["food", "air"] = "food" if name in food else "air"
            found.append(Probe(name, scale=_scale(units[name]), reads=reads))
    return tuple(found)
