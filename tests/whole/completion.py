#!/usr/bin/env python3
"""Completion in bash, zsh and fish, at a terminal: the Tab key is pressed in a real shell, and what then stands on
its command line is read from the shell itself. The files lie as the package puts them."""
import contextlib
import fcntl
import os
import pty
import select
import shutil
import signal
import struct
import subprocess
import termios
import time

import support

LABELS = ("Wren back", "Größe back", "It's: a $top")
SHOW = "\x14"  # Ctrl T: the command line as it is, into a file
CLEAR = "\x15"

# The shell, what it reads first, how it writes a label with a blank, a letter beyond ASCII, and marks of its own.
SHELLS = {
    "bash": (["bash", "--norc", "--noprofile", "-i"],
             "PS1='ready> '; . {share}/bash-completion/completions/platewright; "
             "bind 'set enable-bracketed-paste off'; show() {{ printf '%s' \"$READLINE_LINE\" >{seen}; }}; bind -x '\"\\C-t\": show'\n"),
    "zsh": (["zsh", "-f", "-i"],
            "PS1='ready> '; fpath=({share}/zsh/vendor-completions $fpath); autoload -U compinit; compinit -u -d {seen}.dump; "
            "unset zle_bracketed_paste; show() {{ print -rn -- \"$BUFFER\" >{seen} }}; zle -N show; bindkey '^T' show; bindkey '^U' kill-whole-line\n"),
    "fish": (["fish", "--no-config", "-i"],
             "function fish_prompt; echo -n 'ready> '; end; function show; commandline | string collect >{seen}; end; "
             "set -g fish_autosuggestion_enabled 0; set -p fish_complete_path {share}/fish/vendor_completions.d; "
             "bind \\ct show; bind \\cu 'commandline \"\"'\n"),
}


class Terminal:
    """A shell at a terminal of its own."""

    def __init__(self, command, env):
        self.process, self.master = pty.fork()
        if self.process == 0:
            os.execvpe(command[0], command, env)
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 160, 0, 0))
        self.said = ""

    def listen(self, seconds):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if select.select([self.master], [], [], 0.05)[0]:
                try:
                    self.said += os.read(self.master, 65536).decode("utf-8", "replace")
                except OSError:  # the shell is gone
                    return

    def press(self, keys):
        os.write(self.master, keys.encode())

    def end(self):
        with contextlib.suppress(ProcessLookupError):
            os.kill(self.process, signal.SIGKILL)
        os.waitpid(self.process, 0)
        os.close(self.master)


def laid_out(given):
    """The three files where the package has them."""
    share = given.scratch / "share"
    for source, target in (("completion.bash", "bash-completion/completions/platewright"),
                           ("completion.zsh", "zsh/vendor-completions/_platewright"),
                           ("completion.fish", "fish/vendor_completions.d/platewright.fish")):
        (share / target).parent.mkdir(parents=True)
        shutil.copy(given.source / "src" / "package" / source, share / target)
    return share


class Shell:
    def __init__(self, name, given, share, env):
        command, first = SHELLS[name]
        self.seen = given.scratch / f"{name}.line"
        self.terminal = Terminal(command, env)
        self.terminal.press(first.format(share=share, seen=self.seen))
        try:
            support.wait_until(self.ready, 30, f"{name} to be ready", step=0.0)
        except TimeoutError as late:
            raise TimeoutError(f"{late}: {self.terminal.said!r}") from late

    def ready(self):
        self.terminal.listen(0.2)
        return self.line() == ""

    def line(self):
        """What stands on the command line."""
        self.seen.unlink(missing_ok=True)
        self.terminal.press(SHOW)
        self.terminal.listen(0.1)
        return self.seen.read_text(encoding="utf-8") if self.seen.exists() else None

    def completes(self, typed, wanted):
        """Types, presses Tab and waits until the line is one of those wanted; gives the line."""
        self.terminal.press(CLEAR)
        self.terminal.press(typed + "\t")
        end = time.monotonic() + 8
        while (line := self.line()) not in wanted and time.monotonic() < end:
            pass
        return line

    def lists(self, typed, words):
        """Presses Tab twice: whether all the words come to stand below."""
        self.terminal.press(CLEAR)
        self.terminal.said = ""
        self.terminal.press(typed + "\t\t")
        end = time.monotonic() + 8
        while not (there := all(word in self.terminal.said for word in words)) and time.monotonic() < end:
            self.terminal.listen(0.1)
        return there


def quoted(label):
    """As the three shells may write a label that has marks of theirs."""
    ways = ("".join("\\" + c if c in " '$:" else c for c in label), "".join("\\" + c if c in " '$" else c for c in label),
            "'" + label.replace("'", "\\'") + "'", '"' + label.replace("$", "\\$") + '"')
    return [f"platewright drift {way} " for way in ways]


if __name__ == "__main__":
    given = support.arguments()
    support.need(*SHELLS)
    checks = support.Checks()
    ledger = given.scratch / "ledger"
    env = support.private_environment(given.scratch, PLATEWRIGHT_LEDGER=str(ledger), TERM="xterm", LANG="C.UTF-8",
                                      LC_ALL="C.UTF-8")
    env["PATH"] = f"{given.program.parent}:{env['PATH']}"
    for label in LABELS:
        subprocess.run([given.program, "enter", "--plate", label], env=env, check=True, stdout=subprocess.DEVNULL, timeout=60)
    (given.scratch / "strikes of march.flac").touch()
    share = laid_out(given)
    os.chdir(given.scratch)
    for name in SHELLS:
        shell = Shell(name, given, share, env)
        for typed, wanted in (("platewright dri", ["platewright drift "]),
                              ("platewright bundle ta", ["platewright bundle tables "]),
                              ("platewright drift --acr", ["platewright drift --across "]),
                              ("platewright sheet --language d", ["platewright sheet --language de "]),
                              ("platewright enter --kind dou", ["platewright enter --kind double_bass "]),
                              ("platewright enter --stage ro", ["platewright enter --stage rough "]),
                              ("platewright enter --part to", ["platewright enter --part top "]),
                              ("platewright correct tap --spot cen", ["platewright correct tap --spot centre "]),
                              ("platewright drift Wr", quoted(LABELS[0])),
                              ("platewright drift Gr", quoted(LABELS[1])),
                              ("platewright drift It", quoted(LABELS[2])),
                              ("platewright drift Wren\\ back --cha", ["platewright drift Wren\\ back --chart "]),
                              ("platewright read strik", ["platewright read strikes\\ of\\ march.flac ",
                                                          "platewright read 'strikes of march.flac' "])):
            line = shell.completes(typed, wanted)
            checks.that(line in wanted, f"{name} completes {typed!r} to {line!r}")
        checks.that(shell.lists("platewright bundle ", ("out", "in", "undo", "tables")),
                    f"{name} lists what bundle can do: {shell.terminal.said!r}")
        shell.terminal.end()
    checks.finish()
