"""Archives that a stranger packed to do harm are refused before anything is unpacked."""

from __future__ import annotations

import io
import stat
import struct
import warnings
import zipfile
from typing import TYPE_CHECKING

import pytest

from tempwitness.errors import SealError
from tempwitness.sealing import archive as reading
from tempwitness.sealing.archive import unpacked
from tempwitness.sealing.verify import verify
from tests.seal.archives import MANIFEST, packed_anew, sealed_anew

if TYPE_CHECKING:
    from pathlib import Path


def refused(raw: bytes) -> str:
    with pytest.raises(SealError) as why:
        unpacked(raw, "lot.zip")
    return why.value.message


@pytest.mark.parametrize(
    "name",
    ["../evil", "a/../../evil", "..\\evil", "/etc/evil", "\\evil", "C:/evil", "C:\\evil", "a//b"],
)
def test_a_name_that_leads_elsewhere_is_refused(members: dict[str, bytes], name: str) -> None:
    assert "is not unpacked" in refused(packed_anew({**members, name: b"x"}))


@pytest.mark.parametrize("name", ["a\x1bb", "a\x7fb", "a\nb"])
def test_a_name_with_control_characters_is_refused(members: dict[str, bytes], name: str) -> None:
    assert "control character" in refused(packed_anew({**members, name: b"x"}))


def test_a_name_cut_by_a_nul_is_refused(members: dict[str, bytes]) -> None:
    raw = packed_anew({**members, "good.txtXevil": b"x"})
    assert "control character" in refused(raw.replace(b"good.txtXevil", b"good.txt\0evil"))


def test_a_link_is_refused(members: dict[str, bytes]) -> None:
    def link(info: zipfile.ZipInfo) -> None:
        if info.filename == "link":
            info.external_attr = (stat.S_IFLNK | 0o777) << 16

    raw = packed_anew({**members, "link": b"/etc/passwd"}, change=link)
    assert "a link or a device" in refused(raw)


@pytest.mark.parametrize("second", ["seal.json", "SEAL.JSON", "./seal.json"])
def test_two_members_of_one_name_are_refused(members: dict[str, bytes], second: str) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # Python warns of what is done here on purpose
        raw = packed_anew([*members.items(), (second, b"{}")])
    assert "two members go by one name" in refused(raw)


def test_a_bomb_is_refused_without_being_unpacked(
    members: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reading, "MOST_BYTES", 4 << 20)
    raw = packed_anew({**members, "bomb": bytes(64 << 20)})
    assert len(raw) < 2 << 20  # a thousandth of what it claims
    assert "larger than 4 MiB" in refused(raw)


