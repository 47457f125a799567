"""Prints what was measured as a table beside its budgets and compares it with what is committed: measured.py FOUND
COMMITTED. What is over its budget is told; what has grown by more than 2 % over what is committed fails. FOUND has lines
of board, figure and number, separated by tabs."""

import os
import sys

BOARDS = ["thumbv7em-none-eabihf", "thumbv6m-none-eabi"]
# What the project wants to keep to; a board may have no budget.
BUDGETS = {
    "flash: evaluation library": (24 * 1024, None),
    "flash: console": (448 * 1024, 448 * 1024),
    "RAM: console": (52 * 1024, 52 * 1024),
    "flash: main console": (288 * 1024, 288 * 1024),
    "RAM: main console": (40 * 1024, 40 * 1024),
    "flash: recorder": (160 * 1024, 160 * 1024),
    "RAM: recorder": (28 * 1024, 28 * 1024),
    "instructions: one reading": (750, 10_000),
}
# Of answers at full capacity, on the smaller board: what a person waits for.
LONG = ["rate 1", "why 1", "margin 1", "nature 1"]
WHOLE = ["findings", "grounds", "coverage", "coverage legs=1"]


def budgets_of(figure):
    if figure in BUDGETS:
        return BUDGETS[figure]
    kind, _, question = figure.partition(": ")
    if kind != "instructions" or question.startswith("one reading"):
        return ()
    return (None, 25_000_000 if question in LONG else 60_000_000 if question in WHOLE else 20_000_000)


# Growth beyond this is told before it adds up.
GROWTH = 1.02


def main(found_path, committed_path):
    found = {}
    with open(found_path, encoding="utf-8") as file:
        for line in file:
            board, figure, number = line.rstrip("\n").split("\t")
            found.setdefault(figure, {})[board] = int(number)
    wide = max(map(len, found))
    lines = [f"{'':{wide}}  {'Cortex-M4F':>10}  {'Cortex-M0+':>10}  {'budget':>13}"]
    for figure, by_board in found.items():
        budgets = [format(budget, ",") if budget else "-" for budget in budgets_of(figure)]
        numbers = "  ".join(f"{by_board[board]:>10,}" for board in BOARDS)
        lines.append(f"{figure:{wide}}  {numbers}  {' / '.join(budgets):>13}".rstrip())
    table = "\n".join(lines) + "\n"
    print(table)

    faults = []
    for figure in found:
        for board, budget in zip(BOARDS, budgets_of(figure)):
            number = found[figure][board]
            if budget is not None and number > budget:
                print(f"OVER BUDGET: {board}: {figure} is {number:,} where {budget:,} are wanted")
    if os.environ.get("HALFSKIP_BLESS"):
        with open(committed_path, "w", encoding="utf-8") as file:
            file.write(table)
    else:
        with open(committed_path, encoding="utf-8") as file:
            committed = file.read().splitlines()
        for line in committed[1:]:
            figure = line[:wide].rstrip()
            before = [int(number.replace(",", "")) for number in line[wide:].split()[:2]]
            for board, number in zip(BOARDS, before):
                now = found.get(figure, {}).get(board)
                if now is None:
                    faults.append(f"{figure} is no longer measured")
                elif now > number * GROWTH:
                    faults.append(f"{board}: {figure} grew from {number} to {now}; with HALFSKIP_BLESS=1 it is accepted")
    for fault in faults:
        print(fault, file=sys.stderr)
    sys.exit(1 if faults else 0)


main(sys.argv[1], sys.argv[2])
