"""The deepest stack of a whole image, calls through pointers included: stack_pointers.py IMAGE FUNCTION.

A function can be called through a pointer only when its address stands in the code or in the constants. Those are:

- writers, `core::fmt::Write` of some type: any may stand behind any pointer, and all of them one behind the other;
- texts, `core::fmt::Display` and the like: a text shows those whose addresses stand in its code or in what it calls, since
  the arguments of a text do not outlive the function that makes them. A text that was handed others (HANDED) may show
  any, so that there may be a long chain of texts before each of these, and one after the last;
- functions of a table (TABLES), each table with its callers;
- functions whose address stands in the code of a function on the stack.

One thing is taken for granted, since no type contains itself: no text is shown inside itself, no writer writes on one of
its own type, and no function is called through a pointer from inside itself. What calls itself by name is argued in TWICE.
Whatever else recurs, or stands in no table that is known, makes it no bound.
"""

import bisect
import os
import re
import struct
import sys
import tempfile

from stack_bound import FUNCTION, assembled, calls, frames, output

WRITER = re.compile(r"^<(.*) as core::fmt::Write>::write_(str|char|fmt)$")
TEXT = re.compile(r" as core::fmt::(Display|Debug|LowerHex|UpperHex)>::fmt$")
HANDED = re.compile(r"^<(core::fmt::Arguments|&dyn core::fmt::Display|halfskip_console::answers::page::(Left|Right)) as ")
# Callers, and what stands in the constants for them.
TABLES = [
    (re.compile(r"^halfskip_console::commands::parse::line(_among)?$"), re.compile(r"^<?halfskip_console::commands::")),
    # Cautions, reasons and echoes are told one by one to what writes them.
    (re.compile(r"^halfskip::(findings|planning)::"), re.compile(r"^<?halfskip_console::answers::page::tell_each\b")),
    # What is pointed at is never owned; the processor alone starts.
    (re.compile(r"^$"), re.compile(r"^core::ptr::drop_in_place::|^Reset$")),
]
# A tip seen together with a corner is placed by it, or by a view that is seen alone: once inside itself, never deeper.
TWICE = [f"halfskip::evaluate::reading::{one}" for one in ["evaluate", "known_distance", "place"]]
MOVE = re.compile(r"\smov([wt])\s+(r\d+|ip|lr), #(\d+)")


