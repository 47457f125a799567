"""The program and an emulated board over pseudo-terminals: link.py PROGRAM BOARD CONSOLE LOGGER.

A job is sent, typed and recorded, and frames are taken in, also from devices that are slow or are unplugged while a frame
is on its way. The findings of desk and device have to be the same text. What is not so ends the run.
"""

import contextlib
import os
import pathlib
import pty
import select
import subprocess
import sys
import tempfile
import threading

from ends import HERE, PATIENCE, Cable, Emulator, Program, answer, wait_for, want

EXAMPLES = HERE.parent / "examples"
JOB = EXAMPLES / "jobs/butt-weld-20mm.job"
SHORT_JOB = EXAMPLES / "jobs/bracket-weld-inch.job"


def sent_and_asked(program, console, work):
    """A job that is sent gives the findings of the desk, to a pipe and to a person, and comes back as it went."""
    with Emulator(console) as board:
        said, _ = program("send", JOB, board.port)
        want("107 of 107 facts sent, the device holds all of them" in said, said)
        findings = program.findings(JOB)
        want(program.asked(board.port) == findings, "the device has other findings than the desk")
        want(typed_by_hand(program, board.port) == findings, "the terminal shows other findings than the desk")
        lines, _ = program("ingest", board.port)
        back = work / "jobs/back.job"
        back.write_text(lines)
        want(program.findings(back) == findings, "the facts that came back have other findings")
        said, _ = program("send", back, board.port)
        want("0 of 107 facts sent" in said, said)
    return lines


def typed_by_hand(program, port):
    """What a person sees of `findings` at a terminal that Ctrl-] leaves."""
    screen, keyboard = pty.openpty()
    with program.starts("serial", port, stdin=keyboard, stdout=keyboard) as person:
        shown = b""

        def reads(wanted):
            nonlocal shown
            while select.select([screen], [], [], 0)[0]:
                shown += os.read(screen, 4096)
            return shown.endswith(wanted)

        connected = person.stderr.readline()
        want("Ctrl-] ends" in connected, connected)
        os.write(screen, b"findings\r")
        wait_for("the answer to a person", lambda: reads(b"\n> "))
        os.write(screen, b"\x1d")
        want(person.wait(PATIENCE) == 0, person.stderr.read())
    os.close(screen)
    os.close(keyboard)
    return answer("> " + shown.decode().replace("\r", ""))


def typed_and_recorded(program, console, work, lines):
    """What is typed is kept as the device acknowledges it, and is the same job on the desk."""
    record = work / "jobs/typed.job"
    with Emulator(console) as board:
        shown, _ = program("serial", board.port, "--record", record, typed=JOB.read_text() + "findings\n")
        findings = program.findings(JOB)
        want(answer(shown) == findings, "the device has other findings than the desk")
        want(record.read_text() == lines, "typed facts are recorded otherwise than sent ones come back")
        want(program.findings(record) == findings, "the record has other findings")


def recorded_until_unplugged(program, console, work, lines):
    """A board that is killed while facts are typed leaves a record that a new one takes and goes on with."""
    record = work / "jobs/cut.job"
    with Emulator(console) as board:
        ends = {"stdin": subprocess.PIPE, "stdout": subprocess.DEVNULL}
        typing = program.starts("serial", board.port, "--record", record, **ends)
        threading.Thread(target=lambda: typing.stdin.write(JOB.read_text()), daemon=True).start()
        wait_for("half of the record", lambda: record.exists() and record.read_text().count("\n") >= 40)
        board.unplug()
        want(typing.wait(PATIENCE) == 2, "the program does not tell that the device is gone")
        told = typing.stderr.read()
        want(told == f"halfskip: {board.port}: the device is gone\n", told)
    held = record.read_text()
    want(lines.startswith(held) and held != lines, "the record is not the beginning of the job:", held)
    with Emulator(console) as board:
        program("send", record, board.port)
        rest = lines.removeprefix(held)
        shown, _ = program("serial", board.port, "--record", record, typed=rest + "findings\n")
        want(answer(shown) == program.findings(JOB), "a job that was cut has other findings")
        want(record.read_text() == lines, "the record is not whole")
    return held.count("\n")


