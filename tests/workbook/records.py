"""Random records as raw tables, and the same tables as a TOML file."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from hypothesis import strategies as st

from tempwitness.drafting.toml_text import key, text
from tempwitness.model.vocabulary import Event, Place, StageName

Table = dict[str, Any]

_START = datetime(2026, 7, 4, 6, 0)  # noqa: DTZ001 - a wall clock, as records write it
_BLANK_ENDS = st.text(
    st.characters(exclude_categories=("Cc", "Cs"), include_characters="\n\t"),
    min_size=1,
    max_size=30,
).filter(str.strip)
ODD = ("=1+1", "+41", "@cook", "_x000D_ of it", "'quoted'", '"so"', "a;b", "  in  ", "#N/A", "007")
FREE = st.one_of(_BLANK_ENDS, st.sampled_from(ODD))
WORDS = FREE.map(str.strip).filter(bool)
TEMPS = st.one_of(
    st.integers(30, 210).map(lambda f: f"{f} F"),
    st.decimals(0, 95, places=1).map(lambda c: f"{c} °C"),
    st.sampled_from(["~150 F", "<41 F", ">= 135 F", "140-145 F", "165F ?", "\u2212 3 C"]),
)
_YES = st.sampled_from(["yes", "no", "unknown"])


def some(**fields: st.SearchStrategy[Any]) -> st.SearchStrategy[Table]:
    """Draw a table in which each key may be missing."""
    return st.fixed_dictionaries({}, optional=fields)


@st.composite
def moments(draw: st.DrawFn, count: int) -> list[Any]:
    """Draw times that follow one another, as texts and as TOML's own local times."""
    at = _START
    found: list[Any] = []
    for _ in range(count):
        at += timedelta(minutes=draw(st.integers(1, 200)), seconds=draw(st.sampled_from([0, 0, 5])))
        kind = draw(st.sampled_from(["text", "local", "fraction", "midnight"]))
        if kind == "midnight":
            at = datetime.combine(at.date() + timedelta(days=1), datetime.min.time())
        if kind == "fraction":
            found.append(at + timedelta(microseconds=250000))
        else:
            found.append(at.isoformat(" ") if kind == "text" else at)
    return found


@st.composite
def timed(draw: st.DrawFn, fields: st.SearchStrategy[Table], most: int) -> list[Table]:
    """Draw entries with their times."""
    entries = draw(st.lists(fields, max_size=most))
    times = draw(moments(len(entries)))
    return [{"at": at, **entry} for at, entry in zip(times, entries, strict=True)]


@st.composite
def probes(draw: st.DrawFn) -> list[Table]:
    """Draw probes with their checks."""
    found = []
    for name in draw(st.lists(st.sampled_from(["A", "pen", "7"]), unique=True, max_size=2)):
        probe = draw(
            some(
                kind=WORDS,
                scale=st.sampled_from(["F", "C", "both"]),
                accuracy=st.just("1.8 F"),
                resolution=st.just("0.1 C"),
                correct=st.booleans(),
                drift=st.sampled_from(["unknown", "constant"]),
                **{"class": st.sampled_from(["A", "2"])},
            )
        )
        ice = st.fixed_dictionaries({"kind": st.just("ice"), "read": st.just("32.4 F")})
        other = st.fixed_dictionaries(
            {"kind": st.just("reference"), "read": st.just("60 C"), "expected": st.just("60.1 C")}
        )
        checks = draw(timed(st.one_of(ice, other), 2))
        found.append({"id": name, **probe, **({"check": checks} if checks else {})})
    return found


