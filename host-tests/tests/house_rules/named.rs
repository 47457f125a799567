//! Every public function of core stands in a test: a vector's binding, a property, an example or a unit test.

use std::collections::BTreeMap;

use super::tree::{Source, sources};

/// A public function and the module that it belongs to.
struct Public<'a> {
    module: [&'a str; 2],
    name: &'a str,
    place: String,
}

/// The room of a file, and the module in it.
fn module(path: &str) -> [&str; 2] {
    let mut parts = path.strip_prefix("core/src/").unwrap().split(['/', '.']);
    let room = parts.next().unwrap();
    [room, parts.next().filter(|part| !["mod", "rs"].contains(part)).unwrap_or(room)]
}

/// What a private module's parent hands out of it; `None` of a public one.
fn handed_out(path: &str, texts: &BTreeMap<String, String>) -> Option<String> {
    let stem = path.trim_end_matches(".rs").trim_end_matches("/mod");
    let (folder, name) = stem.rsplit_once('/')?;
    let parents = [format!("{folder}/mod.rs"), format!("{folder}.rs"), format!("{folder}/lib.rs")];
    let parent = parents.iter().find_map(|parent| texts.get(parent))?;
    if parent.contains(&format!("pub mod {name};")) {
        return None;
    }
    let uses = parent.split("pub use ").skip(1).filter_map(|rest| rest.split(';').next());
    Some(uses.filter(|list| list.starts_with(&format!("{name}::"))).collect())
}

fn public<'a>(source: &'a Source, texts: &BTreeMap<String, String>) -> Vec<Public<'a>> {
    let handed_out = handed_out(&source.path, texts);
    let mut found = Vec::new();
    for start in ["pub fn ", "pub const fn "] {
        for at in source.shipped_at(start) {
            let name = source.shipped[at + start.len()..].split(['(', '<']).next().unwrap();
            let free = source.shipped[..at].ends_with('\n');
            // A function of a private module is public by its own name, a method by that of its type.
            let owner = source.shipped[..at].rfind("\nimpl").map(|start| &source.shipped[start..at]);
            let owner = owner.and_then(|block| block.split('{').next()).unwrap_or_default();
            let is_public = match &handed_out {
                None => true,
                Some(list) if free => word(list, name),
                Some(list) => {
                    owner.split(|c: char| !c.is_alphanumeric()).any(|part| part.len() > 1 && word(list, part))
                }
            };
            if is_public {
                let place = format!("{}:{}", source.path, source.line(at));
                found.push(Public { module: module(&source.path), name, place });
            }
        }
    }
    found
}

/// Whether a word stands by itself.
fn word(text: &str, word: &str) -> bool {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    text.match_indices(word)
        .any(|(at, _)| !text[..at].ends_with(part) && !text[at + word.len()..].starts_with(part))
}

/// The lines of documentation that are run as tests.
fn doc_tests(text: &str) -> String {
    let mut inside = false;
    let mut found = String::new();
    for line in text.lines() {
        let line = line.trim_start();
        let Some(doc) = line.strip_prefix("///").or_else(|| line.strip_prefix("//!")) else { continue };
        if let Some(fence) = doc.trim().strip_prefix("```") {
            inside = !inside && matches!(fence, "" | "should_panic");
        } else if inside {
            found.push_str(doc);
            found.push('\n');
        }
    }
    found
}

/// Code that checks something, and the modules of core that it speaks of.
struct Check {
    code: String,
    own: Option<[String; 2]>,
}

impl Check {
    /// Whether it calls a function of that name and has to do with that module.
    fn names(&self, function: &Public<'_>) -> bool {
        word(&self.code, function.name)
            && (self.own.as_ref().is_some_and(|own| own[..] == function.module[..])
                || function.module.iter().any(|module| word(&self.code, module)))
    }
}

fn checks() -> Vec<Check> {
    let mut found = Vec::new();
    for source in sources(&["core/src/"]) {
        let own = Some(module(&source.path).map(str::to_owned));
        found.push(Check { code: doc_tests(&source.text), own: own.clone() });
        // What is compiled for tests only is what the shipped code has not.
        let tests = source.code.bytes().zip(source.shipped.bytes().chain(std::iter::repeat(b' ')));
        let tests = tests.map(|(all, shipped)| if all == shipped { b' ' } else { all }).collect();
        found.push(Check { code: String::from_utf8(tests).unwrap(), own });
    }
    for source in sources(&["host-tests/", "console/tests/"]) {
        if !source.path.contains("/house_rules/") {
            found.push(Check { code: source.code, own: None });
        }
    }
    found
}

#[test]
fn every_public_function_of_core_is_named_by_a_test() {
    let sources = sources(&["core/src/"]);
    let checks = checks();
    let texts = sources.iter().map(|source| (source.path.clone(), source.text.clone())).collect();
    let functions: Vec<Public<'_>> = sources.iter().flat_map(|source| public(source, &texts)).collect();
    assert!(functions.len() > 250, "only {} public functions were found", functions.len());
    let missing: Vec<String> = functions
        .iter()
        .filter(|function| !checks.iter().any(|check| check.names(function)))
        .map(|function| format!("{}: {}", function.place, function.name))
        .collect();
    assert!(missing.is_empty(), "{} functions\n{}", missing.len(), missing.join("\n"));
}