def unplugged_in_a_frame(program, console, lines):
    """A board that goes in the middle of a frame is told in one line, and what came whole is kept."""
    with Emulator(console) as board, Cable(board, unplugged_in=50) as cable:
        _, told = program("send", JOB, cable.port, status=2)
        want(told == f"halfskip: {cable.port}: the device is gone\n", told)
    with Emulator(console) as board:
        program("send", JOB, board.port)
        want(program("ingest", board.port)[0] == lines, "the job that was sent again is another")
        with Cable(board, unplugged_in=31) as cable:
            got, told = program("ingest", cable.port, status=2)
        want(got == "".join(lines.splitlines(True)[:30]), "30 whole frames have become", got)
        want(told.count("\n") == 1 and "the device is gone" in told, told)
    return told.strip()


def slow(program, console):
    """A line that takes a millisecond a byte, and a processor of 4 million instructions a second, are waited for."""
    findings = program.findings(SHORT_JOB)
    with Emulator(console) as board, Cable(board, pause=0.001) as cable:
        program("send", SHORT_JOB, cable.port)
        want(program.asked(cable.port) == findings, "over a slow line the device has other findings")
    with Emulator(console, "-icount", "shift=8,align=on,sleep=on") as board:
        program("send", SHORT_JOB, board.port)
        want(program.asked(board.port) == findings, "a slow device has other findings")


def logged(program, logger, unplugged_in=None):
    """Frames of a logger that nobody asks become the lines that are committed, as those of a file do."""
    whole = (EXAMPLES / "logger/replay.job").read_text()
    samples = subprocess.run(["python3", EXAMPLES / "logger/make_replay.py"], capture_output=True, check=True).stdout
    feed, wires = os.pipe()
    with Emulator(logger, "-serial", "pty", serial="stdio", samples=feed) as board:
        os.close(feed)
        line = Cable(board, unplugged_in=unplugged_in) if unplugged_in else contextlib.nullcontext(board)
        with line as end, tempfile.NamedTemporaryFile() as out:
            taking = program.starts("ingest", end.port, stdout=out)
            os.write(wires, samples)
            got = pathlib.Path(out.name)
            if unplugged_in:
                whole = "".join(whole.splitlines(True)[:unplugged_in - 1])
            else:
                wait_for("all lines of the logger", lambda: got.read_text().count("\n") == whole.count("\n"))
                os.write(wires, b"\x04")
                want(board.process.wait(PATIENCE) == 0, "the logger has failed")
            status = taking.wait(PATIENCE)
            told = taking.stderr.read()
            want(got.read_text() == whole, "frames have become other lines", got.read_text(), told)
            want(status == (2 if unplugged_in else 0), status, told)
    os.close(wires)
    return told.strip()


def main(path, board, console, logger):
    with tempfile.TemporaryDirectory() as folder:
        work = pathlib.Path(folder)
        (work / "jobs").mkdir()
        # Where a job looks for its sheet.
        (work / "criteria").symlink_to(EXAMPLES / "criteria")
        program = Program(pathlib.Path(path).resolve(), work)

        def told(what):
            print(f"-- {board}: {what}", flush=True)

        lines = sent_and_asked(program, console, work)
        told(f"a job of {len(lines.splitlines())} facts sent, asked by a pipe and by a person, and taken back")
        typed_and_recorded(program, console, work, lines)
        told("typed and recorded: the same facts")
        held = recorded_until_unplugged(program, console, work, lines)
        told(f"unplugged after {held} recorded facts: none lost, a new device went on from them")
        said = unplugged_in_a_frame(program, console, lines)
        told(f"unplugged in a frame: {said}")
        slow(program, console)
        told("a slow line and a slow processor waited for")
        logged(program, logger)
        said = logged(program, logger, unplugged_in=9)
        told(f"a logger's frames are the committed lines; unplugged in one: {said}")


main(*sys.argv[1:])
