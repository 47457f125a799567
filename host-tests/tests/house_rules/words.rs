//! Words that must not stand in any file of the project.

use super::tree::texts;

/// Each in two pieces, so that this file is no exception.
const FORBIDDEN: [[&str; 2]; 13] = [
    ["TO", "DO"],
    ["FIX", "ME"],
    ["XX", "X:"],
    ["HA", "CK:"],
    ["unimple", "mented!("],
    ["to", "do!("],
    ["#[ig", "nore"],
    ["db", "g!("],
    ["/ro", "ot/"],
    ["/tm", "p/"],
    ["/ho", "me/"],
    ["/wo", "rk/"],
    ["/Us", "ers/"],
];

#[test]
fn no_file_has_unfinished_work_or_a_path_of_somebodys_machine() {
    let texts = texts();
    assert!(texts.len() > 200);
    let mut wrong = Vec::new();
    for (path, text) in &texts {
        for [first, second] in FORBIDDEN {
            let word = format!("{first}{second}");
            for (number, line) in text.lines().enumerate().filter(|(_, line)| line.contains(&word)) {
                wrong.push(format!("{path}:{}: {}", number + 1, line.trim()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_module_hands_out_whatever_another_has() {
    for source in super::tree::sources(&["core/src/", "console/src/"]) {
        for at in source.shipped_at("pub use ") {
            let item = source.shipped[at..].split(';').next().unwrap();
            assert!(!item.contains('*'), "{}:{}: {item}", source.path, source.line(at));
        }
    }
}
