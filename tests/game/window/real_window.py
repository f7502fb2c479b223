"""A display of its own, the installed program on it, and hands for it: keys and clicks as a user would make them."""

import contextlib
import ctypes
import os
import shutil
import signal
import struct
import subprocess
import sys
import time
from pathlib import Path

PATIENCE = 60
"""Seconds that a loaded machine may take for anything."""
AGAIN = 15
"""Seconds after which something that had no effect is done once more."""


def missing():
    """What must be installed for a real window, or nothing."""
    if not sys.platform.startswith("linux"):
        return "needs Linux"
    lacking = [name for name in ("Xvfb", "xdotool") if shutil.which(name) is None]
    return f"needs {' and '.join(lacking)}: apt-get install xvfb xdotool" if lacking else ""


def until(condition, seconds=PATIENCE, unless=lambda: None):
    """Wait for a condition and give its value; what `unless` says ends the waiting at once."""
    end = time.monotonic() + seconds
    while True:
        value = condition()
        if value:
            return value
        fault = unless()
        if fault:
            raise AssertionError(fault)
        if time.monotonic() > end:
            return value
        time.sleep(0.02)


class Display:
    """A virtual screen on a number that was free."""

    def __init__(self, size="1600x1000x24", folder=None):
        """With a `folder` what stands on the screen can be looked at."""
        reading, writing = os.pipe()
        self._shown = None if folder is None else folder / "Xvfb_screen0"
        self._server = subprocess.Popen(
            ["Xvfb", "-displayfd", str(writing), "-screen", "0", size, "-nolisten", "tcp", "-noreset"]
            + ([] if folder is None else ["-fbdir", str(folder)]),
            pass_fds=[writing],
            stderr=subprocess.DEVNULL,
        )
        os.close(writing)
        with os.fdopen(reading) as told:
            number = told.readline().strip()
        assert number, "Xvfb did not start"
        self.name = f":{number}"

    def shows(self, top=0, bottom=None):
        """The pixels of the rows from `top` to `bottom`, as they stand on the screen now."""
        raw = self._shown.read_bytes()
        head = struct.unpack(">25I", raw[:100])  # as X11/XWDFile.h has it: sizes, then colours, then the rows
        begin, row = head[0] + 12 * head[19], head[12]
        return raw[begin + top * row : begin + (head[5] if bottom is None else bottom) * row]

    def still(self, top=0, bottom=None, seconds=0.3):
        """Wait until the rows show something and stand still so long; gives them. What moves for ever is given so."""
        found = [b""]

        def same():
            found.append(self.shows(top, bottom))
            time.sleep(seconds)
            return found[-1] == self.shows(top, bottom) and any(found[-1])

        until(same, 20)
        return found[-1]

    def close(self):
        """The screen goes dark."""
        self._server.terminate()
        self._server.wait()


