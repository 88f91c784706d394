"""What the whole-program tests share: running the program with a time limit, a private sound server,
a private screen, and the demo workshop. Python's standard library only.

Each test is a script of its own: CTest gives it the program, the sources and a scratch folder. It
exits with 77 (skipped) where a tool it needs is not installed."""
import argparse
import contextlib
import json
import os
import pathlib
import shutil
import sqlite3
import subprocess
import sys
import time

SKIPPED = 77


def arguments():
    parser = argparse.ArgumentParser()
    parser.add_argument("--program", required=True, type=pathlib.Path)
    parser.add_argument("--source", required=True, type=pathlib.Path)
    parser.add_argument("--scratch", required=True, type=pathlib.Path)
    parser.add_argument("--pictures", type=pathlib.Path, help="where screenshots go; none if absent")
    given = parser.parse_args()
    given.program, given.source, given.scratch = (
        path.resolve() for path in (given.program, given.source, given.scratch))
    shutil.rmtree(given.scratch, ignore_errors=True)
    given.scratch.mkdir(parents=True)
    return given


def need(*tools):
    """Skips the test where a tool is missing."""
    missing = [tool for tool in tools if shutil.which(tool) is None]
    if missing:
        print("SKIPPED: not installed:", ", ".join(missing))
        sys.exit(SKIPPED)


class Checks:
    """Counts what was checked; a failure is printed and the rest still runs."""

    def __init__(self):
        self.done = 0
        self.failed = 0

    def that(self, holds, what):
        self.done += 1
        if not holds:
            self.failed += 1
            print("FAILED:", what, flush=True)
        return bool(holds)

    def finish(self):
        print(f"{self.done - self.failed} of {self.done} checks passed")
        sys.exit(1 if self.failed or self.done == 0 else 0)


def private_environment(scratch, **more):
    """An environment in which nothing of the user's is read or written."""
    home = scratch / "home"
    runtime = scratch / "run"
    for folder in (home, runtime):
        folder.mkdir(parents=True, exist_ok=True)
        folder.chmod(0o700)
    kept = {name: os.environ[name] for name in ("PATH", "LANG", "TZ", "ASAN_OPTIONS", "TSAN_OPTIONS",
                                                "UBSAN_OPTIONS", "LD_LIBRARY_PATH")
            if name in os.environ}
    return kept | {"HOME": str(home), "XDG_RUNTIME_DIR": str(runtime),
                   "XDG_CONFIG_HOME": str(home / ".config"), "XDG_DATA_HOME": str(home / ".local/share"),
                   "XDG_STATE_HOME": str(home / ".local/state")} | more


def ask(ledger, question):
    """Rows of the ledger in this folder, which is only read."""
    with contextlib.closing(sqlite3.connect(f"file:{ledger}/ledger.sqlite?mode=ro", uri=True)) as database:
        return database.execute(question).fetchall()


def run(program, *words, env=None, timeout=300, cwd=None):
    """Runs the program; a time-out counts as exit code None."""
    try:
        return subprocess.run([str(program), *map(str, words)], env=env, cwd=cwd, timeout=timeout,
                              stdin=subprocess.DEVNULL, capture_output=True, text=True,
                              errors="replace")
    except subprocess.TimeoutExpired as late:
        return subprocess.CompletedProcess(late.cmd, None, str(late.stdout or ""),
                                           f"still running after {timeout} s")


class OwnLedger:
    """The program on a ledger of the test's own: given arguments, environment, checks, ledger."""

    def __init__(self, given):
        self.given = given
        self.env = private_environment(given.scratch)
        self.checks = Checks()
        self.ledger = given.scratch / "ledger"

    def run(self, *words):
        return run(self.given.program, *words, "--ledger", self.ledger, env=self.env, timeout=60)

    def file(self, name, text):
        path = self.given.scratch / name
        path.write_text(text, encoding="utf-8")
        return path


