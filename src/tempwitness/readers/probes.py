"""The probes of a record: what is stated of each, and what its readings tell."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from tempwitness.model.lot import Probe
from tempwitness.model.vocabulary import Place
from tempwitness.readers.probe_checks import probe_checks
from tempwitness.readers.steps import steps_of_probes
from tempwitness.rulebook.thermometers import kind_of, probe_figures
from tempwitness.units import Unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tempwitness.model.logs import Channel
    from tempwitness.readers.names import Names
    from tempwitness.readers.problems import Problems
    from tempwitness.readers.shape import ProbeTable
    from tempwitness.readers.timeline import Frame

__all__ = ["all_probes", "listed_probes", "refuse_out_of_reach"]

Listed = dict[str, tuple[Probe, bool]]


def listed_probes(tables: Sequence[ProbeTable], frame: Frame, problems: Problems) -> Listed:
    """Probes that the record lists, each with whether its scale was stated."""
    found: Listed = {}
    for i, table in enumerate(tables):
        key = f"probe[{i + 1}]"
        if table.id in found:
            problems.add(
                f"there are two probes '{table.id}'", "give each its own id", key=f"{key}.id"
            )
        found[table.id] = (_probe(table, key, frame, problems), table.scale is not None)
    return found


def _probe(table: ProbeTable, key: str, frame: Frame, problems: Problems) -> Probe:
    checks = probe_checks(table.check, f"{key}.check", frame, problems)
    for name, stated in (("accuracy", table.accuracy), ("resolution", table.resolution)):
        if stated is not None and stated[0] <= 0:
            what = "plus or minus a number" if name == "accuracy" else "a step"
            problems.add(f"the {name} of a probe is {what} above nothing", key=f"{key}.{name}")
    _refuse_unknown_class(table, key, problems)
    accuracy, resolution = table.accuracy or (None, Unit.F), table.resolution or (None, Unit.F)
    return Probe(
        id=table.id,
        kind=table.kind,
        scale=table.scale or _scale({check.unit for check in checks}),
        reads=table.reads,
        accuracy=accuracy[0],
        accuracy_unit=accuracy[1],
        resolution=resolution[0],
        resolution_unit=resolution[1],
        tolerance_class=table.class_ or "",
        correct=table.correct,
        drift=table.drift,
        checks=checks,
    )


def _refuse_unknown_class(table: ProbeTable, key: str, problems: Problems) -> None:
    """Refuse a class that the probe's kind does not have: it would bound nothing."""
    if table.class_ is None:
        return
    kind, classes = kind_of(table.kind), probe_figures().classes
    if kind is not None and (kind.id, table.class_) in classes:
        return
    known = sorted({name for name, _ in classes})
    has = [c for name, c in classes if kind is not None and name == kind.id]
    told = f"a {kind.id.replace('_', ' ')} has {', '.join(has)}" if kind and has else ""
    problems.add(
        f"class '{table.class_}' says nothing of a probe of kind '{table.kind}'"
        if table.kind
        else f"class '{table.class_}' says nothing without the kind of sensor",
        told
        or "classes belong to these kinds: "
        + ", ".join(f"'{name.replace('_', ' ')}'" for name in known)
        + "; leave the class out for any other",
        key=f"{key}.class",
    )


def _scale(units: set[Unit]) -> Literal["F", "C", "both"]:
    if units == {Unit.C}:
        return "C"
    return "both" if len(units) > 1 else "F"


def refuse_out_of_reach(listed: Listed, channels: Sequence[Channel], problems: Problems) -> None:
    """Refuse readings of a place that the kind of probe cannot read, such as a core by infrared."""
    for probe, _ in listed.values():
        kind = kind_of(probe.kind)
        if kind is None or kind.points is None:
            continue
        for channel in channels:
            if channel.place.value not in kind.points and probe.id in channel.probe:
                row = 0 if len(channel.probe) == 1 else channel.probe.index(probe.id)
                _refuse_place(probe, channel, row, problems)


def _refuse_place(probe: Probe, channel: Channel, row: int, problems: Problems) -> None:
    by_hand = channel.source == "record"
    line = int(channel.line[row]) if len(channel) else 1
    where = f"reading {line}" if by_hand else f"{channel.source}, line {line}"
    kind = kind_of(probe.kind)
    can = " or ".join(sorted(kind.points)) if kind is not None and kind.points else ""
    problems.add(
        f"{where}: probe '{probe.id}' is {probe.kind}, which reads the {can} of food and never "
        f"its {channel.place.value}",
        f'write place = "{can}" for what it read, or name the probe that was put in',
        key=f"reading[{line}].place" if by_hand else None,
    )


def all_probes(listed: Listed, channels: Sequence[Channel], names: Names) -> tuple[Probe, ...]:
    """Listed probes, then those that readings alone mention.

    What was not stated is taken from the readings: a probe read in °C only has a Celsius scale,
    one that only took air readings is an air probe, and its figures tell in which steps it shows.
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
    steps = steps_of_probes(channels)
    found = []
    for known, stated in listed.values():
        seen = units.get(known.id, set()) | {c.unit for c in known.checks}
        scaled = known if stated or not seen else replace(known, scale=_scale(seen))
        found.append(_with_step(scaled, steps))
    for name in names.met_probes:
        if name not in listed and name in units:
            reads: Literal["food", "air"] = "food" if name in food else "air"
            found.append(_with_step(Probe(name, scale=_scale(units[name]), reads=reads), steps))
    return tuple(found)


def _with_step(probe: Probe, steps: dict[str, tuple[float, Unit]]) -> Probe:
    step = steps.get(probe.id)
    return probe if step is None else replace(probe, step=step[0], step_unit=step[1])
