"""What a verification finds, and what it takes for the same."""

from __future__ import annotations

import random
import shutil
import zipfile
from datetime import timedelta
from typing import TYPE_CHECKING

import pytest
from freezegun import freeze_time

from tempwitness.errors import SealError
from tempwitness.rulebook import folder
from tempwitness.sealing.archive import unpacked
from tempwitness.sealing.manifest import compared, listed, wrapped_in
from tempwitness.sealing.seal import Sealed, seal
from tempwitness.sealing.verify import Verified, verify
from tests.cli.records import MET, write_record
from tests.seal.archives import MANIFEST, packed_anew, sample, sealed_anew
from tests.seal.conftest import SEALED_AT

if TYPE_CHECKING:
    from pathlib import Path


def verified(raw: bytes, tmp_path: Path) -> Verified:
    path = tmp_path / "lot.zip"
    path.write_bytes(raw)
    return verify(path)


def faults(raw: bytes) -> tuple[str, ...]:
    """Compare members with their manifest alone, without judging again."""
    opened = unpacked(raw, "lot.zip")
    wrap = wrapped_in(opened, "lot.zip")
    return compared(listed(opened.members[wrap + MANIFEST], "lot.zip"), opened, wrap).faults


def test_an_untouched_archive_is_the_same(beans: Sealed, tmp_path: Path) -> None:
    found = verified(beans.archive, tmp_path)
    assert found.same
    assert found.manifest_sha256 == beans.manifest_sha256
    assert [(lot.sealed, lot.now) for lot in found.lots] == [("not_met", "not_met")]
    assert not found.rules.differ


def test_a_year_later_it_is_the_same(beans: Sealed, tmp_path: Path) -> None:
    with freeze_time(SEALED_AT + timedelta(days=365)):
        assert verified(beans.archive, tmp_path).same


def test_what_was_open_stays_open_a_year_later(tmp_path: Path) -> None:
    # sample_records/README.md: open at 21:30 in Chicago, which is 02:30 of the next day in UTC,
    # and not shown after its deadlines.
    with freeze_time("2026-09-20 02:30"):
        done = seal([sample("16")])
    with freeze_time("2027-09-20"):
        found = verified(done.archive, tmp_path)
    assert [(lot.sealed, lot.now) for lot in found.lots] == [("open", "open")]
    assert found.same


def test_a_reading_that_lay_ahead_when_it_was_sealed_still_does(tmp_path: Path) -> None:
    """At noon nothing can have been read at 19:00; a year later it looks as if it could."""
    record = write_record(tmp_path, MET)
    with freeze_time("2026-07-04 17:00"):
        done = seal([record])
    with freeze_time("2027-07-04"):
        assert verified(done.archive, tmp_path).same


