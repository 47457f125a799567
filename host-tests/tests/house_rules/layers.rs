//! The picture of the layers in `core/src/lib.rs`, held to the imports.

use std::fs;

use super::tree::{Source, root, sources};

/// The names of the picture, bottom up: in a line from the left, and the lines from the top.
fn picture() -> Vec<String> {
    let text = fs::read_to_string(root().join("core/src/lib.rs")).unwrap();
    let block = text.split("```text").nth(1).unwrap().split("```").next().unwrap();
    let lines = block.lines().filter_map(|line| line.trim().strip_prefix("//!")).map(str::trim);
    // Two spaces stand between names, more of them before the remark.
    let names = lines.flat_map(|line| line.split("   ").next().unwrap().split_whitespace());
    names.map(|name| name.trim_end_matches('/').to_owned()).collect()
}

/// The place in the picture of a module, given as `path` or `path/file`: that of the longest name that it begins with.
fn place(picture: &[String], module: &str) -> Option<usize> {
    let fits =
        |name: &str| module == name || module.strip_prefix(name).is_some_and(|rest| rest.starts_with('/'));
    let fitting = picture.iter().enumerate().filter(|(_, name)| fits(name));
    fitting.max_by_key(|(_, name)| name.len()).map(|(place, _)| place)
}

/// A file of core as a module: `units/degrees`.
fn module(source: &Source) -> &str {
    let path = source.path.strip_prefix("core/src/").unwrap().trim_end_matches(".rs");
    path.trim_end_matches("/mod")
}

/// The modules that a file names, with where it does.
fn imports(source: &Source) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let own: Vec<&str> = module(source).split('/').collect();
    for at in source.shipped_at("crate::") {
        let path = &source.shipped[at + "crate::".len()..];
        found.extend(leaves(path).into_iter().map(|leaf| (at, leaf)));
    }
    for at in source.shipped_at("super::") {
        let before = &source.shipped[..at];
        if before.ends_with("super::") {
            continue;
        }
        let path = &source.shipped[at..];
        let up = path.split("::").take_while(|part| *part == "super").count();
        // A file that has climbed to the root names what stands there.
        if up >= own.len() {
            let path = &path[up * "super::".len()..];
            found.extend(leaves(path).into_iter().map(|leaf| (at, leaf)));
        }
    }
    found
}

/// The first two parts of a path, or of each path between braces.
fn leaves(path: &str) -> Vec<String> {
    let path = path.trim_start();
    if let Some(group) = path.strip_prefix('{') {
        let group = &group[..super::tree::closing(path) - 2];
        let mut depth = 0;
        let parts = group.split(|c| {
            depth += i32::from(c == '{') - i32::from(c == '}');
            c == ',' && depth == 0
        });
        return parts.map(str::trim).filter(|part| !part.is_empty()).map(two_parts).collect();
    }
    vec![two_parts(path)]
}

fn two_parts(path: &str) -> String {
    let ends = |c: char| !c.is_alphanumeric() && c != '_';
    let parts = path.split("::").take(2).map(|part| part.split(ends).next().unwrap());
    parts.collect::<Vec<_>>().join("/")
}

#[test]
fn every_module_of_core_stands_in_the_picture_once_and_no_other() {
    let picture = picture();
    let sources = sources(&["core/src/"]);
    let modules: Vec<&str> = sources.iter().map(module).collect();
    for (place, name) in picture.iter().enumerate() {
        assert!(modules.contains(&name.as_str()), "{name} is drawn and does not exist");
        assert!(!picture[..place].contains(name), "{name} is drawn twice");
    }
    for module in modules.iter().filter(|module| **module != "lib") {
        assert!(place(&picture, module).is_some(), "{module} is not drawn");
    }
}

#[test]
fn imports_only_go_down_the_picture() {
    let picture = picture();
    let (mut seen, mut wrong) = (0, Vec::new());
    for source in sources(&["core/src/"]).iter().filter(|source| module(source) != "lib") {
        let own = place(&picture, module(source)).unwrap();
        for (at, import) in imports(source) {
            let Some(below) = place(&picture, &import) else {
                wrong.push(format!("{}:{}: {import} is not drawn", source.path, source.line(at)));
                continue;
            };
            seen += 1;
            if below > own {
                wrong.push(format!("{}:{}: {import} is above it", source.path, source.line(at)));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(seen > 200, "only {seen} imports were found");
}

#[test]
fn paths_are_read_as_the_compiler_reads_them() {
    assert_eq!(leaves("units::{A, B};"), ["units/"]);
    assert_eq!(leaves("{error::Range, path::{a, b}, side};"), ["error/Range", "path/", "side"]);
    assert_eq!(leaves("math::sqrt(2.0)"), ["math/sqrt"]);
    let picture: Vec<String> = ["decimal", "units", "decimal/entered"].map(String::from).to_vec();
    assert_eq!(place(&picture, "decimal/printed"), Some(0));
    assert_eq!(place(&picture, "decimal/entered"), Some(2));
    assert_eq!(place(&picture, "decimals"), None);
}
