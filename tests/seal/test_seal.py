"""What a sealed archive holds, and that its bytes are always the same."""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import zipfile
from datetime import UTC, datetime
from io import BytesIO
from typing import TYPE_CHECKING

import pypdf
import pytest
from freezegun import freeze_time

from tempwitness.errors import InputError, SealError
from tempwitness.readers.written import pointed_at
from tempwitness.report import from_json
from tempwitness.sealing.seal import Sealed, seal
from tests.cli.records import MET, write_record
from tests.seal.archives import MANIFEST, SAMPLES, members_of, sample
from tests.seal.conftest import SEALED_AT

if TYPE_CHECKING:
    from pathlib import Path


def test_every_input_is_in_it_byte_by_byte(members: dict[str, bytes]) -> None:
    folder = sample("03").parent
    for name in ("record.toml", *pointed_at(folder / "record.toml")):
        assert members[f"records/1/{name}"] == (folder / name).read_bytes()


def test_the_rules_in_it_are_the_shipped_ones(members: dict[str, bytes]) -> None:
    root = SAMPLES.parent
    rules = {name: data for name, data in members.items() if name.startswith("rules/")}
    assert {n: (root / n).read_bytes() for n in rules} == rules
    # The code itself, its companions, and what every evaluation reads.
    for part in ("us/food-code/2022/cooling", "us/consumer-advice/advice", "trade/smoking/habits"):
        assert f"rules/published/{part}.toml" in rules
    for part in ("foods", "facts/us", "sources/us_food_code", "stages/monitoring", "bounds/rates"):
        assert f"rules/{part}.toml" in rules


def test_the_answers_in_it_are_those_of_the_sample(members: dict[str, bytes]) -> None:
    evaluation = from_json(members["evaluations/1.json"].decode())
    # sample_records/README.md: a deep pan that missed its limit is not met.
    assert evaluation.verdict.value == "not_met"
    text = members["reports/1.txt"].decode()
    pages = pypdf.PdfReader(BytesIO(members["reports/1.pdf"])).pages
    assert "[NOT MET]" in text
    assert "NOT MET" in pages[0].extract_text()


def test_it_says_which_program_and_which_moment(members: dict[str, bytes]) -> None:
    tree = json.loads(members["seal.json"])
    assert re.fullmatch(r"tempwitness \d+\.\d+\.\d+", tree["tool"])
    assert datetime.fromisoformat(tree["sealed_at"]) == SEALED_AT
    assert tree["asked_at"] is None


def test_the_manifest_is_read_by_sha256sum(beans: Sealed, tmp_path: Path) -> None:
    """GNU coreutils' own check of the unpacked folder, the tool that the manifest is made for."""
    with zipfile.ZipFile(BytesIO(beans.archive)) as archive:
        archive.extractall(tmp_path)
    command = ["sha256sum", "--check", "--strict", MANIFEST]
    done = subprocess.run(  # noqa: S603 - a fixed command
        command, cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    unpacked = [p for p in tmp_path.rglob("*") if p.is_file() and p.name != MANIFEST]
    assert done.stdout.count(": OK\n") == len(unpacked) == beans.members


def test_the_printed_hash_is_that_of_the_manifest(beans: Sealed, members: dict[str, bytes]) -> None:
    assert beans.manifest_sha256 == hashlib.sha256(members[MANIFEST]).hexdigest()


def test_the_same_moment_gives_the_same_bytes(beans: Sealed) -> None:
    with freeze_time(SEALED_AT):
        again = seal([sample("03")])
    assert again.archive == beans.archive


def test_nothing_in_the_bytes_hangs_on_the_machine(beans: Sealed) -> None:
    with zipfile.ZipFile(BytesIO(beans.archive)) as archive:
        infos = archive.infolist()
    assert {i.date_time for i in infos} == {(1980, 1, 1, 0, 0, 0)}
    assert {(i.compress_type, i.create_system) for i in infos} == {(zipfile.ZIP_STORED, 3)}
    names = [i.filename for i in infos]
    assert names == [MANIFEST, *sorted(names[1:])]


def test_files_beside_and_above_a_record_keep_their_places(tmp_path: Path) -> None:
    folder = tmp_path / "event" / "lamb"
    folder.mkdir(parents=True)
    record = write_record(folder, MET)
    (tmp_path / "event" / "pit.csv").write_text("time,air_f\n2026-07-04 06:00,240\n")
    text = record.read_text(encoding="utf-8")
    record.write_text(f'{text}\n[[file]]\npath = "../pit.csv"\n', encoding="utf-8")
    found = members_of(seal([record]).archive)
    assert {n for n in found if n.startswith("records/")} == {
        "records/1/lamb/lamb.toml",
        "records/1/pit.csv",
    }


def test_local_changes_are_sealed_with_their_record() -> None:
    found = members_of(seal([sample("11")]).archive)
    county = "records/1/rules/local/county-example.toml"
    assert found[county] == (SAMPLES.parent / "rules/local/county-example.toml").read_bytes()
    (used, *_) = json.loads(found["evaluations/1.json"])["overrides"]
    assert used["file"] == county


def test_a_place_brings_along_what_is_in_force_there(tmp_path: Path) -> None:
    record = write_record(tmp_path, MET)
    text = record.read_text(encoding="utf-8").replace(
        'code = "us/food-code/2022"', 'place = "us/wa"\nbusiness = "caterer"'
    )
    record.write_text(text, encoding="utf-8")
    found = members_of(seal([record], at=datetime(2026, 7, 5, tzinfo=UTC)).archive)
    assert "rules/places/us_states.toml" in found
    # Washington builds on an edition of the Food Code, whose files must come along.
    assert any(n.startswith("rules/published/us/wa/246-215/") for n in found)
    assert any(re.match(r"rules/published/us/food-code/\d+/cooling\.toml", n) for n in found)


def test_two_records_stand_apart() -> None:
    done = seal([sample("03"), sample("08")])
    assert [words for _, words in done.lots] == ["not met", "not shown"]
    assert {"records/1/record.toml", "records/2/record.toml", "reports/2.pdf"} <= set(
        members_of(done.archive)
    )


def test_a_bare_table_is_no_record() -> None:
    with pytest.raises(SealError, match="only a record can be sealed"):
        seal([sample("12").with_name("probe.csv")])


@pytest.mark.parametrize("name", ["/srv/logs/pit.csv", "C:/logs/pit.csv"])
def test_a_path_from_the_top_of_the_machine_is_refused(tmp_path: Path, name: str) -> None:
    record = write_record(tmp_path, MET)
    text = record.read_text(encoding="utf-8")
    record.write_text(f'{text}\n[[file]]\npath = "{name}"\n', encoding="utf-8")
    with pytest.raises(SealError, match="from the top of this machine") as refused:
        seal([record])
    assert name in refused.value.message


def test_a_name_that_other_systems_do_not_take_is_refused(tmp_path: Path) -> None:
    record = write_record(tmp_path, MET)
    (tmp_path / "what?.csv").write_text("time,air_f\n2026-07-04 06:00,240\n")
    text = record.read_text(encoding="utf-8")
    record.write_text(f'{text}\n[[file]]\npath = "what?.csv"\n', encoding="utf-8")
    with pytest.raises(SealError, match="not every system"):
        seal([record])


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    record = write_record(tmp_path, MET)
    text = record.read_text(encoding="utf-8")
    record.write_text(f'{text}\n[[file]]\npath = "pit.csv"\n', encoding="utf-8")
    with pytest.raises(InputError, match="cannot be opened"):
        seal([record])
