"""Archives for the tests: sealed once, then opened and packed anew in all sorts of ways."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import TYPE_CHECKING

from tempwitness.sealing.manifest import manifest_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "sample_records"
MANIFEST = "SHA256SUMS.txt"


def sample(name: str) -> Path:
    """Return the record of a sample lot, by the beginning of its folder's name."""
    (folder,) = SAMPLES.glob(f"{name}*")
    return folder / "record.toml"


def members_of(raw: bytes) -> dict[str, bytes]:
    """Return what an archive holds, as Python's own reader unpacks it."""
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed_anew(
    members: Mapping[str, bytes] | Iterable[tuple[str, bytes]],
    *,
    method: int = zipfile.ZIP_DEFLATED,
    change: Callable[[zipfile.ZipInfo], None] | None = None,
) -> bytes:
    """Pack members as another tool would: compressed, dated today, in any order."""
    pairs = members.items() if hasattr(members, "items") else members
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", method) as archive:
        for name, data in pairs:
            info = zipfile.ZipInfo(name, (2027, 3, 1, 12, 30, 0))
            info.compress_type = method
            if change is not None:
                change(info)
            archive.writestr(info, data)
    return target.getvalue()


def sealed_anew(members: Mapping[str, bytes]) -> bytes:
    """Pack members with a manifest that fits them, as somebody who forges would."""
    inside = {name: data for name, data in members.items() if name != MANIFEST}
    return packed_anew({MANIFEST: manifest_of(inside), **inside})
