"""A headless Chromium driven through its own protocol (Chrome DevTools Protocol) by a pair of pipes.
Python's standard library only."""
import contextlib
import json
import os
import shutil
import subprocess

import support


def program():
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)


class Page:
    """One page of the browser. `requests` lists the addresses it asked for, `errors` what its script complained of."""

    def __init__(self, write, read):
        self.write, self.read, self.number, self.session = write, read, 0, None
        self.requests, self.errors, self.loaded = [], [], False
        target = self.ask("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Network", "Runtime", "Log"):
            self.ask(domain + ".enable")

    def ask(self, method, **params):
        self.number += 1
        message = {"id": self.number, "method": method, "params": params}
        if self.session:
            message["sessionId"] = self.session
        self.write.write(json.dumps(message).encode() + b"\0")
        self.write.flush()
        while True:
            answer = self.take()
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                return answer["result"]

    def take(self):
        text = b""
        while not text.endswith(b"\0"):
            byte = self.read.read(1)
            if not byte:
                raise RuntimeError("the browser has gone")
            text += byte
        message = json.loads(text[:-1])
        if message.get("method") == "Network.requestWillBeSent":
            self.requests.append(message["params"]["request"]["url"])
        elif message.get("method") == "Runtime.exceptionThrown":
            self.errors.append(message["params"]["exceptionDetails"]["text"])
        elif message.get("method") == "Log.entryAdded" and message["params"]["entry"]["level"] == "error":
            self.errors.append(message["params"]["entry"]["text"])
        elif message.get("method") == "Page.loadEventFired":
            self.loaded = True
        return message

    def go(self, file):
        self.loaded = False
        self.ask("Page.navigate", url=file.resolve().as_uri())
        while not self.loaded:
            self.take()

    def value(self, script):
        result = self.ask("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True, userGesture=True)
        if "exceptionDetails" in result:
            raise RuntimeError(f"{script}: {result['exceptionDetails']}")
        return result["result"].get("value")

    def middle(self, selector):
        """Where an element stands, scrolled into sight."""
        return self.value(f"(() => {{ const e = document.querySelector({json.dumps(selector)}); e.scrollIntoView({{block: 'center'}});"
                          "const b = e.getBoundingClientRect(); return [b.x + b.width / 2, b.y + b.height / 2]; })()")

    def mouse(self, kind, at, **more):
        self.ask("Input.dispatchMouseEvent", type=kind, x=at[0], y=at[1], **more)


@contextlib.contextmanager
def page(scratch, env):
    support.need("sh")
    if program() is None:
        print("SKIPPED: no Chromium here")
        raise SystemExit(support.SKIPPED)
    to_browser, ours_out = os.pipe()
    ours_in, from_browser = os.pipe()
    # It listens at 3 and answers at 4.
    command = (f'exec "$0" --headless --no-sandbox --disable-gpu --remote-debugging-pipe --no-first-run '
               f'--autoplay-policy=no-user-gesture-required --user-data-dir="$1" 3<&{to_browser} 4>&{from_browser}')
    with support.started(["sh", "-c", command, program(), scratch / "browser"], env=env, stdin=subprocess.DEVNULL,
                         stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, pass_fds=[to_browser, from_browser]):
        os.close(to_browser)
        os.close(from_browser)
        with open(ours_out, "wb") as write, open(ours_in, "rb") as read:
            yield Page(write, read)
