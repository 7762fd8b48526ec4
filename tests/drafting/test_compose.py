"""The text of a record: what is open is a comment, and every comment is a line that would do."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tempwitness.drafting.compose import compose, left_open
from tempwitness.drafting.draft import Draft
from tempwitness.readers import read_record
from tempwitness.readers.shape import RecordTable

_LINE = re.compile(r"^# ((?:\w+ = |\[).*)$", re.MULTILINE)


def bare() -> Draft:
    return Draft(
        head={"lot": "beans", "code": "us/food-code/2022", "zone": "America/Chicago"},
        food={"name": "pit beans"},
        kind="plant, pan",
    )


def test_what_was_not_answered_is_absent() -> None:
    assert tomllib.loads(compose(bare())) == {
        "schema": 1,
        "lot": "beans",
        "code": "us/food-code/2022",
        "zone": "America/Chicago",
        "food": {"name": "pit beans"},
    }


def test_every_open_question_is_named_and_has_its_comment() -> None:
    assert left_open(bare()) == [
        *("business", "event", "cook", "food.form", "food.weight", "facts", "probe", "reading"),
        "note",
    ]
    text = compose(bare())
    for line in ("business =", "event =", "cook =", "form =", "weight =", "cured =", "temp ="):
        assert f"# {line}" in text
    for table in ("[facts]", "[[probe]]", "[[reading]]", "[[note]]"):
        assert f"# {table}" in text


def test_a_hash_taken_away_leaves_a_line_that_the_record_knows() -> None:
    draft = bare()
    draft.kind = "plant"  # the cut is open too
    text, count = _LINE.subn(r"\1", compose(draft))
    record = RecordTable.model_validate(tomllib.loads(text))
    # business, event, cook; cut, form, weight; facts, cured; probe 3, reading 3, note 3
    assert count == 17
    assert record.food.cut == "roast"
    assert record.food.form == ("intact",)
    assert record.facts == {"cured": "no"}
    assert [len(t) for t in (record.probe, record.reading, record.note)] == [1, 1, 1]
    assert len(record.probe[0].check) == 1


def test_a_probe_without_a_check_says_what_is_missing() -> None:
    draft = bare()
    draft.probes = [{"id": "pen"}]
    text = compose(draft)
    assert 'id = "pen"\n# check = [' in text
    assert "probe.check of pen" in left_open(draft)
    record = RecordTable.model_validate(tomllib.loads(_LINE.sub(r"\1", text)))
    assert record.probe[0].check[0].kind == "ice"


def test_what_was_answered_leaves_no_question() -> None:
    draft = Draft(
        head={
            **bare().head,
            "business": "caterer",
            "event": "fair",
            "cook": "A. B.",
            "date": date(2026, 7, 4),
        },
        food={"name": "lamb", "cut": "roast", "form": ["injected", "stuffed"], "weight": "9 lb"},
        facts={"cured": "no"},
        pieces=[{"id": "left"}],
        probes=[{"id": "A", "check": [{"at": "2026-07-04 05:00", "kind": "ice", "read": "32 F"}]}],
        files=[{"path": "a.csv", "columns": {"Probe 1": {"unit": "F"}, "x": {"as": "time"}}}],
        readings=[{"at": "2026-07-04 06:00", "temp": "40 F"}],
        notes=[{"at": "2026-07-04 06:00", "step": "cook"}],
    )
    assert left_open(draft) == []
    text = compose(draft)
    assert [line for line in text.splitlines()[1:] if line.startswith("#")] == []
    read = tomllib.loads(text)
    assert read["file"] == draft.files
    assert read["food"] == draft.food
    assert read["date"] == date(2026, 7, 4)


hostile = st.text(min_size=1)


@settings(deadline=None, max_examples=50)
@given(lot=hostile, name=hostile, event=hostile, words=hostile)
def test_names_read_back_through_the_reader_of_records(
    tmp_path_factory: pytest.TempPathFactory, lot: str, name: str, event: str, words: str
) -> None:
    draft = Draft(
        head={**bare().head, "lot": lot, "event": event},
        food={"name": name, "species": "lamb"},
        notes=[{"at": "2026-07-04 06:00", "step": "cook", "text": words}],
    )
    path = Path(tmp_path_factory.mktemp("record")) / "record.toml"
    path.write_bytes(compose(draft).encode("utf-8"))
    log = read_record(path)
    assert (log.lot.id, log.lot.food.name, log.lot.event) == (lot, name, event)
    assert [note.text for note in log.notes] == [words]
