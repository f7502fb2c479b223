"""The program as it is started: displays, terminals, pipes, closed streams and Ctrl-C, in a process of its own."""

import os
import select
import signal
import subprocess
import sys
import time

import pytest
from command_kit import SHEET, code, kept

from engine.rules.house import House


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="needs displays that are found by a variable")
@pytest.mark.parametrize("driver", ["x11", ""])
@pytest.mark.slow
def test_a_display_that_can_not_be_used_is_told_in_one_line(driver, started):
    """The driver's reason is in the line; then the same as without a display. No window that nobody sees."""
    result = started("play", *SHEET, "--deal", code(), SDL_VIDEODRIVER=driver, DISPLAY=":4999")
    assert result.returncode == 0
    first = result.stdout.splitlines()[0]
    assert first.startswith("The display here can't be used (")
    assert first.endswith("), so the game is played in sentences.")
    assert "Traceback" not in result.stderr
    assert "Let the " in result.stdout


@pytest.mark.skipif(not hasattr(os, "openpty"), reason="needs a pseudo terminal")
@pytest.mark.slow
def test_without_a_display_a_terminal_gets_the_text_table(environment):
    """Started in a terminal, what the player types is played."""
    keyboard, terminal = os.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "play", *SHEET, "--deal", code()],
        stdin=terminal, stdout=terminal, stderr=terminal, env=environment,
    )  # fmt: skip
    os.close(terminal)
    try:
        read_until(keyboard, "You hold 14 tiles")
        os.write(keyboard, b"help\n")
        read_until(keyboard, "goes on from here next time.")
        os.write(keyboard, b"quit\n")
        said = read_until(keyboard, "The game is kept")
        assert process.wait(60) == 0
        assert said.count("Traceback") == 0
    finally:
        process.kill()
        process.wait()
        os.close(keyboard)


def read_until(keyboard, words, seconds=60):
    """What the program prints, up to these words. Fails when they don't come."""
    said, end = "", time.monotonic() + seconds
    while words not in said:
        ready, _, _ = select.select([keyboard], [], [], max(end - time.monotonic(), 0))
        assert ready, f"“{words}” did not come, only: {said}"
        try:
            part = os.read(keyboard, 65536)
        except OSError:
            part = b""
        assert part, f"the program ended before “{words}” came: {said}"
        said += part.decode("utf-8", "replace")
    return said


@pytest.mark.slow
def test_a_reader_that_goes_away_is_no_error(environment):
    """`lone-east watch | head -1`: no traceback, and the command ends."""
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "watch", *SHEET, "--deal", code(House())],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment,
    )  # fmt: skip
    process.stdout.readline()
    process.stdout.close()
    complaints = process.stderr.read().decode()
    process.stderr.close()
    assert process.wait(60) == 0
    assert complaints == ""


@pytest.mark.slow
def test_output_is_utf_8_where_the_locale_is_not(started):
    """Typographic characters survive a plain C locale."""
    result = started("play", "--text", *SHEET, typed="quit\n", LC_ALL="C", PYTHONIOENCODING="", PYTHONUTF8="0")
    assert "Type “help” to hear what you can type." in result.stdout


@pytest.mark.slow
def test_bytes_that_are_no_text_are_read_and_refused(environment):
    """No traceback: what can't be read is no tile, and the game goes on."""
    result = subprocess.run(
        [sys.executable, "-m", "game", "play", "--text", *SHEET, "--deal", code()],
        input=b"\xff\xfe\n\xed\xa0\x80\nrack\n", capture_output=True, env=environment, timeout=120, check=False,
    )  # fmt: skip
    assert result.returncode == 0
    assert result.stderr == b""
    assert result.stdout.count(b"is no tile and no command") == 2
    assert result.stdout.count(b"You hold 14 tiles") == 2


@pytest.mark.skipif(sys.platform == "win32", reason="closes streams as a POSIX shell does")
@pytest.mark.parametrize(
    ("arguments", "closed"),
    [
        *(("play --text", closed) for closed in ("<&-", ">&-", "2>&-", "<&- >&- 2>&-")),
        *(("play", closed) for closed in ("<&-", "<&- >&- 2>&-")),
        *(("--version", closed) for closed in (">&-", "<&- >&- 2>&-")),
    ],
)
@pytest.mark.slow
def test_closed_standard_streams_are_no_error(closed, arguments, environment):
    """The command ends by itself, without a traceback, and no kept file was written over by what was said."""
    short = f"--sheet first-steps --deal {code()}" if "play" in arguments else ""
    line = f'exec "$0" -m game {arguments} {short} {closed}'
    more = {} if "2>&-" in closed else {"stderr": subprocess.PIPE}
    result = subprocess.run(
        ["/bin/sh", "-c", line, sys.executable], env=environment, timeout=120, check=False,
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, **more,
    )  # fmt: skip
    assert result.returncode == 0
    assert b"Traceback" not in (result.stderr or b"")
    if arguments == "play --text":
        assert len(kept(environment)) == 1


@pytest.mark.skipif(sys.platform == "win32", reason="sends a signal as a POSIX terminal does")
@pytest.mark.slow
def test_an_interrupt_while_the_program_starts_is_one_line(environment, tmp_path):
    """Ctrl-C in the midst of the first imports: one sentence, status 130."""
    slow = tmp_path / "slow"
    slow.mkdir()
    (slow / "argparse.py").write_text("import time; print('importing', flush=True); time.sleep(60)\n")
    path = os.pathsep.join([str(slow), environment["PYTHONPATH"]])
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "play", "--text"], env={**environment, "PYTHONPATH": path},
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),  # tests run in the background may ignore it
    )  # fmt: skip
    assert process.stdout.readline() == "importing\n"
    process.send_signal(signal.SIGINT)
    _, complaint = process.communicate(timeout=60)
    assert process.returncode == 130
    assert complaint == "Stopped. What was played is kept.\n"
