//! The picture of the rooms in a package's `lib.rs`, compared with its imports.

use std::collections::BTreeSet;
use std::fs;

use super::tree::{Source, closing, root, sources};

/// The packages whose `lib.rs` draws its rooms.
const DRAWN: [&str; 2] = ["core/src/", "console/src/"];

/// The rooms, bottom up: the first word of each line of the picture.
fn picture(package: &str) -> Vec<String> {
    let text = fs::read_to_string(root().join(package).join("lib.rs")).unwrap();
    let block = text.split("```text").nth(1).unwrap().split("```").next().unwrap();
    let lines = block.lines().filter_map(|line| line.trim().strip_prefix("//!"));
    lines.filter_map(|line| line.split_whitespace().next().map(str::to_owned)).collect()
}

/// The room that a file stands in.
fn room<'s>(package: &str, source: &'s Source) -> &'s str {
    let path = source.path.strip_prefix(package).unwrap();
    path.split('/').next().unwrap().trim_end_matches(".rs")
}

/// The rooms that a file names, with where it does.
fn imports(source: &Source) -> Vec<(usize, String)> {
    let paths = source.shipped_at("crate::").map(|at| (at, &source.shipped[at + "crate::".len()..]));
    paths.flat_map(|(at, path)| leaves(path).into_iter().map(move |leaf| (at, leaf))).collect()
}

/// The first part of a path, or of each path between braces.
fn leaves(path: &str) -> Vec<String> {
    let ends = |c: char| !c.is_alphanumeric() && c != '_';
    let first = |path: &str| path.trim_start().split(ends).next().unwrap().to_owned();
    let path = path.trim_start();
    let Some(group) = path.strip_prefix('{') else { return vec![first(path)] };
    let group = &group[..closing(path) - 2];
    let mut depth = 0;
    let parts = group.split(|c| {
        depth += i32::from(c == '{') - i32::from(c == '}');
        c == ',' && depth == 0
    });
    parts.map(first).filter(|part| !part.is_empty()).collect()
}

#[test]
fn the_rooms_are_those_of_the_picture_and_fewer_than_a_dozen() {
    for package in DRAWN {
        let drawn = picture(package);
        let sources = sources(&[package]);
        let rooms: BTreeSet<&str> = sources.iter().map(|source| room(package, source)).collect();
        let rooms: BTreeSet<&str> =
            rooms.into_iter().filter(|room| !["lib", "main"].contains(room)).collect();
        assert_eq!(rooms, drawn.iter().map(String::as_str).collect(), "{package}");
        assert_eq!(rooms.len(), drawn.len(), "{package}: a room is drawn twice");
        assert!(rooms.len() < 12, "{package} has {} rooms", rooms.len());
    }
}

/// So no two files of different rooms need each other.
#[test]
fn a_room_uses_only_those_below_it() {
    for package in DRAWN {
        let drawn = picture(package);
        let place = |room: &str| drawn.iter().position(|drawn| drawn == room);
        let (mut seen, mut wrong) = (0, Vec::new());
        for source in sources(&[package]).iter().filter(|source| place(room(package, source)).is_some()) {
            let own = place(room(package, source));
            for (at, import) in imports(source) {
                seen += 1;
                if place(&import).is_none() || place(&import) > own {
                    wrong.push(format!("{}:{}: {import} is not below it", source.path, source.line(at)));
                }
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        assert!(seen > 200, "only {seen} imports were found in {package}");
    }
}

#[test]
fn paths_are_read_as_the_compiler_reads_them() {
    assert_eq!(leaves("units::{A, B};"), ["units"]);
    assert_eq!(leaves("{units::Range, part::{a, b}, record};"), ["units", "part", "record"]);
    assert_eq!(leaves("math::sqrt(2.0)"), ["math"]);
}
