"""Codes that build on others: what is taken over, left out, amended and newly said."""

from __future__ import annotations

from pathlib import Path

import pytest

from tempwitness.errors import RuleError
from tempwitness.model.rule import Code
from tempwitness.model.vocabulary import Species
from tempwitness.rulebook.load import load_code, load_code_folder

HEAD = """
order = ["holding"]
[head]
id = "test/state"
title = "State rule"
edition = "2024"
issuer = "nobody"
authority = "The local health authority decides."
[head.base]
id = "us/food-code/2022"
{base}
"""
BASE = 'without = ["hot-hold-roast-130", "stay-frozen"]\nread = ["cold-hold"]'
HOLDING = """
[[amend]]
id = "hot-hold"
section = "7.1"
[amend.test.limit]
f = 140
c = 60

[[requirement]]
id = "state-only"
title = "Keep a log"
section = "7.2"
weight = "law"
stages = ["hot_hold"]
confirmed = "text"
source = ["food-code-2022"]
[requirement.test]
form = "monitoring"
every = "2 h"
"""


def state(folder: Path, base: str = BASE, holding: str = HOLDING) -> Code:
    (folder / "code.toml").write_text(HEAD.format(base=base), encoding="utf-8")
    (folder / "holding.toml").write_text(holding, encoding="utf-8")
    return load_code_folder("test/state", folder)


def test_what_is_taken_over_names_the_text_it_comes_from(tmp_path: Path) -> None:
    code = state(tmp_path)
    read, unread = code.find("cold-hold"), code.find("cook-roast")
    assert read is not None
    assert unread is not None
    assert read.instrument == unread.instrument == "FDA Food Code 2022"
    assert (read.confirmed.value, unread.confirmed.value) == ("text", "second-hand")


def test_what_is_left_out_is_gone(tmp_path: Path) -> None:
    code = state(tmp_path)
    hold = code.find("hot-hold")
    assert hold is not None
    assert hold.alternatives == ()
    assert code.find("stay-frozen") is None


def test_what_is_amended_keeps_the_rest_and_cites_its_own_section(tmp_path: Path) -> None:
    hold = state(tmp_path).find("hot-hold")
    assert hold is not None
    assert hold.test.model_dump()["limit"] == {"f": 140, "c": 60, "printed": "both", "op": ">="}
    assert (hold.section, hold.instrument) == ("7.1", "")
    assert [s.value for s in hold.stages] == ["rest", "hot_hold"]


def test_what_is_new_stands_at_the_end_of_its_topic(tmp_path: Path) -> None:
    order = [r.id for r in state(tmp_path).requirements]
    base = [r.id for r in load_code("us/food-code/2022").requirements]
    after = base[base.index("freeze-cold") + 2]  # stay-frozen is left out
    assert order[order.index("state-only") - 1] == "freeze-cold"
    assert order[order.index("state-only") + 1] == after


@pytest.mark.parametrize(
    ("base", "holding", "said"),
    [
        ('without = ["hot-hld"]', HOLDING, "no requirement 'hot-hld'"),
        ('read = ["cold-hld"]', HOLDING, "no requirement 'cold-hld'"),
        (BASE, HOLDING.replace('id = "hot-hold"', 'id = "hot-hld"'), "no requirement 'hot-hld'"),
    ],
)
def test_a_slip_in_a_name_is_refused(tmp_path: Path, base: str, holding: str, said: str) -> None:
    with pytest.raises(RuleError, match=said) as caught:
        state(tmp_path, base, holding)
    assert caught.value.location is not None


def test_a_change_of_the_base_changes_the_hash(tmp_path: Path) -> None:
    code = state(tmp_path)
    assert code.sha256 != load_code("us/food-code/2022").sha256
    assert code.sha256 != state(tmp_path, holding=HOLDING.replace("140", "141")).sha256


