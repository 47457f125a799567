"""The deepest stack that a function of an image can need, from the frame sizes that the compiler wrote and the calls in
its code: stack_bound.py IMAGE FUNCTION...

The image is built with `-Z emit-stack-sizes`. Calls through a pointer cannot be followed: every function on the way that
makes one is named, and so is recursion; either makes the bound no bound, and the exit status 1.
"""

import os
import re
import subprocess
import sys
import tempfile


def output(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def frames(image):
    """Frame sizes by address: an address of four bytes, then the size, seven bits a byte, lowest first."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "sizes")
        output("arm-none-eabi-objcopy", "-O", "binary", "--only-section=.stack_sizes",
               "--set-section-flags", ".stack_sizes=alloc", image, path)
        with open(path, "rb") as file:
            data = file.read()
    sizes, at = {}, 0
    while at < len(data):
        address = int.from_bytes(data[at:at + 4], "little") & ~1
        at += 4
        size = shift = 0
        while True:
            byte = data[at]
            at += 1
            size |= (byte & 0x7F) << shift
            shift += 7
            if byte < 0x80:
                break
        sizes[address] = size
    return sizes


FUNCTION = re.compile(r"^([0-9a-f]+) <(.*)>:$")
CALL = re.compile(r"\s(bl|b|b\.n|b\.w|b[a-z]{2}|b[a-z]{2}\.[nw]|cbz|cbnz)\s+(?:r\d+, )?([0-9a-f]+) <(.*?)(\+0x[0-9a-f]+)?>$")
INDIRECT = re.compile(r"\s(blx\s+(r\d+|sl|fp|ip|lr)|bx\s+(r\d+|sl|fp|ip))$")
PUSH = re.compile(r"\spush(?:\.w)?\s+\{(.*)\}$")
LOWER = re.compile(r"\ssub(?:\.w)?\s+sp, (?:sp, )?#(\d+)$")


def registers(listed):
    return sum(1 if not first[2] else int(first[2]) - int(first[1]) + 1
               for first in (re.match(r"\w?(\d+)?\w*(?:-\w(\d+))?$", one.strip()) for one in listed.split(",")))


def assembled(image, sizes):
    """Frame sizes of the few functions that the compiler wrote none for, since they are assembly: what they push and take."""
    found, here = {}, None
    if len(sizes) < 50:
        sys.exit(f"{image} is built without the sizes of its stack frames")
    for line in output("arm-none-eabi-objdump", "-d", "--no-show-raw-insn", image).splitlines():
        if function := FUNCTION.match(line):
            here = int(function[1], 16)
        elif here not in sizes and (pushed := PUSH.search(line)):
            found[here] = found.get(here, 0) + 4 * registers(pushed[1])
        elif here not in sizes and (lowered := LOWER.search(line)):
            found[here] = found.get(here, 0) + int(lowered[1])
    return found


def calls(image):
    """Callees by function, names by address, and the functions that call through a pointer."""
    callees, names, pointers, here = {}, {}, set(), None
    for line in output("arm-none-eabi-objdump", "-dC", "--no-show-raw-insn", image).splitlines():
        if found := FUNCTION.match(line):
            here = int(found[1], 16)
            names[here] = found[2]
            callees.setdefault(here, set())
        elif here is None:
            continue
        elif (found := CALL.search(line)) and not found[4]:
            target = int(found[2], 16)
            if target != here or found[1] == "bl":
                callees[here].add(target)
        elif INDIRECT.search(line):
            pointers.add(here)
    return callees, names, pointers


def main(image, wanted):
    sizes = frames(image)
    sizes |= assembled(image, sizes)
    callees, names, pointers = calls(image)
    deepest, trouble = {}, set()

    def depth(function, above):
        if function in above:
            trouble.add("recursion through " + names[function])
            return 0, []
        if function not in deepest:
            if function in pointers:
                trouble.add("a call through a pointer in " + names[function])
            below = [depth(callee, above | {function}) for callee in callees.get(function, ())]
            most, path = max(below, default=(0, []), key=lambda one: one[0])
            deepest[function] = (most + sizes.get(function, 0), [function] + path)
        return deepest[function]

    sys.setrecursionlimit(10_000)
    for name in wanted:
        starts = [address for address, known in names.items() if known == name]
        if not starts:
            sys.exit(f"{image} has no function {name}")
        trouble.clear()
        bound, path = max(depth(start, frozenset()) for start in starts)
        print(f"{name} {bound}")
        for function in path:
            print(f"    {sizes.get(function, 0):6} {names[function]}")
        for fault in sorted(trouble):
            print(f"    NO BOUND: {fault}")
        if trouble:
            sys.exit(1)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
