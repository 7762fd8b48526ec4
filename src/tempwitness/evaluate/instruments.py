"""What the record says, and does not say, of its thermometers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from tempwitness.calibration.accuracy import class_of, resolution
from tempwitness.calibration.settings import check_figures
from tempwitness.model.finding import ProbeSummary
from tempwitness.rulebook.thermometers import kind_of

if TYPE_CHECKING:
    from tempwitness.evaluate.subject import Subject
    from tempwitness.model.lot import Probe

__all__ = ["checks_rest_on", "not_vouched_for", "probe_summaries"]

_DAY_S = 86_400.0


def probe_summaries(subject: Subject) -> tuple[ProbeSummary, ...]:
    """Return the probes, what is stated of them, and their checks."""
    return tuple(_summary(probe, subject) for probe in subject.log.raw.probes)


def _summary(probe: Probe, subject: Subject) -> ProbeSummary:
    return ProbeSummary(
        id=probe.id,
        kind=probe.kind,
        accuracy=_accuracy(probe),
        checks=tuple(f"{subject.local.iso(c.at)} {c.text}" for c in probe.checks),
        resolution=resolution(probe).words,
        remark=""
        if not probe.kind or kind_of(probe.kind)
        else f"'{probe.kind}' is no kind that this program knows, so nothing follows from it",
    )


def _accuracy(probe: Probe) -> str:
    if probe.accuracy is not None:
        return f"±{probe.accuracy:g} {probe.accuracy_unit.symbol}"
    sensor = class_of(probe)
    return "not stated" if sensor is None else f"class {sensor.id} of {sensor.standard} (sensor)"


def not_vouched_for(subject: Subject) -> tuple[str, ...]:
    """Name the probes whose readings no check bears out: there is none, or it is too old."""
    last = _last_readings(subject)
    probes = {p.id: p for p in subject.log.raw.probes}
    lines = []
    for name in sorted(last):
        what = f"probe {name}" if name else "the thermometer"
        probe = probes.get(name)
        if probe is None or not probe.checks:
            lines.append(f"no check of {what} is on record: how true it reads is not known")
            continue
        age = last[name] - probe.checks[-1].at
        if age > check_figures().oldest:
            lines.append(
                f"the last check of {what} was {age / _DAY_S:.0f} days before its last "
                "reading: how true it read by then is not known"
            )
    return tuple(lines)


def _last_readings(subject: Subject) -> dict[str, float]:
    """Moment of the last reading of each probe [s]."""
    found: dict[str, float] = {}
    for channel in subject.log.raw.channels:
        if not len(channel):
            continue
        taken = np.array(channel.probe, dtype=object)
        for name in dict.fromkeys(channel.probe):
            mine = channel.at if len(channel.probe) == 1 else channel.at[taken == name]
            found[name] = max(found.get(name, -np.inf), float(mine.max()))
    return found


def checks_rest_on(subject: Subject) -> tuple[str, ...]:
    """Say what the ice checks of the record take for granted."""
    iced = [p.id for p in subject.log.raw.probes if any(c.kind == "ice" for c in p.checks)]
    if not iced:
        return ()
    return (f"An ice check shows what it should only in a well-made bath: {check_figures().ice}.",)