class Player:
    """Starts the program with a data folder and plays it from the outside."""

    def __init__(self, display, data):
        clean = {name: value for name, value in os.environ.items() if not name.startswith(("SDL_", "WAYLAND"))}
        path = os.pathsep.join(filter(None, sys.path))
        self.environment = {**clean, "DISPLAY": display.name, "LONE_EAST_DATA": str(data), "PYTHONPATH": path}
        self.environment |= {"SDL_AUDIODRIVER": "dummy", "PYTHONFAULTHANDLER": "1"}
        self.process, self.window, self.corner, self.size = None, "", (0, 0), (0, 0)

    def start(self, *arguments):
        """The console script where it is installed, else the module; returns when its window is there."""
        script = shutil.which("lone-east", path=str(Path(sys.executable).parent))
        command = [script] if script else [sys.executable, "-m", "game"]
        self.process = subprocess.Popen([*command, *arguments], env=self.environment, stderr=subprocess.PIPE)
        self.window = until(self._find, unless=self._ended)
        assert self.window, f"no window came; {self._where()}"
        told = dict(line.split("=") for line in self._do("getwindowgeometry", "--shell", self.window).splitlines())
        self.corner, self.size = (int(told["X"]), int(told["Y"])), (int(told["WIDTH"]), int(told["HEIGHT"]))
        until(self._focus, unless=self._ended)

    def _find(self):
        return self._do("search", "--onlyvisible", "--pid", str(self.process.pid)).strip()

    def _focus(self):
        self._do("windowfocus", self.window)
        return self._do("getwindowfocus").strip() == self.window

    def _ended(self):
        if self.process.poll() is None:
            return None
        return f"the program ended with {self.process.returncode}: {self.process.stderr.read().decode()}"

    def _where(self):
        """End the program and tell where it was."""
        self.process.send_signal(signal.SIGABRT)
        return self.process.communicate(timeout=PATIENCE)[1].decode()

    def _do(self, *arguments):
        done = subprocess.run(
            ["xdotool", *arguments], env=self.environment, capture_output=True, encoding="utf-8", check=False
        )
        return done.stdout

    def keys(self, *names):
        """Press keys one after another."""
        self._do("key", "--delay", "40", *names)

    def types(self, text):
        """Type a text into the focused field."""
        self._do("type", "--delay", "30", text)

    def click(self, at):
        """Move the mouse to a point of the window and click."""
        self._do("mousemove", str(self.corner[0] + at[0]), str(self.corner[1] + at[1]))
        self._do("click", "1")

    def clicks(self, places):
        """Click one point after another."""
        for at in places:
            self.click(at)
            time.sleep(0.1)

    def does(self, act, condition):
        """Act until the condition holds; an act that a busy machine has swallowed is done again."""
        for _ in range(PATIENCE // AGAIN):
            act()
            value = until(condition, AGAIN, self._ended)
            if value:
                return value
        raise AssertionError(f"nothing came of {act}; {self._where()}")

    def ask_to_close(self):
        """What a window's closing button does; gives the exit status."""
        _send_delete(self.environment["DISPLAY"], int(self.window))
        return self.process.wait(PATIENCE)

    def kill(self):
        """The program ends at once, wherever it is."""
        self.process.kill()
        self.process.wait()

    def close(self):
        """Nothing is left running."""
        if self.process is not None:
            self.kill()
            self.process.stderr.close()


class _ClientMessage(ctypes.Structure):
    """XClientMessageEvent of Xlib."""

    _fields_ = (
        ("type", ctypes.c_int), ("serial", ctypes.c_ulong), ("send_event", ctypes.c_int), ("display", ctypes.c_void_p),
        ("window", ctypes.c_ulong), ("message_type", ctypes.c_ulong), ("format", ctypes.c_int),
        ("data", ctypes.c_long * 5), ("room", ctypes.c_long * 12),
    )  # fmt: skip


def _send_delete(display, window):
    """Send WM_DELETE_WINDOW, as a window manager does (ICCCM 4.2.8.1); there is none on this display."""
    library = ctypes.CDLL("libX11.so.6")
    library.XOpenDisplay.restype = ctypes.c_void_p
    library.XInternAtom.restype = ctypes.c_ulong
    library.XInternAtom.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int]
    library.XSendEvent.argtypes = [
        ctypes.c_void_p, ctypes.c_ulong, ctypes.c_int, ctypes.c_long, ctypes.POINTER(_ClientMessage)
    ]  # fmt: skip
    library.XCloseDisplay.argtypes = [ctypes.c_void_p]
    link = library.XOpenDisplay(display.encode())
    assert link, "the display is gone"
    with contextlib.closing(_Closing(lambda: library.XCloseDisplay(link))):
        message = _ClientMessage(type=33, window=window, format=32)
        message.message_type = library.XInternAtom(link, b"WM_PROTOCOLS", 0)
        message.data[0] = library.XInternAtom(link, b"WM_DELETE_WINDOW", 0)
        library.XSendEvent(link, window, 0, 0, ctypes.byref(message))


class _Closing:
    def __init__(self, close):
        self.close = close
