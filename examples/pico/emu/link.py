"""The program on the desk and the emulated board, over a pseudo-terminal: link.py PROGRAM UF2.

A job is sent, asked about and taken back; the board is unplugged in the middle of one, and continues from what its
flash holds. What is not so ends the run.
"""

import os
import pathlib
import pty
import select
import subprocess
import sys
import tempfile
import threading
import time
import tty

HERE = pathlib.Path(__file__).resolve().parent
JOB = HERE.parent.parent / "jobs/butt-weld-20mm.job"
# Far more than anything takes.
PATIENCE = 300


def want(right, *why):
    if not right:
        sys.exit("\n".join(map(str, ("FAILED", *why))))


class Board:
    """The board as a serial port; its flash is a file, which outlives it."""

    def __init__(self, uf2, record):
        self.ours, self.theirs = pty.openpty()
        tty.setraw(self.theirs)
        self.port = os.ttyname(self.theirs)
        self.process = subprocess.Popen(["node", HERE / "live.mjs", uf2, record], stdin=subprocess.PIPE,
                                        stdout=subprocess.PIPE)
        self.from_desk = 0
        # The prompt of the start.
        want(os.read(self.process.stdout.fileno(), 64) == b"> ", "no prompt")
        self.thread = threading.Thread(target=self.carry, daemon=True)
        self.thread.start()

    def carry(self):
        board = self.process.stdout.fileno()
        while self.process.poll() is None:
            for end in select.select([self.ours, board], [], [], 0.1)[0]:
                data = os.read(end, 4096)
                if end == self.ours:
                    self.from_desk += len(data)
                    self.process.stdin.write(data)
                    self.process.stdin.flush()
                elif data:
                    os.write(self.ours, data)

    def unplug(self):
        self.process.kill()
        self.process.wait()
        self.thread.join()
        os.close(self.ours)
        os.close(self.theirs)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.unplug()


def main(program, uf2):
    program = pathlib.Path(program).resolve()

    def run(*arguments, typed="", status=0):
        done = subprocess.run([program, *map(str, arguments)], input=typed, capture_output=True, text=True,
                              timeout=PATIENCE, check=False)
        want(done.returncode == status, f"{arguments} ended with {done.returncode}", done.stdout[-500:], done.stderr)
        return done.stdout.replace("\r", "") or done.stderr

    def asked(port):
        shown = run("serial", port, typed="findings\n")
        return shown.replace("\x1b[K", "").split("> findings\n")[-1].removesuffix("> ")

    with tempfile.TemporaryDirectory() as folder:
        work = pathlib.Path(folder)
        findings = run("run", JOB)
        with Board(uf2, work / "first") as board:
            said = run("send", JOB, board.port)
            want("107 of 107 facts sent, the device holds all of them" in said, said)
            want(asked(board.port) == findings, "the board has other findings than the desk")
            lines = run("ingest", board.port)
            print("-- a job of", len(lines.splitlines()), "facts sent, asked about and taken back")

        # Unplugged while facts come: those that were acknowledged are in its flash.
        record = work / "second"
        with Board(uf2, record) as board:
            sending = subprocess.Popen([program, "send", JOB, board.port], stdout=subprocess.DEVNULL,
                                       stderr=subprocess.PIPE, text=True)
            end = time.monotonic() + PATIENCE
            while board.from_desk < 2500:
                want(time.monotonic() < end and sending.poll() is None, "the job does not come")
                time.sleep(0.002)
            board.unplug()
            told = sending.communicate(timeout=PATIENCE)[1]
            want(sending.returncode == 2 and "the device is gone" in told, told)
        with Board(uf2, record) as board:
            held = run("ingest", board.port)
            want(lines.startswith(held) and 10 < held.count("\n") < 107, "the record is not the beginning of the job", held)
            said = run("send", JOB, board.port)
            rest = 107 - held.count("\n")
            want(f"{rest} of 107 facts sent, the device holds all of them" in said, said)
            want(asked(board.port) == findings, "a job that was cut has other findings")
        print("-- unplugged after", held.count("\n"), "facts: none of them lost, the rest sent to the same board")


main(*sys.argv[1:])