def test_copied_reordered_compressed_and_wrapped_it_is_the_same(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    shuffled = list(members.items())
    random.Random(6).shuffle(shuffled)  # noqa: S311 - an order, no secret
    assert verified(packed_anew(shuffled), tmp_path).same
    wrapped = {f"fair 2026/{name}": data for name, data in members.items()}
    assert verified(packed_anew({"fair 2026/": b"", **wrapped}), tmp_path).same
    backslashed = {name.replace("/", "\\"): data for name, data in members.items()}
    assert verified(packed_anew(backslashed), tmp_path).same


def test_unpacked_and_packed_by_the_library_it_is_the_same(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    for name, data in members.items():
        target = tmp_path / "out" / "lot" / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(data)
    path = shutil.make_archive(str(tmp_path / "again"), "zip", tmp_path / "out")
    with open(path, "rb") as stream:  # noqa: PTH123 - the path came as a text
        assert verified(stream.read(), tmp_path).same


def test_what_a_mac_adds_is_named_and_not_looked_at(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    mac = {"__MACOSX/lot/._seal.json": b"\0", "lot/.DS_Store": b"\0"}
    wrapped = {f"lot/{name}": data for name, data in members.items()}
    found = verified(packed_anew({**wrapped, **mac}), tmp_path)
    assert found.same
    assert sorted(found.aside) == sorted(mac)


def test_a_changed_byte_in_any_member_is_named(members: dict[str, bytes]) -> None:
    inside = [name for name in members if name != MANIFEST]
    assert len(inside) > 40
    for name in inside:
        data = bytearray(members[name])
        data[len(data) // 2] ^= 1
        assert faults(packed_anew({**members, name: bytes(data)})) == (f"changed: {name}",)


def test_a_missing_an_added_and_a_renamed_member_are_named(members: dict[str, bytes]) -> None:
    without = {n: d for n, d in members.items() if n != "reports/1.txt"}
    assert faults(packed_anew(without)) == ("missing: reports/1.txt",)
    assert faults(packed_anew({**members, "reports/2.txt": b"?"})) == ("added: reports/2.txt",)
    renamed = {**without, "reports/one.txt": members["reports/1.txt"]}
    assert faults(packed_anew(renamed)) == ("renamed: reports/1.txt is now reports/one.txt",)
    other_case = {**without, "reports/1.TXT": members["reports/1.txt"]}
    assert faults(packed_anew(other_case)) == ("renamed: reports/1.txt is now reports/1.TXT",)


def test_names_with_marks_are_found_however_they_are_composed(tmp_path: Path) -> None:
    record = write_record(tmp_path, MET)
    (tmp_path / "Gril\u00e9.csv").write_text("time,air_f\n2026-07-04 06:00,240\n")
    text = record.read_text(encoding="utf-8")
    record.write_text(f'{text}\n[[file]]\npath = "Gril\u00e9.csv"\n', encoding="utf-8")
    with zipfile.ZipFile(tmp_path / "one.zip", "w") as archive:
        archive.writestr("x", "")
    done = seal([record])
    opened = unpacked(done.archive, "lot.zip").members
    apart = {n.replace("\u00e9", "e\u0301"): d for n, d in opened.items()}
    assert apart.keys() != opened.keys()
    assert verified(packed_anew(apart), tmp_path).same


def test_no_byte_of_the_file_can_change_unnoticed(beans: Sealed, members: dict[str, bytes]) -> None:
    """Whatever bit of the archive flips: a fault is named, or every member is as it was."""
    dice = random.Random(45)  # noqa: S311 - reproducible damage
    noticed = 0
    for _ in range(400):
        raw = bytearray(beans.archive)
        raw[dice.randrange(len(raw))] ^= 1 << dice.randrange(8)
        try:
            found = faults(bytes(raw))
        except SealError:
            noticed += 1
            continue
        if found:
            noticed += 1
        else:
            assert unpacked(bytes(raw), "lot.zip").members == members
    assert noticed > 350


def test_a_changed_reading_is_named_and_the_answer_that_comes_of_it(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    """The pan reads 69 °F at 23:50 (README.md); had it been an hour earlier, it was in time."""
    csv = members["records/1/beans.csv"]
    early = csv.replace(b"23:50", b"22:50")
    assert early != csv
    found = verified(packed_anew({**members, "records/1/beans.csv": early}), tmp_path)
    assert found.faults == ("changed: records/1/beans.csv",)
    assert not found.same
    (lot,) = found.lots
    assert lot.found is not None
    assert any("cool" in line and "sealed as not met" in line for line in lot.found.answers)


def test_a_forged_manifest_does_not_save_a_changed_reading(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    early = members["records/1/beans.csv"].replace(b"23:50", b"22:50")
    found = verified(sealed_anew({**members, "records/1/beans.csv": early}), tmp_path)
    assert found.faults == ()
    assert not found.same  # the sealed evaluation does not follow from these readings


def test_a_forged_answer_is_found_by_judging_again(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    text = members["evaluations/1.json"].replace(b'"not_met"', b'"met"')
    found = verified(sealed_anew({**members, "evaluations/1.json": text}), tmp_path)
    assert found.faults == ()
    (lot,) = found.lots
    assert (lot.sealed, lot.now) == ("met", "not_met")
    assert not found.same


def test_its_own_rules_judge_even_when_others_are_shipped(
    beans: Sealed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A next version of the program, whose code allows ten hours for the first step of cooling."""
    shipped = tmp_path / "rules"
    shutil.copytree(folder.rules_folder(), shipped)
    cooling = shipped / "published/us/food-code/2022/cooling.toml"
    text = cooling.read_text(encoding="utf-8")
    assert 'within = "2 h"' in text
    cooling.write_text(text.replace('within = "2 h"', 'within = "10 h"'), encoding="utf-8")
    (shipped / "sources/fr_at.toml").unlink()
    monkeypatch.setattr(folder, "shipped_rules", lambda: shipped)
    path = tmp_path / "lot.zip"
    path.write_bytes(beans.archive)
    found = verify(path)
    assert found.same
    assert found.rules.changed == ("published/us/food-code/2022/cooling.toml",)
    assert found.rules.gone == ("sources/fr_at.toml",)


def test_an_archive_leaves_its_rules_behind_nowhere(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    name = "rules/published/us/food-code/2022/cooling.toml"
    eased = members[name].replace(b'within = "2 h"', b'within = "10 h"')
    before = verified(packed_anew(members), tmp_path)
    found = verified(packed_anew({**members, name: eased}), tmp_path)
    assert found.faults == (f"changed: {name}",)
    assert not found.same
    assert verified(packed_anew(members), tmp_path) == before


@pytest.mark.parametrize(
    "name",
    [
        "rules/quality/defaults.toml",
        "rules/quality/checks.toml",
        "rules/stages/monitoring.toml",
        "rules/bounds/rates.toml",
        "rules/foods.toml",
        "rules/facts/us.toml",
        "rules/sources/us_food_code.toml",
        "rules/published/us/food-code/2022/code.toml",
        "records/1/record.toml",
        "records/1/beans.csv",
        "evaluations/1.json",
    ],
)
@pytest.mark.parametrize("left", [b"", b"[odd]\nx = 1\n", b'{"findings": [3], "code": 4}'])
def test_a_member_emptied_or_filled_with_something_else_is_named(
    members: dict[str, bytes], tmp_path: Path, name: str, left: bytes
) -> None:
    found = verified(packed_anew({**members, name: left}), tmp_path)
    assert found.faults == (f"changed: {name}",)
    assert not found.same
