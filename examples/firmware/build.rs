//! Tells the linker where `memory.x` is, and turns acceptance sheets into bytes for the flash memory.
//!
//! Sheets are the TOML files of the folders in `HALFSKIP_SHEETS`, separated by colons; without it those of
//! `examples/criteria`. A sheet with a hole in it stops the build here, long before it can mislead anyone; forms that
//! are still to be filled in (`template-*`) are left out.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::{env, fs};

use halfskip::criteria::{DEFAULT_ROWS, Sheet};
use halfskip_console::sheet;

fn main() {
    let root = env!("CARGO_MANIFEST_DIR");
    println!("cargo::rustc-link-search={root}");
    println!("cargo::rerun-if-changed=memory.x");
    // Where the words of a log are kept, which the board does not hold.
    println!("cargo::rustc-link-arg-bin=traced=-Tdefmt.x");
    println!("cargo::rerun-if-env-changed=HALFSKIP_SHEETS");
    let folders = env::var_os("HALFSKIP_SHEETS").unwrap_or_else(|| OsString::from("../criteria"));
    let mut files: Vec<PathBuf> = Vec::new();
    for folder in env::split_paths(&folders) {
        let folder = Path::new(root).join(folder);
        println!("cargo::rerun-if-changed={}", folder.display());
        let entries = fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
        files.extend(entries.map(|entry| entry.expect("a folder that can be read").path()));
    }
    files.sort();
    let mut table = String::from("[\n");
    for file in files {
        let name = file.file_name().and_then(|name| name.to_str()).expect("a name in UTF-8");
        if !name.ends_with(".toml") || name.starts_with("template-") {
            continue;
        }
        let bytes = postcard::to_allocvec(&read(&file)).expect("a sheet fits its encoding");
        table += &format!("({name:?}, &{bytes:?}),\n");
    }
    table += "]";
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("set by cargo"));
    fs::write(out.join("sheets.rs"), table).expect("the folder for built files can be written");
}

fn read(file: &Path) -> Sheet<DEFAULT_ROWS> {
    let text = fs::read_to_string(file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    sheet::read(&text).unwrap_or_else(|error| panic!("{}:{error}", file.display()))
}
