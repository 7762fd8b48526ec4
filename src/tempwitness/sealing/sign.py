"""A signature within a report: PAdES, ETSI EN 319 142-1, by a key that the user has."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from tempwitness.errors import InputError, Location

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

__all__ = ["pades_signer"]

_FIELD = "Seal"
_REASON = "Report as it was sealed"


def pades_signer(
    key: Path, certificate: Path, passphrase: Callable[[], str]
) -> Callable[[bytes], bytes]:
    """Return a function that signs a PDF.

    The signature shows that the holder of the key signed these bytes. Whether the certificate is
    one that somebody trusts is for the reader's program to say; nothing is fetched for it.

    Parameters
    ----------
    key, certificate : Path
        PEM files.
    passphrase : callable
        Asked for the passphrase if the key has one; ``""`` if nobody can be asked.

    Raises
    ------
    InputError
        If the library is not installed, or the two cannot be read or do not belong together.
    """
    try:
        from pyhanko.sign import signers  # noqa: PLC0415 - an extra, and few sign
        from pyhanko_certvalidator.registry import SimpleCertificateStore  # noqa: PLC0415
    except ImportError:
        raise InputError(
            "a signature needs a library that is not installed",
            hint='run: pip install "tempwitness[sign]" – or leave --sign-key and --sign-cert out',
        ) from None
    registry: Any = SimpleCertificateStore
    signer = signers.SimpleSigner(
        *_matching(key, certificate, passphrase), cert_registry=registry()
    )
    return lambda pdf: _signed(pdf, signer)


def _matching(key: Path, certificate: Path, passphrase: Callable[[], str]) -> tuple[Any, Any]:
    """Return certificate and key as the signing library takes them, if they belong together."""
    from cryptography import x509  # noqa: PLC0415 - comes with the signing library
    from pyhanko import keys  # noqa: PLC0415

    private, word = _private(key, passphrase)
    raw = certificate.read_bytes()
    try:
        found = x509.load_pem_x509_certificate(raw)
    except ValueError:
        raise _unread(certificate, "it is no certificate in PEM form") from None
    if found.public_key() != private.public_key():
        raise InputError(
            "the certificate does not belong to the key",
            location=Location(str(certificate)),
            hint="name the certificate that was made for this key",
        )
    return (
        next(keys.load_certs_from_pemder_data(raw)),
        keys.load_private_key_from_pemder_data(key.read_bytes(), word),
    )


def _private(key: Path, passphrase: Callable[[], str]) -> tuple[Any, bytes | None]:
    """Return the key and the passphrase that opened it."""
    from cryptography.hazmat.primitives.serialization import (  # noqa: PLC0415 - as above
        load_pem_private_key,
    )

    raw, word = key.read_bytes(), None
    try:
        try:
            return load_pem_private_key(raw, None), None
        except TypeError:  # so the library says that it is encrypted
            word = passphrase().encode("utf-8") or None
            if word is None:
                raise _unread(key, "it has a passphrase, and nobody can be asked for it") from None
            return load_pem_private_key(raw, word), word
    except ValueError:
        what = "it is no private key in PEM form" if word is None else "the passphrase is wrong"
        raise _unread(key, what) from None


def _unread(path: Path, what: str) -> InputError:
    return InputError(
        f"the file cannot be used to sign: {what}",
        location=Location(str(path)),
        hint="a PEM file begins with a line of dashes that says what it holds",
    )


def _signed(pdf: bytes, signer: Any) -> bytes:  # noqa: ANN401 - the library's own
    from pyhanko.pdf_utils.incremental_writer import (  # noqa: PLC0415 - as above
        IncrementalPdfFileWriter,
    )
    from pyhanko.sign import fields, signers  # noqa: PLC0415

    # Which uses a certificate allows is for whoever trusts it to ask, not for whoever signs.
    how = signers.PdfSignatureMetadata(
        field_name=_FIELD,
        subfilter=fields.SigSeedSubFilter.PADES,
        md_algorithm="sha256",
        reason=_REASON,
        signer_key_usage=set(),
    )
    target = io.BytesIO()
    signers.sign_pdf(IncrementalPdfFileWriter(io.BytesIO(pdf)), how, signer=signer, output=target)
    return target.getvalue()
