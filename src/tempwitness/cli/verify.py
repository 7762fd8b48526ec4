"""The command that verifies a sealed archive."""

from __future__ import annotations

from pathlib import Path

import click

from tempwitness.cli.settings import SETTINGS

__all__ = ["verify"]

_EPILOG = """\b
Exit status:
  0  the same: nothing was changed, and every answer comes out again
  1  it differs: a member was changed, or an answer comes out otherwise
  2  could not run: no sealed archive, or one that is dangerous to unpack

A hash shows whether something was changed after it was sealed. It shows neither who wrote it nor
that the readings are true. The local health authority decides what it accepts."""


@click.command(context_settings=SETTINGS, epilog=_EPILOG)
@click.argument("archive", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option(
    "--manifest",
    metavar="SHA256",
    help="The hash that was written down when it was sealed; it must be that of the manifest.",
)
@click.pass_context
def verify(ctx: click.Context, /, *, archive: Path, manifest: str | None) -> None:
    """Verify a sealed ARCHIVE: its members by their hashes, its answers by judging it again.

    Everything is judged from the archive's own contents: its records, its readings, its own rules,
    for the moment at which it was sealed. Whether the rules shipped with this program now differ
    from those is said beside it.

    \b
    Example:
      tempwitness verify fair.zip
    """  # noqa: D301 - click's mark for text that must not be rewrapped
    from tempwitness.cli.verify_text import told, wrapped  # noqa: PLC0415 - help needs none
    from tempwitness.sealing.verify import verify as verified  # noqa: PLC0415 - help needs none

    found = verified(archive)
    expected = None if manifest is None else "".join(manifest.split()).lower()
    for line in told(found, str(archive), expected):
        click.echo(wrapped(line))
    as_noted = expected is None or expected == found.manifest_sha256
    ctx.exit(0 if found.same and as_noted else 1)
