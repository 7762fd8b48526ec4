"""Signatures in reports, made with keys of the test's own and read by the library's validator."""

from __future__ import annotations

import sys
from datetime import UTC, datetime, timedelta
from io import BytesIO
from typing import TYPE_CHECKING

import pypdf
import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec, rsa
from cryptography.x509.oid import NameOID
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko.sign.validation.status import SignatureCoverageLevel
from pyhanko_certvalidator import ValidationContext

from tempwitness.errors import InputError
from tempwitness.sealing.sign import pades_signer
from tests.seal.archives import members_of, sample

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.cli.running import Ran

    Run = Callable[..., Ran]
    Key = rsa.RSAPrivateKey | ec.EllipticCurvePrivateKey


def written(folder: Path, key: Key, *, passphrase: bytes = b"", name: str = "kitchen") -> Path:
    """Write a key and a certificate that it signed itself; return the key's path."""
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Test kitchen")])
    start = datetime(2020, 1, 1, tzinfo=UTC)
    certificate = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(6)
        .not_valid_before(start)
        .not_valid_after(start + timedelta(days=36500))
        .sign(key, hashes.SHA256())
    )
    closed = (
        serialization.BestAvailableEncryption(passphrase)
        if passphrase
        else serialization.NoEncryption()
    )
    path = folder / f"{name}.key.pem"
    path.write_bytes(
        key.private_bytes(serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, closed)
    )
    (folder / f"{name}.pem").write_bytes(certificate.public_bytes(serialization.Encoding.PEM))
    return path


@pytest.fixture(scope="module")
def key() -> ec.EllipticCurvePrivateKey:
    return ec.generate_private_key(ec.SECP256R1())


@pytest.fixture
def report(members: dict[str, bytes]) -> bytes:
    return members["reports/1.pdf"]


def signed(pdf: bytes, path: Path, word: str = "") -> bytes:
    certificate = path.with_name(path.name.replace(".key", ""))
    return pades_signer(path, certificate, lambda: word)(pdf)


@pytest.mark.parametrize("kind", ["ec", "rsa"])
def test_a_signature_is_intact_and_covers_the_whole_report(
    report: bytes, tmp_path: Path, kind: str
) -> None:
    own: Key = (
        ec.generate_private_key(ec.SECP256R1())
        if kind == "ec"
        else rsa.generate_private_key(65537, 2048)
    )
    path = written(tmp_path, own)
    (found,) = PdfFileReader(BytesIO(signed(report, path))).embedded_signatures
    # ETSI EN 319 142-1, 6.3: a PAdES signature names the sub-filter ETSI.CAdES.detached.
    assert found.sig_object["/SubFilter"] == "/ETSI.CAdES.detached"
    trusted = ValidationContext(trust_roots=[found.signer_cert], allow_fetching=False)
    status = validate_pdf_signature(found, trusted)
    assert status.intact
    assert status.valid
    assert status.coverage is SignatureCoverageLevel.ENTIRE_FILE


def test_a_signed_report_still_says_the_same(
    report: bytes, tmp_path: Path, key: ec.EllipticCurvePrivateKey
) -> None:
    pdf = signed(report, written(tmp_path, key))
    assert pdf.startswith(report)  # signed by an update behind it: nothing of it was rewritten
    first, again = (pypdf.PdfReader(BytesIO(raw)).pages[0].extract_text() for raw in (report, pdf))
    assert first == again


def test_a_changed_byte_breaks_the_signature(
    report: bytes, tmp_path: Path, key: ec.EllipticCurvePrivateKey
) -> None:
    raw = bytearray(signed(report, written(tmp_path, key)))
    at = raw.index(b"/Title") + 9
    raw[at] ^= 1
    (found,) = PdfFileReader(BytesIO(bytes(raw))).embedded_signatures
    trusted = ValidationContext(trust_roots=[found.signer_cert], allow_fetching=False)
    assert not validate_pdf_signature(found, trusted).intact


def test_a_key_with_a_passphrase(
    report: bytes, tmp_path: Path, key: ec.EllipticCurvePrivateKey
) -> None:
    path = written(tmp_path, key, passphrase=b"smoke")
    assert len(PdfFileReader(BytesIO(signed(report, path, "smoke"))).embedded_signatures) == 1
    with pytest.raises(InputError, match="the passphrase is wrong"):
        signed(report, path, "steam")
    with pytest.raises(InputError, match="nobody can be asked"):
        signed(report, path, "")


def test_a_certificate_of_another_key_is_refused(
    report: bytes, tmp_path: Path, key: ec.EllipticCurvePrivateKey
) -> None:
    path = written(tmp_path, key)
    written(tmp_path, ec.generate_private_key(ec.SECP256R1()), name="other")
    with pytest.raises(InputError, match="does not belong to the key"):
        pades_signer(path, tmp_path / "other.pem", str)(report)


def test_what_is_no_key_and_no_certificate_is_refused(
    tmp_path: Path, key: ec.EllipticCurvePrivateKey
) -> None:
    path = written(tmp_path, key)
    odd = tmp_path / "odd.pem"
    odd.write_text("no key")
    with pytest.raises(InputError, match="no private key"):
        pades_signer(odd, tmp_path / "kitchen.pem", str)
    with pytest.raises(InputError, match="no certificate"):
        pades_signer(path, odd, str)


def test_without_the_library_it_says_what_to_install(
    tmp_path: Path, key: ec.EllipticCurvePrivateKey, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = written(tmp_path, key)
    monkeypatch.setitem(sys.modules, "pyhanko.sign", None)
    with pytest.raises(InputError) as refused:
        signed(b"", path)
    assert "tempwitness[sign]" in refused.value.hint


def test_sealed_reports_are_signed_and_the_archive_verifies(
    run: Run, tmp_path: Path, key: ec.EllipticCurvePrivateKey
) -> None:
    path, target = written(tmp_path, key), tmp_path / "beans.zip"
    options = ("--sign-key", path, "--sign-cert", tmp_path / "kitchen.pem")
    assert run("seal", sample("03"), "-o", target, *options).status == 0
    pdf = members_of(target.read_bytes())["reports/1.pdf"]
    assert len(PdfFileReader(BytesIO(pdf)).embedded_signatures) == 1
    assert run("verify", target).status == 0


def test_one_of_the_two_options_is_not_enough(
    run: Run, tmp_path: Path, key: ec.EllipticCurvePrivateKey
) -> None:
    done = run(
        "report", sample("03"), "-o", tmp_path / "x.pdf", "--sign-key", written(tmp_path, key)
    )
    assert done.status == 2
    assert "--sign-cert" in done.err
