"""The program's window on a private screen, used as a maker uses it: by keys, clicks and looking.
Python's standard library, xdotool and ImageMagick."""
import collections
import contextlib
import ctypes
import signal
import subprocess
import time

import support


class Window:
    """A running window. Keys are sent one by one, with time for the picture that answers each."""

    def __init__(self, process, env, number):
        self.process = process
        self.env = env
        self.number = number

    def tool(self, *words):
        done = support.run("xdotool", *words, env=self.env, timeout=20)
        if done.returncode != 0:
            raise RuntimeError(f"xdotool {words}: {done.stderr}")
        return done.stdout.strip()

    def keys(self, *names, pause=0.5):
        for name in names:
            self.tool("key", name)
            time.sleep(pause)

    def between_two_pictures(self, *words, pause=0.5):
        """What xdotool is told happens while the program stands still, as while a picture takes long: all of it
        waits for it together."""
        self.process.send_signal(signal.SIGSTOP)
        self.tool(*words)
        time.sleep(0.2)
        self.process.send_signal(signal.SIGCONT)
        time.sleep(pause)

    def key_between_two_pictures(self, name, pause=0.5):
        self.between_two_pictures("key", name, pause=pause)

    def click(self, across, down, pause=0.8):
        self.tool("mousemove", across, down)
        time.sleep(0.3)
        self.tool("click", "1")
        time.sleep(pause)

    def write(self, words):
        self.tool("type", "--delay", "60", words)
        time.sleep(0.5)

    def close(self):
        """As by the cross of its frame; the exit code, or None if it stays."""
        ask_to_close(self.env["DISPLAY"], int(self.number))
        try:
            return self.process.wait(20)
        except subprocess.TimeoutExpired:
            return None

    def picture(self, path):
        """Takes a picture of the whole screen into a PNG."""
        done = support.run("import", "-window", "root", path, env=self.env, timeout=30)
        if done.returncode != 0:
            raise RuntimeError("import: " + done.stderr)

    def colours(self, left, top, right, bottom):
        """How many pixels within a box are clearly blue, green, and orange: the colours in which
        modes 1, 5 and 2 are drawn."""
        done = subprocess.run(["import", "-window", "root", "-crop",
                               f"{right - left}x{bottom - top}+{left}+{top}", "-depth", "8", "rgb:-"],
                              env=self.env, timeout=30, capture_output=True, check=True)
        shown = done.stdout
        blue = green = orange = 0
        for r, g, b in zip(shown[0::3], shown[1::3], shown[2::3]):
            blue += b > r + 60 and b > g + 30
            green += g > r + 60 and g > b
            orange += r > 160 and r > b + 100 and r > g + 60
        return {"blue": blue, "green": green, "orange": orange}


    def drawn(self, left, top, right, bottom):
        """How many pixels within a box differ from its commonest colour: what is written or drawn there."""
        done = subprocess.run(["import", "-window", "root", "-crop",
                               f"{right - left}x{bottom - top}+{left}+{top}", "-depth", "8", "rgb:-"],
                              env=self.env, timeout=30, capture_output=True, check=True)
        counts = collections.Counter(zip(*[iter(done.stdout)] * 3))
        return sum(counts.values()) - max(counts.values())


def ask_to_close(display, number):
    """Sends what a window manager sends when the frame's cross is clicked (ICCCM, WM_DELETE_WINDOW);
    bookworm's xdotool has no word for it."""
    class ClientMessage(ctypes.Structure):
        _fields_ = [("type", ctypes.c_int), ("serial", ctypes.c_ulong), ("send_event", ctypes.c_int),
                    ("display", ctypes.c_void_p), ("window", ctypes.c_ulong),
                    ("message_type", ctypes.c_ulong), ("format", ctypes.c_int),
                    ("data", ctypes.c_long * 5), ("rest", ctypes.c_long * 24)]
    x11 = ctypes.CDLL("libX11.so.6")
    x11.XOpenDisplay.restype = ctypes.c_void_p
    x11.XInternAtom.restype = ctypes.c_ulong
    x11.XInternAtom.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int]
    x11.XSendEvent.argtypes = [ctypes.c_void_p, ctypes.c_ulong, ctypes.c_int, ctypes.c_long,
                               ctypes.c_void_p]
    x11.XCloseDisplay.argtypes = [ctypes.c_void_p]
    server = x11.XOpenDisplay(display.encode())
    event = ClientMessage(type=33, send_event=1, window=number, format=32)
    event.message_type = x11.XInternAtom(server, b"WM_PROTOCOLS", 0)
    event.data[0] = x11.XInternAtom(server, b"WM_DELETE_WINDOW", 0)
    x11.XSendEvent(server, number, 0, 0, ctypes.byref(event))
    x11.XCloseDisplay(server)


@contextlib.contextmanager
def window(given, env, *words):
    """Starts the program with its window and waits until it can be written to."""
    log = given.scratch / "window.log"
    with open(log, "a", encoding="utf-8") as out:
        with support.started([given.program, *words], env=env, stdin=subprocess.DEVNULL, stdout=out,
                             stderr=out) as process:
            def appears():
                if process.poll() is not None:
                    raise RuntimeError("the window did not open: " + log.read_text("utf-8"))
                found = support.run("xdotool", "search", "--onlyvisible", "--name", "^Platewright$",
                                    env=env, timeout=10)
                return found.stdout.split()
            number = support.wait_until(appears, 40, "the window")[0]
            shown = Window(process, env, number)
            shown.tool("windowmove", number, "0", "0")
            shown.tool("windowfocus", number)
            time.sleep(1.5)  # the first pictures are drawn, and the microphone is opened
            try:
                yield shown
            except Exception:
                shown.picture(given.scratch / "when-it-failed.png")
                raise
