"""The command line: `lone-east` alone opens the window; each command is a module of `game.commands`."""

from __future__ import annotations

import argparse
import importlib
import os
import sys
from collections.abc import Sequence

COMMANDS = ("play", "watch", "check", "advise", "simulate", "study", "compare", "drill", "today")

BAD_INPUT = 1
BAD_USAGE = 2


def parser(names: Sequence[str] = COMMANDS) -> argparse.ArgumentParser:
    """The command line with these commands, as argparse knows it."""
    top = argparse.ArgumentParser(
        prog="lone-east",
        description="A practice game for American-style mahjong, played alone. Without a command it opens the window.",
    )
    subparsers = top.add_subparsers(dest="command", metavar="COMMAND")
    for name in names:
        importlib.import_module(f"game.commands.{name}").add_parser(subparsers)
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; the exit status is 0, 1 for bad input or 2 for bad usage."""
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    given = list(sys.argv[1:] if arguments is None else arguments) or ["play"]
    needed = given[:1] if given[0] in COMMANDS else COMMANDS  # the others would only make the start slower
    _speak_utf8()
    try:
        chosen = parser(needed).parse_args(given)
    except SystemExit as end:  # argparse has printed its message
        return end.code if isinstance(end.code, int) else BAD_USAGE
    try:
        status: int = chosen.run(chosen)
        sys.stdout.flush()
        return status
    except BrokenPipeError:  # the reader of our output has gone, as with `| head`
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - held open to the end on purpose
        return 0
    except KeyboardInterrupt:
        print("Stopped. What was played is kept.", file=sys.stderr)
        return 130


def _speak_utf8() -> None:
    """Print typographic characters everywhere, also where the locale knows ASCII only."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


if __name__ == "__main__":
    sys.exit(main())
