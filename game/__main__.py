"""Where the program starts: Ctrl-C is listened to before anything else is loaded."""

import sys


def main() -> int:
    """Run the command line; the exit status is 0, 1 for bad input, 2 for bad usage or 130 after Ctrl-C."""
    try:
        from game.command_line import main as run  # late: loading it takes long enough to press Ctrl-C

        return run()
    except KeyboardInterrupt:
        print("Stopped. What was played is kept.", file=sys.stderr)
        return 130


if __name__ == "__main__":
    sys.exit(main())
