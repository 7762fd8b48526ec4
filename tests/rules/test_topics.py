"""Every requirement of every code has one topic, and it is the one that a cook would look under."""

from __future__ import annotations

import pytest

from tempwitness.model.topics import topic_of
from tempwitness.model.vocabulary import StageName, Topic
from tempwitness.rulebook.comparison.tables import tables
from tempwitness.rulebook.files import code_ids
from tempwitness.rulebook.raw import raw_code


@pytest.mark.parametrize("code_id", code_ids())
def test_every_requirement_stands_under_exactly_one_topic(code_id: str) -> None:
    code = raw_code(code_id)
    under: dict[str, set[Topic]] = {}
    for table in tables([code]):
        for row in table.rows:
            for name in row.cells[code_id].requirements:
                under.setdefault(name, set()).add(table.topic)
    assert set(under) == {r["id"] for r in code["requirements"]}
    assert [name for name, topics in under.items() if len(topics) != 1] == []


@pytest.mark.parametrize("stage", StageName)
@pytest.mark.parametrize("form", ["throughout", "outside_band", "duty", "longest", "reach"])
def test_every_stage_has_a_topic(stage: StageName, form: str) -> None:
    assert topic_of(form, [stage.value]) in Topic


@pytest.mark.parametrize(
    ("form", "stages", "op", "topic"),
    [
        ("reach", ["cook", "reheat"], "", "cook"),
        ("throughout", ["rest", "hot_hold"], ">=", "hot"),
        ("throughout", ["serve"], ">=", "hot"),
        ("throughout", ["serve"], "<=", "cold"),
        ("throughout", ["receive", "cold_hold", "transport"], "<=", "cold"),
        ("outside_band", ["serve", "transport"], "", "hot"),
        ("outside_band", ["receive"], "", "other"),
        ("fall", ["cool"], "", "cooling"),
        ("rise", ["reheat"], "", "reheat"),
        ("band_clock", ["prep", "serve"], "", "time_control"),
        ("band_clock", ["thaw", "prep"], "", "other"),
        ("shelf_life", ["cold_hold", "freeze", "thaw"], "", "date"),
        ("instrument", [], "", "probe"),
        ("duty", [], "", "records"),
        ("paper", ["cook"], "", "records"),
        ("throughout", ["thaw"], "<=", "other"),
    ],
)
def test_topic_by_form_and_stages(form: str, stages: list[str], op: str, topic: str) -> None:
    assert topic_of(form, stages, op=op).value == topic


def test_a_topic_that_is_given_decides() -> None:
    assert topic_of("paper", ["cook"], "cook") is Topic.COOK
