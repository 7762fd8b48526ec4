"""Questions of ``tempwitness new`` about the probes and their last ice checks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tempwitness.cli.new_ask import Asker, refuse, refuse_doubles, say
from tempwitness.drafting.lines import check_line
from tempwitness.drafting.probes import BY_HAND, Group, assign, groups, probe_tables

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date

    from tempwitness.cli.new_given import Given
    from tempwitness.cli.new_log import Log
    from tempwitness.drafting.draft import Draft, Table

__all__ = ["ask_probes"]


def ask_probes(asker: Asker, given: Given, draft: Draft, log: Log, begin: date | None) -> None:
    """Ask which probe took which readings, and write all that was read into the draft.

    Raises
    ------
    InputError
        If an option cannot be understood, or only some of the readings get their probe.
    """
    open_ones = groups(log.seen, log.readings)
    named = bool(probe_tables({}, log.seen, log.readings))
    names = _names(asker, given, open_ones, named=named)
    tables = probe_tables(names, log.seen, log.readings)
    checks = _told_checks(given, tables)
    for name, table in tables.items():
        found = asker.one(
            _check_question(name, begin),
            "--ice",
            checks.get(name, ""),
            lambda text: check_line(text, begin),
        )
        if found is not None:
            say(f"  ice check of {name}: {found['read']} at {found['at']}")
            table["check"] = [found]
    draft.files, draft.readings = assign(names, log.seen, log.readings)
    draft.probes = list(tables.values())


def _check_question(name: str, begin: date | None) -> str:
    day = f"of {begin} unless dated" if begin else "with its date"
    return f"Last ice check of {name}: 05:30 32 F, {day} (Enter if none is known)"


def _names(
    asker: Asker, given: Given, open_ones: Sequence[Group], *, named: bool
) -> dict[Group, str]:
    """Name the probe of every group, or of none."""
    told = _told(given, open_ones)
    names: dict[Group, str] = {}
    for i, group in enumerate(open_ones):
        needed = named or bool(names) or bool(told)
        if i == 0 and len(open_ones) > 1 and asker.asks and not told:
            say(
                "Each reading's probe is named, or none is: one probe's check must not speak for "
                "another."
            )
        whose = "the readings typed in" if group.label == BY_HAND else f"column {group.label}"
        leave = "" if needed else " (Enter to leave open)"
        name = asker.one(
            f"Name of the probe that took {whose}{leave}",
            f"--probe '{group.label}=NAME'",
            told.get(group, ""),
            str,
            needed=needed,
        )
        if not name:
            return {}
        names[group] = name
    return names


def _told(given: Given, open_ones: Sequence[Group]) -> dict[Group, str]:
    refuse_doubles("--probe", given.probe)
    labels = {group.label: group for group in open_ones}
    found: dict[Group, str] = {}
    for text in given.probe:
        label, sign, name = text.rpartition("=")
        if sign and label in labels and name:
            found[labels[label]] = name
        elif not sign and text and len(given.probe) == 1 and open_ones:
            return dict.fromkeys(open_ones, text)
        else:
            raise refuse(
                "--probe",
                f"'{text}' does not say whose probe it is",
                "write COLUMN=NAME with one of " + ", ".join(labels)
                if labels
                else "no reading is without its probe",
            )
    return found


def _told_checks(given: Given, tables: Mapping[str, Table]) -> dict[str, str]:
    found: dict[str, str] = {}
    for text in given.ice:
        name, sign, line = text.rpartition("=")
        if not sign and len(tables) == 1:
            name = next(iter(tables))
        if name not in tables or name in found:
            raise refuse(
                "--ice",
                f"'{text}' does not name a probe of this record, or names one twice",
                f"write PROBE=LINE with one of {', '.join(tables)}"
                if tables
                else "name the probe first, with --probe",
            )
        found[name] = line
    return found