def section(image, name):
    found = re.search(rf"\s{re.escape(name)}\s+\S+\s+(\S+)", output("arm-none-eabi-objdump", "-h", image))
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "bytes")
        output("arm-none-eabi-objcopy", "-O", "binary", f"--only-section={name}", image, path)
        with open(path, "rb") as file:
            data = file.read()
    words = struct.iter_unpack("<I", data[:len(data) // 4 * 4])
    return ((int(found[1], 16) + 4 * at, word) for at, (word,) in enumerate(words))


def addresses(image):
    """Where the linker wrote an address: elsewhere a number can look like one by chance."""
    listed = output("arm-none-eabi-readelf", "-rW", image)
    return {int(found[1], 16) for found in re.finditer(r"^([0-9a-f]{8})\s+[0-9a-f]{8}\s+R_ARM_ABS32\s", listed, re.MULTILINE)}


class Image:
    def __init__(self, image):
        written = addresses(image)
        if not written:
            sys.exit(f"{image} is linked without --emit-relocs")
        self.sizes = frames(image)
        self.sizes |= assembled(image, self.sizes)
        self.callees, self.names, self.pointers = calls(image)
        self.in_constants = {
            word - 1 for at, word in section(image, ".rodata") if at in written and word - 1 in self.names and word & 1}
        self.in_code = {}
        order = sorted(self.names)
        for at, word in section(image, ".text"):
            if at in written:
                self.mention(order[max(bisect.bisect_right(order, at) - 1, 0)], word)
        here, halves = None, {}
        for line in output("arm-none-eabi-objdump", "-d", "--no-show-raw-insn", image).splitlines():
            if found := FUNCTION.match(line):
                here, halves = int(found[1], 16), {}
            elif found := MOVE.search(line):
                if found[1] == "w":
                    halves[found[2]] = int(found[3])
                else:
                    self.mention(here, halves.get(found[2], 0) | int(found[3]) << 16)
        self.memo, self.below, self.trouble = {}, {}, set()
        pointed = self.in_constants.union(*self.in_code.values())
        self.writers = {one for one in pointed if WRITER.match(self.names[one])}
        self.texts = {one for one in pointed if TEXT.search(self.names[one])}
        for one in self.in_constants - self.writers - self.texts:
            if not any(table.search(self.names[one]) for _, table in TABLES):
                self.trouble.add(f"the pointer to {self.names[one]} stands in no table that is known")
        self.measure()

    def mention(self, function, word):
        if word & 1 and word - 1 in self.names:
            self.in_code.setdefault(function, set()).add(word - 1)

    def called(self, function):
        """All that a function calls by name, itself included."""
        if function not in self.below:
            seen, waiting = set(), [function]
            while waiting:
                one = waiting.pop()
                if one not in seen:
                    seen.add(one)
                    waiting += self.callees.get(one, ())
            self.below[function] = seen
        return self.below[function]

    def measure(self):
        """What writing takes at most, and what showing a text does."""
        self.writing = self.showing = 0
        by_type, forwarding = {}, 0
        for one in self.writers:
            kind, method = WRITER.match(self.names[one]).groups()
            depth = self.depth(one, frozenset(), (one,))[0]
            if method == "fmt":
                forwarding = max(forwarding, depth)
            else:
                by_type[kind] = max(by_type.get(kind, 0), depth)
                if any(self.names[below] == "core::fmt::write" for below in self.called(one)):
                    self.trouble.add(f"{self.names[one]} shows texts")
        handed = [one for one in self.texts if HANDED.search(self.names[one])]
        chains = {}
        for one in self.texts.difference(handed):
            self.chain(one, (), chains)
        # Each begins with another text.
        longest = sorted(chains.values(), key=lambda one: one[0])[-len(handed) - 1:]
        between = sum(self.depth(one, frozenset(), (one,))[0] for one in handed)
        self.memo.clear()
        self.writing = sum(by_type.values())
        self.showing = forwarding + between + sum(depth for depth, _ in longest) + self.writing
        print(f"writers, all behind one another: {self.writing}")
        print(f"texts, {len(longest)} chains behind one another: {self.showing}")
        for depth, chain in reversed(longest):
            print(f"    {depth:6} {' > '.join(self.names[one] for one in chain)}")

    def chain(self, text, above, chains):
        """The most that a text needs, and those that it shows."""
        if text in above:
            self.trouble.add("a text that shows itself: " + self.names[text])
            return 0, []
        if text not in chains:
            shown = set().union(*(self.in_code.get(one, set()) for one in self.called(text))) & self.texts
            below = [self.chain(one, (*above, text), chains) for one in shown if not HANDED.search(self.names[one])]
            most, way = max(below, default=(0, []), key=lambda one: one[0])
            chains[text] = most + self.depth(text, frozenset(), (text,))[0], [text] + way
        return chains[text]

    def through_pointer(self, function, known, above):
        """The functions, neither writers nor texts, that a function may call through a pointer."""
        found = set(known)
        for caller, table in TABLES:
            if caller.search(self.names[function]):
                found |= {one for one in self.in_constants if table.search(self.names[one])}
        return found.difference(above)

    def depth(self, function, known, above, by_name=()):
        """The most that is needed from a function on, and its way; `above` was called through pointers."""
        if by_name.count(function) >= (2 if self.names[function] in TWICE else 1):
            if self.names[function] not in TWICE:
                self.trouble.add("recursion through " + self.names[function])
            return 0, []
        known |= self.in_code.get(function, set()) - self.texts - self.writers
        key = function, known, above, tuple(one for one in by_name if self.names[one] in TWICE)
        if key not in self.memo:
            by_name = (*by_name, function)
            most = [self.depth(one, known, above, by_name) for one in self.callees.get(function, ())]
            if function in self.pointers:
                most.append((self.showing, ["texts and writers"]))
                pointed = self.through_pointer(function, known, above)
                most += [self.depth(one, known, (*above, one)) for one in pointed]
            deepest, way = max(most, default=(0, []), key=lambda one: one[0])
            self.memo[key] = deepest + self.sizes.get(function, 0), [function] + way
        return self.memo[key]


def main(path, wanted):
    sys.setrecursionlimit(20_000)
    image = Image(path)
    start = next(one for one, name in image.names.items() if name == wanted)
    bound, way = image.depth(start, frozenset(), (start,))
    print(f"{wanted} {bound}")
    for one in way:
        print(f"    {image.showing if one not in image.names else image.sizes.get(one, 0):6} {image.names.get(one, one)}")
    for fault in sorted(image.trouble):
        print(f"    NO BOUND: {fault}")
    sys.exit(1 if image.trouble else 0)


if __name__ == "__main__":
    main(*sys.argv[1:])