@st.composite
def records(draw: st.DrawFn) -> Table:
    """Draw a record; a few of them hold what every reader must refuse."""
    listed = draw(st.lists(st.sampled_from(["left", "right", "3", "Gril\u00e9"]), unique=True))
    pieces = [{"id": p, **draw(some(weight=st.just("4.1 kg")))} for p in listed]
    known = draw(probes())
    of_piece = {"piece": st.sampled_from(listed)} if listed else {}
    of_probe = {"probe": st.sampled_from([p["id"] for p in known])} if known else {}
    readings = st.tuples(
        st.fixed_dictionaries({"temp": TEMPS, **(of_piece if len(listed) > 1 else {})}),
        some(
            place=st.sampled_from([p.value for p in Place]),
            by=WORDS,
            typed_later=st.booleans(),
            point=st.sampled_from(["tip", "bone"]),
            **of_probe,
        ),
    ).map(lambda pair: pair[0] | pair[1])
    notes = some(
        step=st.sampled_from([s.value for s in StageName]),
        event=st.sampled_from([e.value for e in Event]),
        text=FREE,
        method=st.sampled_from(["ice_bath", "refrigerator"]),
        **of_piece,
    ).filter(bool)
    record: Table = {
        "schema": 1,
        "lot": draw(WORDS),
        "zone": "America/Chicago",
        "code": draw(st.sampled_from(["us/food-code/2022", "us/food-code/2017"])),
        "food": {"name": "lamb shoulder", **draw(_food())},
        **draw(_top()),
        "piece": pieces,
        "probe": known,
        "reading": draw(timed(readings, 6)),
        "note": draw(timed(notes, 5)),
        **draw(_rest(listed)),
    }
    return {name: value for name, value in record.items() if value not in ([], {})}


def _food() -> st.SearchStrategy[Table]:
    return some(
        species=st.sampled_from(["lamb", "beef"]),
        cut=st.sampled_from(["roast", "steak"]),
        form=st.sampled_from(["intact", ["intact"], ["injected", "ground"]]),
        weight=st.sampled_from(["9 lb", "9 lb 4 oz"]),
        thickness=st.sampled_from(["4 in", "10 cm"]),
        shape=st.sampled_from(["any", "flat", "long"]),
        facts=some(cured=st.sampled_from(["yes", "no"])),
    )


def _top() -> st.SearchStrategy[Table]:
    return some(
        place=st.just("us/wa"),
        also=st.sampled_from([[], ["trade/smoking"], ["trade/smoking", "us/consumer-advice"]]),
        overrides=st.sampled_from([["county.toml"], ["a b.toml", "c.toml"]]),
        business=st.sampled_from(["caterer", "temporary_event"]),
        event=WORDS,
        cook=WORDS,
        date=st.just(date(2026, 7, 4)),
        facts=some(vacuum_packed=_YES, oven_line=st.just("kept")),
    )


def _rest(listed: list[str]) -> st.SearchStrategy[Table]:
    days = st.dates(date(2020, 1, 1), date(2026, 7, 4))
    approval = st.fixed_dictionaries(
        {"kind": WORDS, "authority": WORDS, "number": WORDS, "granted": days},
        optional={"expires": days},
    )
    covers = {"pieces": st.lists(st.sampled_from(listed), min_size=1)} if listed else {}
    plan = st.fixed_dictionaries(
        {"option": st.sampled_from(["4h", "6h"])},
        optional={"written": days, "marked": _YES, **covers},
    )
    rate = st.fixed_dictionaries(
        {"up": st.just("0.4 F/min"), "reason": FREE},
        optional={"stage": st.just("cook"), "down": st.just("12 C/h")},
    )
    passive = st.fixed_dictionaries(
        {
            "stage": st.just("cold_hold"),
            "ambient": st.just(["36 F", "41 F"]),
            "per_hour": st.sampled_from([[0.3, 0.9], [0.1, 0.30000000000000004]]),
            "reason": FREE,
        }
    )
    return some(
        approval=st.lists(approval, max_size=2),
        time_control=timed(plan, 2),
        rate=st.lists(rate, max_size=1),
        passive=st.lists(passive, max_size=1),
    )


def toml_of(record: Table) -> str:
    """Write a record as TOML, lists of tables inline."""
    return "".join(f"{key(name)} = {_toml(value)}\n" for name, value in record.items())


def _toml(value: object) -> str:
    if isinstance(value, str):
        return text(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key(k)} = {_toml(v)}' for k, v in value.items())} }}"
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    return repr(value)
