"""An ELF file as the file that is copied to a board: uf2.py ELF UF2.

UF2 is blocks of 512 bytes: two magic words, flags, address, length, number, count, the chip's family, up to 476 bytes of
data, and a magic word. Here each block is a page of 256 bytes.
"""

import struct
import sys

PAGE, RP2040 = 256, 0xE48BFF56
FIRST, SECOND, LAST, HAS_FAMILY = 0x0A324655, 0x9E5D5157, 0x0AB16F30, 0x2000
FLASH = range(0x10000000, 0x11000000)


def pieces(elf):
    """What is loaded, by physical address."""
    if elf[:6] != b"\x7fELF\x01\x01":
        sys.exit("not an ELF file of 32 bits")
    headers, = struct.unpack_from("<I", elf, 28)
    size, count = struct.unpack_from("<HH", elf, 42)
    for number in range(count):
        kind, offset, _, address, length = struct.unpack_from("<5I", elf, headers + number * size)
        if kind == 1 and length > 0:
            if address not in FLASH:
                sys.exit(f"a piece at {address:#x}, which is no flash")
            yield address, elf[offset:offset + length]


def main(elf_path, uf2_path):
    with open(elf_path, "rb") as file:
        elf = file.read()
    pages = {}
    for address, piece in pieces(elf):
        for at, byte in enumerate(piece, address):
            pages.setdefault(at - at % PAGE, bytearray(PAGE))[at % PAGE] = byte
    with open(uf2_path, "wb") as file:
        for number, (address, page) in enumerate(sorted(pages.items())):
            head = struct.pack("<8I", FIRST, SECOND, HAS_FAMILY, address, PAGE, number, len(pages), RP2040)
            file.write(head + page.ljust(476, b"\0") + struct.pack("<I", LAST))
    print(f"{uf2_path}: {len(pages)} pages, {len(pages) * 512} bytes")


main(*sys.argv[1:])