def test_many_small_ones_are_a_bomb_too(
    members: dict[str, bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reading, "MOST_BYTES", 4 << 20)
    many = {f"b{n}": bytes(1 << 20) for n in range(5)}
    assert "larger than 4 MiB" in refused(packed_anew({**members, **many}))


def test_too_many_members_are_refused_by_their_count_alone() -> None:
    raw = packed_anew({f"m{n}": b"" for n in range(reading.MOST_MEMBERS + 1)})
    assert f"more than {reading.MOST_MEMBERS} members" in refused(raw)


def test_a_list_that_claims_to_be_endless_is_refused(members: dict[str, bytes]) -> None:
    raw = bytearray(packed_anew(members))
    # The size of the list stands 12 bytes into the end record (PKWARE APPNOTE, 4.3.16).
    struct.pack_into("<L", raw, len(raw) - 22 + 12, 0xFFFFFFFF)
    assert "list of members is too long" in refused(bytes(raw))


def test_an_encrypted_member_is_refused(members: dict[str, bytes]) -> None:
    raw = bytearray(packed_anew(members))
    # Bit 0 of the flags, 8 bytes into an entry of the list (PKWARE APPNOTE, 4.3.12 and 4.4.4).
    raw[raw.index(b"PK\x01\x02") + 8] |= 1
    assert "encrypted" in refused(bytes(raw))


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_method_beside_the_two_of_the_standard_is_refused(
    members: dict[str, bytes], method: int
) -> None:
    """ISO/IEC 21320-1 allows stored and deflated members; others have no bound on memory."""
    assert "method that is not read here" in refused(packed_anew(members, method=method))


@pytest.mark.parametrize("cut", [0, 10, 1000, -30])
def test_what_is_no_archive_or_broken_off_is_refused(members: dict[str, bytes], cut: int) -> None:
    assert "no ZIP archive" in refused(packed_anew(members)[:cut])


def test_an_archive_that_was_never_sealed_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "holiday.zip"
    path.write_bytes(packed_anew({"beach.txt": b"sun"}))
    with pytest.raises(SealError, match="was not sealed here"):
        verify(path)


def test_two_manifests_are_refused(members: dict[str, bytes], tmp_path: Path) -> None:
    two = {f"{side}/{name}": data for side in "ab" for name, data in members.items()}
    path = tmp_path / "two.zip"
    path.write_bytes(packed_anew(two))
    with pytest.raises(SealError, match="two manifests"):
        verify(path)


@pytest.mark.parametrize(
    ("line", "what"),
    [
        (b"nonsense\n", "not a hash and the name"),
        (b"0" * 64 + b"  ../evil\n", "leads out of the archive"),
        (b"0" * 64 + b"  SEAL.json\n", "stands there twice"),
        (b"\xff\n", "not UTF-8"),
    ],
)
def test_a_manifest_that_was_tampered_with_is_refused(
    members: dict[str, bytes], tmp_path: Path, line: bytes, what: str
) -> None:
    path = tmp_path / "lot.zip"
    path.write_bytes(packed_anew({**members, MANIFEST: members[MANIFEST] + line}))
    with pytest.raises(SealError, match=what):
        verify(path)


@pytest.mark.parametrize("target", ["/etc/hostname", "../../secret.csv", "../../../../etc/passwd"])
def test_a_record_in_an_archive_opens_nothing_but_members(
    members: dict[str, bytes], tmp_path: Path, target: str
) -> None:
    (tmp_path / "secret.csv").write_text("time,temp_f\n2026-07-11 18:00,150\n")
    name = "records/1/record.toml"
    record = members[name].replace(b'"beans.csv"', f'"{target}"'.encode())
    assert record != members[name]
    path = tmp_path / "lot.zip"
    path.write_bytes(sealed_anew({**members, name: record}))
    with pytest.raises(SealError, match="points at what is not in the archive"):
        verify(path)


def test_a_file_that_is_a_folder_as_well_is_refused(
    members: dict[str, bytes], tmp_path: Path
) -> None:
    path = tmp_path / "lot.zip"
    path.write_bytes(sealed_anew({**members, "a": b"x", "a/b": b"y"}))
    with pytest.raises(SealError, match="cannot be unpacked here"):
        verify(path)


@pytest.mark.parametrize(
    "account",
    [b"", b"[]", b'{"schema": "else"}', b'{"schema": "tempwitness/seal/1", "lots": 3}'],
)
def test_an_account_that_is_none_is_refused(
    members: dict[str, bytes], tmp_path: Path, account: bytes
) -> None:
    path = tmp_path / "lot.zip"
    path.write_bytes(sealed_anew({**members, "seal.json": account}))
    with pytest.raises(SealError, match="own account cannot be read"):
        verify(path)


def test_a_stranger_s_names_in_another_code_page_are_read() -> None:
    """A tool that writes UTF-8 without saying so: bit 11 of the flags is clear (APPNOTE, D)."""
    raw = bytearray(packed_anew({"gr\u00fcn.txt": b"x"}))
    local, central = raw.index(b"PK\x03\x04") + 7, raw.index(b"PK\x01\x02") + 9
    for place in (local, central):
        raw[place] &= ~0x08
    with zipfile.ZipFile(io.BytesIO(bytes(raw))) as plain:
        assert plain.namelist() != ["gr\u00fcn.txt"]
    assert list(unpacked(bytes(raw), "lot.zip").members) == ["gr\u00fcn.txt"]
