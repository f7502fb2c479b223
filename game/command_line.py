"""The command line: `lone-east` alone opens the window; each command is a module of `game.commands`."""

from __future__ import annotations

import argparse
import importlib
import importlib.metadata
import os
import sys
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from engine import words
from engine.store.values import StoreError

COMMANDS = (
    "play",
    "watch",
    "check",
    "advise",
    "simulate",
    "study",
    "compare",
    "invent",
    "drill",
    "today",
    "ledger",
    "lesson",
    "print",
    "progress",
    "export",
)

BAD_INPUT = 1
BAD_USAGE = 2
INTERRUPTED = 130
"""128 and the number of the signal, as shells have it."""


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with arguments without the characters in them that steer a terminal."""

    def error(self, message: str) -> NoReturn:
        """Print usage and fault, and leave."""
        super().error(words.shown(message))


PROJECT = Path(__file__).parent.parent / "pyproject.toml"


def parser(names: Sequence[str] = COMMANDS) -> argparse.ArgumentParser:
    """The command line with these commands, as argparse knows it."""
    top = _Parser(
        prog="lone-east",
        description="A practice game for American-style mahjong, played alone. Without a command it opens the window.",
    )
    top.add_argument("--version", action="version", version=f"lone-east {version()}")
    subparsers = top.add_subparsers(dest="command", metavar="COMMAND")
    for name in names:
        importlib.import_module(f"game.commands.{name}").add_parser(subparsers)
    return top


def version() -> str:
    """The program's version: of the installed package, or of the checkout that it runs from."""
    try:
        return importlib.metadata.version("lone-east")
    except importlib.metadata.PackageNotFoundError:
        return str(tomllib.loads(PROJECT.read_text(encoding="utf-8"))["project"]["version"])


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; the exit status is 0, 1 for bad input or 2 for bad usage."""
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    _hold_streams()
    _speak_utf8()
    try:
        return _run(list(sys.argv[1:] if arguments is None else arguments) or ["play"])
    except BrokenPipeError:  # the reader of our output has gone, as with `| head`
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - held open to the end on purpose
        return 0
    except KeyboardInterrupt:
        print("Stopped. What was played is kept.", file=sys.stderr)
        return INTERRUPTED


def _run(given: Sequence[str]) -> int:
    """Understand the arguments and do what they say."""
    try:
        chosen = parser(_needed(given[0])).parse_args(given)
    except SystemExit as end:  # argparse has printed its message
        return end.code if isinstance(end.code, int) else BAD_USAGE
    for name, value in vars(chosen).items():
        if value == []:  # argparse takes “--” for the end of the options behind an equals sign, too
            setattr(chosen, name, "--")
    try:
        status: int = chosen.run(chosen)
    except StoreError as error:
        print(f"{words.shown(words.sentence(str(error).rstrip('.')))}.", file=sys.stderr)
        return BAD_INPUT
    sys.stdout.flush()
    return status


def _needed(first: str) -> Sequence[str]:
    """The commands that have to be known; the others would only make the start slower."""
    if first in COMMANDS:
        return (first,)
    return () if first == "--version" else COMMANDS


def _hold_streams() -> None:
    """Put the null device in the place of a standard stream that is closed: no file of ours may get its number."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115, PTH123 - held open on purpose


def _speak_utf8() -> None:
    """Print typographic characters everywhere, also where the locale knows ASCII only; read any bytes as text."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")
    if hasattr(sys.stdin, "reconfigure"):
        sys.stdin.reconfigure(errors="replace")