def wait_until(condition, timeout, what, step=0.1):
    """Polls `condition` until it holds and returns what it gave; a time-out raises."""
    end = time.monotonic() + timeout
    while True:
        value = condition()
        if value:
            return value
        if time.monotonic() > end:
            raise TimeoutError(f"waited {timeout} s for {what}")
        time.sleep(step)


def stop(process):
    """Ends a process this test started, gently first."""
    if process.poll() is None:
        process.terminate()
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


@contextlib.contextmanager
def started(command, **how):
    process = subprocess.Popen([str(word) for word in command], **how)
    try:
        yield process
    finally:
        stop(process)


def server_addresses(env):
    """What leads a program to this test's sound server, running or not."""
    (pathlib.Path(env["HOME"]) / ".asoundrc").write_text(
        "pcm.!default { type pulse }\nctl.!default { type pulse }\n", encoding="utf-8")
    return {"PULSE_SERVER": f"unix:{env['XDG_RUNTIME_DIR']}/pulse.socket", "PULSE_SINK": "bench",
            "PULSE_SOURCE": "bench.monitor", "PULSE_COOKIE": env["HOME"] + "/cookie"}


@contextlib.contextmanager
def sound_server(scratch, env, channels=1):
    """A PulseAudio of this test's own, with one silent output `bench` whose monitor is the default
    input, and ALSA's default led to it. Yields the environment for programs that are to use it."""
    socket = f"{env['XDG_RUNTIME_DIR']}/pulse.socket"
    inside = env | server_addresses(env)
    modules = [f"module-native-protocol-unix socket={socket} auth-anonymous=1",
               f"module-null-sink sink_name=bench rate=48000 channels={channels} format=s24le"]
    command = ["pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no",
               "--high-priority=no", "--realtime=no", "--disable-shm=yes",
               "--log-target=stderr", *(f"--load={module}" for module in modules)]
    with open(scratch / "pulseaudio.log", "a", encoding="utf-8") as log:
        with started(command, env=env, stdin=subprocess.DEVNULL, stdout=log, stderr=log):
            def answers():
                return run("pactl", "info", env=inside, timeout=10).returncode == 0
            wait_until(answers, 30, "the sound server")
            run("pactl", "set-default-source", "bench.monitor", env=inside, timeout=10)
            yield inside


@contextlib.contextmanager
def screen(scratch, env, size="1280x800"):
    """A private X display, of a number that is free. Yields the environment for programs that are to
    draw on it."""
    told, tells = os.pipe()
    # -noreset: without it the server starts over when its last client leaves, and turns away whoever
    # comes in that moment.
    command = ["Xvfb", "-displayfd", str(tells), "-noreset", "-screen", "0", f"{size}x24", "-nolisten",
               "tcp", "+extension", "GLX"]
    with open(scratch / "xvfb.log", "w", encoding="utf-8") as log, open(told, encoding="ascii") as number:
        with started(command, env=env, stdin=subprocess.DEVNULL, stdout=log, stderr=log,
                     pass_fds=[tells]):
            os.close(tells)
            # The number is written when the display can be used; nothing, where the server has ended.
            display = number.readline().strip()
            if not display:
                raise RuntimeError("Xvfb: " + (scratch / "xvfb.log").read_text("utf-8"))
            yield env | {"DISPLAY": f":{display}", "LIBGL_ALWAYS_SOFTWARE": "1"}


def manifest(source):
    """The demo workshop's truth, by file name."""
    text = (source / "sample-audio" / "manifest.json").read_text(encoding="utf-8")
    return {entry["file"]: entry for entry in json.loads(text)["recordings"]}


def read_json(program, *words, env, timeout=120):
    """`platewright … --json`, parsed; a failure is an error of the test."""
    done = run(program, *words, "--json", env=env, timeout=timeout)
    if done.returncode != 0:
        raise RuntimeError(f"{words}: exit {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)
