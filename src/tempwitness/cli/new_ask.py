"""Asking: an option that was given is the answer, a terminal is asked, a script is told."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

import click

from tempwitness.errors import InputError, Location, TempwitnessError

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

__all__ = ["Asker", "refuse", "refuse_doubles", "say", "terminal"]

T = TypeVar("T")
_COMMAND_LINE = "command line"


def terminal() -> bool:
    """Whether somebody is there to be asked."""
    return sys.stdin.isatty()


def say(line: str = "") -> None:
    """Say something beside the questions; standard output stays clean."""
    click.echo(line, err=True)


def refuse(option: str, why: str, hint: str = "") -> InputError:
    """Build the error for an option that cannot be understood."""
    return InputError(why, location=Location(_COMMAND_LINE, key=option), hint=hint)


def refuse_doubles(option: str, given: Sequence[str]) -> None:
    """Refuse a repeated option that answers for one name twice."""
    names = [text.rpartition("=")[0] for text in given]
    for name in names:
        if names.count(name) > 1:
            raise refuse(option, f"'{name}' is answered twice", "keep one of the two")


@dataclass(frozen=True, slots=True)
class Asker:
    """Asks one question at a time.

    Parameters
    ----------
    asks : bool
        Whether there is a terminal; without one, only options answer.
    """

    asks: bool

    def one(
        self,
        question: str,
        option: str,
        given: str,
        read: Callable[[str], T],
        *,
        needed: bool = False,
        default: str = "",
    ) -> T | None:
        """Return an answer, ``None`` if it was left open.

        Parameters
        ----------
        question : str
            What is asked; it ends in no mark.
        option : str
            Option that answers it too.
        given : str
            What that option said; ``""`` if nothing.
        read : callable
            Understands the answer, or raises `ValueError` or `TempwitnessError`.
        needed : bool
            Whether the record cannot do without.
        default : str
            Answer that is offered to a terminal.

        Raises
        ------
        InputError
            If the option cannot be understood, or a needed answer is missing.
        """
        if given.strip():
            try:
                return read(given.strip())
            except (ValueError, TempwitnessError) as why:
                raise refuse(option, _words(why)) from None
        if not self.asks:
            if needed:
                raise refuse(
                    option,
                    f"an answer is missing and there is no terminal to ask: {question}",
                    f"add {option}",
                )
            return None
        return self._asked(question, read, needed=needed, default=default)

    def _asked(
        self, question: str, read: Callable[[str], T], *, needed: bool, default: str
    ) -> T | None:
        while True:
            text: str = click.prompt(
                question, default=default, show_default=bool(default), err=True
            ).strip()
            if not text and not needed:
                return None
            if not text:
                say("  an answer is needed here")
                continue
            try:
                return read(text)
            except (ValueError, TempwitnessError) as why:
                say(f"  {_words(why)}")

    def pick(
        self,
        question: str,
        option: str,
        given: str,
        choices: Sequence[tuple[str, str]],
        *,
        needed: bool = False,
        several: bool = False,
    ) -> tuple[str, ...]:
        """Return what was picked from a list, by its number at a terminal or by its word.

        Parameters
        ----------
        question, option, given, needed
            As for `one`.
        choices : sequence of (str, str)
            Words, and what each means.
        several : bool
            Whether more than one may be named, with commas between.
        """
        words = [word for word, _ in choices]
        if self.asks and not given:
            width = max(map(len, words))
            for number, (word, meaning) in enumerate(choices, 1):
                say(f"  {number:2d}  {word.ljust(width)}  {meaning}".rstrip())

        def read(text: str) -> tuple[str, ...]:
            parts = text.split(",") if several else [text]
            return tuple(dict.fromkeys(_picked(p.strip(), words, numbers=not given) for p in parts))

        return self.one(question, option, given, read, needed=needed) or ()

    def lines(
        self,
        question: str,
        option: str,
        given: Sequence[str],
        read: Callable[[str], dict[str, T]],
    ) -> list[dict[str, T]]:
        """Return the lines that were given, or typed one by one until a blank one."""
        if given or not self.asks:
            return [found for text in given if (found := self.one("", option, text, read))]
        say(question)
        typed: list[dict[str, T]] = []
        while (entry := self._asked("  line", read, needed=False, default="")) is not None:
            say("    understood: " + ", ".join(f"{k} {v}" for k, v in entry.items()))
            typed.append(entry)
        return typed


def _picked(text: str, words: Sequence[str], *, numbers: bool) -> str:
    from tempwitness.readers.problems import nearest  # noqa: PLC0415 - help needs none of it

    if numbers and text.isdecimal() and 1 <= int(text) <= len(words):
        return words[int(text) - 1]
    plain = text.lower().replace(" ", "_")
    if plain not in words:
        raise ValueError(f"'{text}' is none of {', '.join(words)}{nearest(plain, words)}")
    return plain


def _words(why: Exception) -> str:
    if isinstance(why, TempwitnessError):
        return f"{why.message}\n  to mend it: {why.hint}" if why.hint else why.message
    return str(why)