def test_a_topic_that_the_base_lacks_keeps_its_order(tmp_path: Path) -> None:
    new = HOLDING[HOLDING.index("[[requirement]]") :]
    topic = "".join(new.replace("state-only", f"event-{n}") for n in (1, 2, 3))
    (tmp_path / "event.toml").write_text(topic, encoding="utf-8")
    head = HEAD.format(base=BASE).replace('["holding"]', '["holding", "event"]')
    (tmp_path / "code.toml").write_text(head, encoding="utf-8")
    (tmp_path / "holding.toml").write_text(HOLDING, encoding="utf-8")
    code = load_code_folder("test/state", tmp_path)
    assert [r.id for r in code.requirements][-3:] == ["event-1", "event-2", "event-3"]


#: The condition of the base that the amendment takes away: only food that was cooked before.
DROP = """
[[amend]]
id = "prep-cooked"
drop = {drop}
title = "Prepare food without leaving it warm"
"""


@pytest.mark.parametrize("drop", ['["when.after"]', '["when.after", "note"]'])
def test_an_amendment_may_drop_a_key(tmp_path: Path, drop: str) -> None:
    old = load_code("us/food-code/2022").find("prep-cooked")
    new = state(tmp_path, "", DROP.format(drop=drop)).find("prep-cooked")
    assert old is not None
    assert new is not None
    assert old.when.after
    assert new.when.after == ()
    assert new.when == old.when.model_copy(update={"after": ()})
    assert new.title == "Prepare food without leaving it warm"
    assert bool(new.note) is ("note" not in drop)
    assert new.test == old.test


def test_what_is_dropped_may_be_said_anew(tmp_path: Path) -> None:
    holding = DROP.format(drop='["when"]') + 'when = { species = ["beef"] }\n'
    new = state(tmp_path, "", holding).find("prep-cooked")
    assert new is not None
    assert new.when.model_dump(exclude_defaults=True) == {"species": (Species.BEEF,)}


@pytest.mark.parametrize(
    ("drop", "said"),
    [
        ('["when.specie"]', "no key 'when.specie'"),
        ('["when.after.cook"]', "no key 'when.after.cook'"),
        ('["wen"]', "no key 'wen'"),
        ('["id"]', "no key 'id'"),
        ('["instrument"]', "no key 'instrument'"),
        ('["when.after", "when.after"]', "no key 'when.after'"),
        ('"when.after"', "a list of keys"),
        ("[1]", "a list of keys"),
        ('["test"]', "key 'test' is missing"),
    ],
)
def test_what_cannot_be_dropped_is_refused(tmp_path: Path, drop: str, said: str) -> None:
    with pytest.raises(RuleError, match=said) as caught:
        state(tmp_path, "", DROP.format(drop=drop))
    assert caught.value.location is not None
    assert caught.value.location.file.endswith("holding.toml")


def test_only_an_amendment_drops(tmp_path: Path) -> None:
    holding = HOLDING.replace('title = "Keep a log"', 'title = "Keep a log"\ndrop = ["note"]')
    with pytest.raises(RuleError, match="'drop' is not known"):
        state(tmp_path, holding=holding)


@pytest.mark.parametrize(
    ("code_id", "text"),
    [
        # 25 TAC 228 adopts the Food Code of 2017; Minnesota's rules follow that of 2013.
        ("us/tx/25-tac-228", "FDA Food Code 2017"),
        ("us/mn/4626", "FDA Food Code 2013"),
    ],
)
def test_a_state_cites_the_edition_that_it_adopted(code_id: str, text: str) -> None:
    texts = {r.instrument for r in load_code(code_id).requirements} - {""}
    assert texts == {text}


def test_a_law_is_cited_through_another_one_that_stands_beside_it() -> None:
    """Real Decreto 1021/2022 builds on 1086/2020, which stands beside Regulation 852/2004."""
    texts = {r.instrument for r in load_code("es/rd-1021-2022").requirements}
    assert sum(text.startswith("Regulation (EC) No 852/2004") for text in texts) == 1
    assert sum(text.startswith("Real Decreto 1086/2020") for text in texts) == 1
