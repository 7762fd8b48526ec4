"""Options by which a report is signed."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from tempwitness.errors import InputError, Location

if TYPE_CHECKING:
    from tempwitness.sealing.seal import Sign

__all__ = ["signer", "signing_options"]

Command = TypeVar("Command", bound=Callable[..., Any])
_OPTIONS = (
    click.option(
        "--sign-key",
        type=click.Path(path_type=Path, exists=True, dir_okay=False),
        help="Private key (PEM) by which each report is signed (PAdES).",
    ),
    click.option(
        "--sign-cert",
        type=click.Path(path_type=Path, exists=True, dir_okay=False),
        help="Certificate (PEM) that belongs to the key.",
    ),
)


def signing_options(command: Command) -> Command:
    """Add the two options; they reach the command as `sign_key` and `sign_cert`."""
    for option in reversed(_OPTIONS):
        command = option(command)
    return command


def signer(key: Path | None, certificate: Path | None) -> Sign | None:
    """Return what signs a report, or ``None`` if that was not asked for.

    Raises
    ------
    InputError
        If one of the two is missing, cannot be read, or the library is not installed.
    """
    if key is None and certificate is None:
        return None
    if key is None or certificate is None:
        missing = "--sign-key" if key is None else "--sign-cert"
        raise InputError(
            "a signature needs a key and its certificate",
            location=Location("command line", key=missing),
            hint="name both: --sign-key KEY.pem --sign-cert CERT.pem",
        )
    from tempwitness.sealing.sign import pades_signer  # noqa: PLC0415 - few sign

    return pades_signer(key, certificate, _passphrase)


def _passphrase() -> str:
    """Ask for the key's passphrase; without a terminal there is none."""
    if not sys.stdin.isatty():
        return ""
    word: str = click.prompt("Passphrase of the key", hide_input=True, err=True)
    return word
