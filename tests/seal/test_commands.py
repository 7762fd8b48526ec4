"""The two commands as a person meets them: words, exit status, and what is left behind."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from tempwitness.sealing.seal import Sealed
from tests.seal.archives import MANIFEST, members_of, packed_anew, sample, sealed_anew

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.cli.running import Ran

    Run = Callable[..., Ran]


@pytest.fixture
def archive(beans: Sealed, tmp_path: Path) -> Path:
    path = tmp_path / "beans.zip"
    path.write_bytes(beans.archive)
    return path


def test_sealing_prints_the_line_for_the_log_book(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "beans.zip"
    done = run("seal", sample("03"), "-o", path)
    assert done.status == 0
    line = re.search(r"beans\.zip manifest SHA-256 ([0-9a-f]{64})", done.out)
    assert line is not None
    assert "2026-07-11 pit beans: not met" in done.out
    assert run("verify", path, "--manifest", line[1].upper()).status == 0


def test_sealing_says_what_a_seal_is_worth(run: Run, tmp_path: Path) -> None:
    said = " ".join(run("seal", sample("03"), "-o", tmp_path / "x.zip").out.split())
    assert "It does not show who wrote it, nor that the readings are true." in said
    assert "The local health authority decides what it accepts." in said


def test_an_existing_archive_is_left_as_it_is(run: Run, archive: Path) -> None:
    before = archive.read_bytes()
    done = run("seal", sample("03"), "-o", archive)
    assert (done.status, archive.read_bytes()) == (2, before)
    assert "exists already" in done.err


def test_what_cannot_be_sealed_leaves_no_file(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "x.zip"
    done = run("seal", sample("12").with_name("probe.csv"), "-o", path)
    assert done.status == 2
    assert "tempwitness new" in done.err
    assert not path.exists()


def test_an_untouched_archive_exits_with_0(run: Run, archive: Path) -> None:
    done = run("verify", archive)
    assert done.status == 0
    assert done.out.startswith(f"{archive}: THE SAME\n")
    assert "not met, and again not met; all findings the same" in done.out


def test_a_changed_member_exits_with_1_and_is_named(run: Run, archive: Path) -> None:
    members = members_of(archive.read_bytes())
    members["reports/1.txt"] += b" "
    archive.write_bytes(packed_anew(members))
    done = run("verify", archive)
    assert done.status == 1
    assert ": DIFFERS\n" in done.out
    assert "changed: reports/1.txt" in done.out


def test_another_seal_in_its_place_exits_with_1(
    run: Run, archive: Path, beans: Sealed, tmp_path: Path
) -> None:
    """Whoever seals other readings makes a seal without a fault; the line in the log book tells."""
    folder = tmp_path / "forged"
    folder.mkdir()
    for source in sample("03").parent.iterdir():
        (folder / source.name).write_bytes(source.read_bytes().replace(b"23:50", b"22:50"))
    assert run("seal", folder / "record.toml", "-o", archive, "--force").status == 0
    assert run("verify", archive).status == 0
    done = run("verify", archive, "--manifest", beans.manifest_sha256)
    assert done.status == 1
    assert "NOT the one that was written down" in done.out


def test_a_lot_whose_evaluation_is_gone_is_not_judged_again(run: Run, archive: Path) -> None:
    members = members_of(archive.read_bytes())
    del members["evaluations/1.json"]
    archive.write_bytes(packed_anew(members))
    done = run("verify", archive)
    assert done.status == 1
    assert "missing: evaluations/1.json" in done.out
    assert "NOT judged again" in done.out


def test_what_is_no_archive_exits_with_2(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "x.zip"
    path.write_bytes(b"not a zip")
    done = run("verify", path)
    assert done.status == 2
    assert "no ZIP archive" in done.err


def test_an_archive_of_another_version_may_put_it_in_other_words(run: Run, archive: Path) -> None:
    members = members_of(archive.read_bytes())
    account = re.sub(rb"tempwitness \d+\.\d+\.\d+", b"tempwitness 0.0.9", members["seal.json"])
    evaluation = members["evaluations/1.json"].replace(b'"reason": "', b'"reason": "So: ')
    assert evaluation != members["evaluations/1.json"]
    members |= {"seal.json": account, "evaluations/1.json": evaluation}
    del members[MANIFEST]
    archive.write_bytes(sealed_anew(members))
    done = run("verify", archive)
    assert done.status == 0
    assert "otherwise told" in done.out
    assert "another version" in done.out
