"""Puts the README and the chapters where a release has its pages: release_pages.py FOLDER. What they point at and the
release has not, such as source, is named in words instead of by a link; everything else that they point at comes along."""

import pathlib
import re
import shutil
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
PAGES = ["README.md", "console/README.md", "core/README.md", "examples/logger/README.md"]
# What is read without the source beside it.
SHOWN = {".png", ".json", ".csv", ".toml", ".job", ".txt"}
LINK = re.compile(r"(!?)\[([^\]]*)\]\(([^)\s]+)\)")


def main(folder):
    out = pathlib.Path(folder)
    for page in PAGES:
        here = (ROOT / page).parent

        def link(found):
            image, text, target = found.groups()
            file = target.split("#")[0]
            if not file:
                return found[0]
            place = (here / file).resolve()
            name = place.relative_to(ROOT).as_posix()
            if name in PAGES:
                return found[0]
            if place.is_file() and (place.suffix in SHOWN and place.name != "Cargo.toml" or place.name.startswith("LICENSE")):
                (out / name).parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(place, out / name)
                return found[0]
            if image:
                raise SystemExit(f"{page}: no picture {target}")
            return text if name.startswith(text) else f"{text} (`{name}` in the source)"

        (out / page).parent.mkdir(parents=True, exist_ok=True)
        (out / page).write_text(LINK.sub(link, (ROOT / page).read_text(encoding="utf-8")), encoding="utf-8")
    held(out)


def held(out):
    """Every link that is left leads to something."""
    for page in PAGES:
        for _, _, target in LINK.findall((out / page).read_text(encoding="utf-8")):
            file = (out / page).parent / target.split("#")[0]
            if not target.startswith("#") and not file.is_file():
                raise SystemExit(f"{page} points at {target}, which the release has not")


main(sys.argv[1])
