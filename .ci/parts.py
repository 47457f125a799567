"""The crates that this project is made of.

parts.py check          each has a licence that .ci/deny.toml allows, and comes from the registry or from here
parts.py release FOLDER the licences of those that are linked into the program, in FOLDER/licences, and the list of its
                        parts, FOLDER/parts.cdx.json, in CycloneDX 1.5"""

import json
import pathlib
import re
import shutil
import subprocess
import sys
import tomllib

ROOT = pathlib.Path(__file__).resolve().parent.parent
WORKSPACES = [ROOT / "Cargo.toml", ROOT / "examples/firmware/Cargo.toml"]
PROGRAM = "halfskip-console"
TEXTS = re.compile(r"(?i)(un)?licen[cs]es?\b|copying|copyright|notice")


def said(*command):
    return subprocess.run(command, check=True, capture_output=True, text=True, cwd=ROOT).stdout


def packages(manifest):
    """Every package of a workspace by its name and version, those for other machines and for building included."""
    told = json.loads(said("cargo", "metadata", "--locked", "--format-version", "1", "--manifest-path", str(manifest)))
    return {(one["name"], one["version"]): one for one in told["packages"]}, told["resolve"]["nodes"]


def expression(package):
    """The licence as SPDX writes it: older manifests have a stroke for `or`."""
    return (package["license"] or "none named").replace("/", " OR ")


def allowed(text, allow):
    """Whether an SPDX expression is satisfied by what is allowed."""
    words = re.findall(r"\(|\)|[^\s()]+(?: WITH [^\s()]+)?", text)

    def either():
        fits = both()
        while words and words[0] == "OR":
            words.pop(0)
            fits = both() or fits
        return fits

    def both():
        fits = one()
        while words and words[0] == "AND":
            words.pop(0)
            fits = one() and fits
        return fits

    def one():
        word = words.pop(0)
        if word != "(":
            return word in allow
        fits = either()
        words.pop(0)
        return fits

    return either() and not words


def check():
    licences = tomllib.loads((ROOT / ".ci/deny.toml").read_text())["licenses"]
    more = {one["crate"]: one["allow"] for one in licences["exceptions"]}
    wrong = []
    for manifest in WORKSPACES:
        found, _ = packages(manifest)
        for (name, version), package in found.items():
            if not allowed(expression(package), licences["allow"] + more.get(name, [])):
                wrong.append(f"{name} {version}: {expression(package)} is not allowed")
            source = package["source"]
            ours = source is None and ROOT in pathlib.Path(package["manifest_path"]).parents
            if not ours and not (source or "").startswith("registry+"):
                wrong.append(f"{name} {version}: comes from {source}")
        print(f"-- {manifest.relative_to(ROOT)}: licence and source of {len(found)} crates")
    if wrong:
        raise SystemExit("\n".join(wrong))


def linked():
    """Name and version of what the program is linked from, the program first."""
    lines = said("cargo", "tree", "--locked", "-p", PROGRAM, "-e", "normal,no-proc-macro", "--prefix", "none",
                 "--format", "{p}").splitlines()
    names = [tuple(re.match(r"(\S+) v(\S+)", line).groups()) for line in lines]
    return names[:1] + sorted(set(names[1:]) - set(names[:1]))


def texts(package):
    """The files of a package that say under which licence it comes."""
    folder = pathlib.Path(package["manifest_path"]).parent
    found = [file for file in sorted(folder.iterdir()) if TEXTS.match(file.name)]
    return [one for file in found for one in (sorted(file.rglob("*")) if file.is_dir() else [file]) if one.is_file()]


def licences(out, parts):
    """A folder a crate; our own two are at the top of the release."""
    for package in parts:
        if package["source"] is None:
            continue
        folder = out / "licences" / f"{package['name']}-{package['version']}"
        folder.mkdir(parents=True)
        found = texts(package)
        for file in found:
            shutil.copyfile(file, folder / file.name)
        if not found:
            # This text names nobody, so that ours serves.
            if not allowed(expression(package), ["Apache-2.0"]):
                raise SystemExit(f"{package['name']} has no text of its licence, {expression(package)}")
            shutil.copyfile(ROOT / "core/LICENSE-APACHE", folder / "LICENSE-APACHE")
    standard = pathlib.Path(said("rustc", "--print", "sysroot").strip()) / "share/doc"
    # That of the compiler, which is not linked, would be larger than all else.
    found = [file for file in sorted(standard.glob("rust*/*"))
             if TEXTS.match(file.name) and file.is_file() and file.name != "COPYRIGHT.html"]
    (out / "licences/rust-std").mkdir(parents=True)
    for file in found:
        shutil.copyfile(file, out / "licences/rust-std" / file.name)
    if not found:
        shutil.copyfile(ROOT / "core/LICENSE-APACHE", out / "licences/rust-std/LICENSE-APACHE")


def list_of_parts(parts, nodes):
    """CycloneDX, without the hour and the number of the list: the same parts, the same file."""
    sums = {(one["name"], one["version"]): one.get("checksum")
            for one in tomllib.loads((ROOT / "Cargo.lock").read_text())["package"]}

    def name(package):
        return f"pkg:cargo/{package['name']}@{package['version'].replace('+', '%2B')}"

    def component(package, kind="library"):
        told = {"type": kind, "bom-ref": name(package), "name": package["name"], "version": package["version"]}
        if checksum := sums[package["name"], package["version"]]:
            told["hashes"] = [{"alg": "SHA-256", "content": checksum}]
        return told | {"licenses": [{"expression": expression(package)}], "purl": name(package)}

    release = said("rustc", "--version").split()[1]
    standard = {"type": "library", "bom-ref": "rust-std", "name": "rust-std", "version": release,
                "licenses": [{"expression": "MIT OR Apache-2.0"}]}
    by_id = {package["id"]: package for package in parts}
    needs = [
        {"ref": name(by_id[node["id"]]),
         "dependsOn": sorted({name(by_id[one["pkg"]]) for one in node["deps"]
                              if one["pkg"] in by_id and any(kind["kind"] is None for kind in one["dep_kinds"])})}
        for node in nodes if node["id"] in by_id
    ]
    return {
        "bomFormat": "CycloneDX",
        "specVersion": "1.5",
        "version": 1,
        "metadata": {"component": component(parts[0], "application")},
        "components": [component(package) for package in parts[1:]] + [standard],
        "dependencies": sorted(needs, key=lambda one: one["ref"]) + [{"ref": "rust-std"}],
    }


def release(out):
    found, nodes = packages(WORKSPACES[0])
    parts = [found[one] for one in linked()]
    licences(out, parts)
    told = json.dumps(list_of_parts(parts, nodes), indent=2) + "\n"
    (out / "parts.cdx.json").write_text(told, encoding="utf-8")
    print(f"-- {len(parts)} parts, with their licences")


if sys.argv[1:] == ["check"]:
    check()
else:
    release(pathlib.Path(sys.argv[2]))
