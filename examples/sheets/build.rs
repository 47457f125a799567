//! Turns acceptance and technique sheets into bytes for the flash memory.
//!
//! Sheets are the TOML files of the folders in `HALFSKIP_SHEETS`, separated by colons; without it those of
//! `examples/criteria`; a technique sheet is known by the name `technique-*`. A sheet with a hole or a contradiction in
//! it stops the build here, long before it can mislead anyone; forms that are still to be filled in (`template-*` and
//! `technique-template*`) are left out.

use std::ffi::OsString;
use std::fmt::Display;
use std::path::{Path, PathBuf};
use std::{env, fs};

use halfskip::acceptance::criteria::{DEFAULT_ROWS, Sheet};
use halfskip_console::sheets::{criteria, technique};

fn main() {
    let root = env!("CARGO_MANIFEST_DIR");
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
    let mut tables = [String::new(), String::new()];
    for file in files {
        let name = file.file_name().and_then(|name| name.to_str()).expect("a name in UTF-8");
        let blank = name.starts_with("template-") || name.starts_with("technique-template");
        if !name.ends_with(".toml") || blank {
            continue;
        }
        let [sheets, techniques] = &mut tables;
        let (table, bytes) = if name.starts_with("technique-") {
            (techniques, postcard::to_allocvec(&read(&file, technique::read)))
        } else {
            (sheets, postcard::to_allocvec::<Sheet<DEFAULT_ROWS>>(&read(&file, criteria::read)))
        };
        let bytes = bytes.expect("a sheet fits its encoding");
        *table += &format!("({name:?}, &{bytes:?}),\n");
    }
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("set by cargo"));
    for (name, table) in ["sheets.rs", "techniques.rs"].into_iter().zip(tables) {
        fs::write(out.join(name), format!("[\n{table}]")).expect("the folder for built files can be written");
    }
}

fn read<T, E: Display>(file: &Path, read: impl Fn(&str) -> Result<T, E>) -> T {
    let text = fs::read_to_string(file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    read(&text).unwrap_or_else(|error| panic!("{}:{error}", file.display()))
}
