//! Every file and heading that a page of the project points at is there.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/..");

/// The pages, as paths from the root.
fn pages(folder: &Path, prefix: &str, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).unwrap().map(Result::unwrap) {
        let name = entry.file_name().into_string().unwrap();
        let skipped = matches!(name.as_str(), "target" | "node_modules") || name.starts_with('.');
        if entry.file_type().unwrap().is_dir() && !skipped {
            pages(&entry.path(), &format!("{prefix}{name}/"), found);
        } else if name.ends_with(".md") {
            found.insert(format!("{prefix}{name}"));
        }
    }
}

/// The text outside of code.
fn prose(text: &str) -> String {
    let mut code = false;
    let mut prose = String::new();
    for line in text.lines() {
        let fence = line.starts_with("```");
        if !code && !fence {
            prose += line;
            prose.push('\n');
        }
        code ^= fence;
    }
    prose
}

/// A heading as links name it: lower case, punctuation left out, blanks turned into hyphens.
fn anchor(heading: &str) -> String {
    let heading = heading.trim_start_matches('#').trim().to_lowercase();
    let kept = heading.chars().filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_'));
    kept.map(|c| if c == ' ' { '-' } else { c }).collect()
}

#[test]
fn every_file_and_heading_that_is_pointed_at_is_there() {
    let mut names = BTreeSet::new();
    pages(Path::new(ROOT), "", &mut names);
    assert!(names.len() >= 6, "{names:?}");
    let mut links = 0;
    for name in &names {
        let here = Path::new(ROOT).join(name);
        let text = prose(&fs::read_to_string(&here).unwrap());
        for link in text.split("](").skip(1).map(|rest| rest.split(')').next().unwrap()) {
            links += 1;
            let (file, heading) = link.split_once('#').unwrap_or((link, ""));
            let target = if file.is_empty() { here.clone() } else { here.parent().unwrap().join(file) };
            assert!(target.exists(), "{name} points at {link}");
            if !heading.is_empty() {
                let target = prose(&fs::read_to_string(target).unwrap());
                let mut headings = target.lines().filter(|line| line.starts_with('#')).map(anchor);
                assert!(headings.any(|found| found == heading), "{name} points at {link}");
            }
        }
    }
    assert!(links > 30, "{links}");
}

#[test]
fn every_chapter_is_reached_from_the_readme() {
    let readme = fs::read_to_string(format!("{ROOT}/README.md")).unwrap();
    let (_, table) = readme.split_once("## Which chapter is yours\n").unwrap();
    let table = table.split("\n## ").next().unwrap();
    let chapters =
        ["console/README.md", "core/README.md", "examples/logger/README.md", "examples/pico/README.md"];
    for chapter in chapters {
        assert!(table.contains(&format!("]({chapter})")), "{chapter}");
    }
}
