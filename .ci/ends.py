"""The ends of a line, for `link.py`: an emulated board and the program, and a line that is slow or is cut."""

import os
import pathlib
import pty
import re
import select
import signal
import subprocess
import sys
import tempfile
import threading
import time
import tty

HERE = pathlib.Path(__file__).resolve().parent
# Nothing takes half as long.
PATIENCE = 90


def want(right, *why):
    """Ends the run, and tells why, when something is not right."""
    if not right:
        sys.exit("\n".join(map(str, (f"{sys.argv[2]}: FAILED", *why))))


def wait_for(what, found):
    """Asks until something is found."""
    end = time.monotonic() + PATIENCE
    while not (it := found()):
        want(time.monotonic() < end, f"waited in vain: {what}")
        time.sleep(0.01)
    return it


class Emulator:
    """A board that is plugged in by `-serial pty`; unplugged is killed, whatever it is doing."""

    def __init__(self, image, *more, serial="pty", samples=subprocess.DEVNULL):
        self.said = tempfile.NamedTemporaryFile()
        self.process = subprocess.Popen(
            ["bash", HERE / "emulate", image, *more], stdin=samples, stdout=self.said, stderr=subprocess.DEVNULL,
            env=os.environ | {"EMULATE_SERIAL": serial}, start_new_session=True)
        told = wait_for("the board's port", lambda: re.search(r"/dev/\S+", pathlib.Path(self.said.name).read_text()))
        self.port = told[0]
        # As long as nobody has opened it, what the board says is lost, and the emulator looks once a second.
        self.open = os.open(self.port, os.O_RDWR | os.O_NOCTTY)
        tty.setraw(self.open)
        time.sleep(1.2)
        # The prompt of the start.
        while select.select([self.open], [], [], 0)[0]:
            os.read(self.open, 4096)

    def unplug(self):
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.unplug()
        os.close(self.open)


class Cable:
    """A line from a board to the program: every byte takes its time, and the board is unplugged in a frame of it."""

    def __init__(self, board, pause=0.0, unplugged_in=None):
        self.board, self.pause, self.unplugged_in = board, pause, unplugged_in
        self.frame, self.inside, self.done = 0, 0, False
        self.end, self.open = pty.openpty()
        tty.setraw(self.open)
        self.port = os.ttyname(self.open)
        self.thread = threading.Thread(target=self.carry, daemon=True)
        self.thread.start()

    def cut(self, byte):
        """Whether the board is in the middle of the frame in which it is unplugged; a zero begins and ends each."""
        if byte == b"\0":
            self.frame += 1 if not self.inside else 0
            self.inside = 0 if self.inside else 1
        elif self.inside:
            self.inside += 1
        return self.frame == self.unplugged_in and self.inside > 5

    def carry(self):
        while not self.done:
            for one in select.select([self.end, self.board.open], [], [], 0.1)[0]:
                byte = os.read(one, 1)
                time.sleep(self.pause)
                os.write(self.board.open if one == self.end else self.end, byte)
                if one != self.end and self.cut(byte):
                    self.board.unplug()
                    # The program takes what is on its way, and then the line is gone.
                    time.sleep(0.3)
                    os.close(self.end)
                    return

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.done = True
        self.thread.join()
        os.close(self.open)


class Program:
    """The program on the desk."""

    def __init__(self, path, work):
        self.path, self.work = path, work

    def __call__(self, *arguments, typed="", status=0):
        done = subprocess.run([self.path, *map(str, arguments)], input=typed, capture_output=True, text=True,
                              timeout=PATIENCE, cwd=self.work, check=False)
        want(done.returncode == status, f"{arguments} ended with {done.returncode}", done.stdout[-500:], done.stderr)
        return done.stdout.replace("\r", ""), done.stderr

    def starts(self, *arguments, **more):
        command = [self.path, *map(str, arguments)]
        return subprocess.Popen(command, cwd=self.work, text=True, stderr=subprocess.PIPE, **more)

    def findings(self, job):
        return self("run", job)[0]

    def asked(self, port, *more):
        """What a device answers to `findings`."""
        return answer(self("serial", port, *more, typed="findings\n")[0])


def answer(shown):
    """What was answered to `findings`, the last that was asked."""
    return shown.replace("\x1b[K", "").split("> findings\n")[-1].removesuffix("> ")
