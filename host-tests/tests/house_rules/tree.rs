//! The files of the project, and Rust text with its comments and literals taken out.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The project's root.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Every text file, as path from the root and text; build output, installed packages and the version control's own files
/// left out.
pub fn texts() -> Vec<(String, String)> {
    let mut found = Vec::new();
    collect(&root(), "", &mut found);
    found.sort();
    found
}

fn collect(folder: &Path, prefix: &str, found: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        if matches!(name.as_str(), "target" | "node_modules" | ".git") {
            continue;
        }
        let path = format!("{prefix}{name}");
        let kind = entry.file_type().unwrap();
        if kind.is_dir() {
            collect(&entry.path(), &format!("{path}/"), found);
        } else if kind.is_file()
            && let Ok(text) = fs::read_to_string(entry.path())
        {
            found.push((path, text));
        }
    }
}

/// The names at the top level that version control keeps, or all of them where there is no version control.
pub fn top_level() -> BTreeSet<String> {
    let listed = Command::new("git").args(["ls-files", "--cached"]).current_dir(root()).output();
    match listed {
        Ok(listed) if listed.status.success() => {
            let listed = String::from_utf8(listed.stdout).unwrap();
            listed.lines().map(|line| line.split('/').next().unwrap().to_owned()).collect()
        }
        _ => {
            let entries = fs::read_dir(root()).unwrap().map(|entry| entry.unwrap().file_name());
            entries.map(|name| name.into_string().unwrap()).filter(|name| name != "target").collect()
        }
    }
}

/// Whether a file belongs to the host program, or to the reading of sheets on a host.
pub fn is_for_hosts(path: &str) -> bool {
    [
        "console/src/desk/",
        "console/src/sheets/criteria",
        "console/src/sheets/file",
        "console/src/sheets/technique",
    ]
    .iter()
    .any(|part| path.starts_with(part))
        || path == "console/src/main.rs"
}

/// One Rust file.
pub struct Source {
    /// From the root, with `/`.
    pub path: String,
    /// As it is on disk.
    pub text: String,
    /// Comments and the insides of literals blanked, byte by byte.
    pub code: String,
    /// The code without what is compiled for tests only.
    pub shipped: String,
}

impl Source {
    /// The line, counted from 1, that a byte is on.
    pub fn line(&self, at: usize) -> usize {
        self.text.as_bytes().iter().take(at).filter(|byte| **byte == b'\n').count() + 1
    }

    /// Where `pattern` stands in the shipped code.
    pub fn shipped_at<'a>(&'a self, pattern: &'a str) -> impl Iterator<Item = usize> + 'a {
        self.shipped.match_indices(pattern).map(|(at, _)| at)
    }
}

/// Every Rust file whose path begins with one of `prefixes`.
pub fn sources(prefixes: &[&str]) -> Vec<Source> {
    let texts = texts();
    let rust = texts
        .into_iter()
        .filter(|(path, _)| path.ends_with(".rs") && prefixes.iter().any(|prefix| path.starts_with(prefix)));
    let mut sources: Vec<Source> = rust
        .map(|(path, text)| {
            let code = blanked(&text);
            Source { path, text, shipped: code.clone(), code }
        })
        .collect();
    let mut tests_only = BTreeSet::new();
    for source in &mut sources {
        let modules;
        (source.shipped, modules) = without_tests(&source.code);
        tests_only.extend(modules.into_iter().map(|module| module_file(&source.path, &module)));
    }
    for source in sources.iter_mut().filter(|source| tests_only.contains(&source.path)) {
        source.shipped.clear();
    }
    sources
}

/// The file of a module that `parent` declares.
fn module_file(parent: &str, module: &str) -> String {
    let stem = parent.trim_end_matches(".rs");
    let folder = match stem.rsplit_once('/') {
        Some((folder, "mod" | "lib" | "main")) => folder,
        _ => stem,
    };
    format!("{folder}/{module}.rs")
}

/// Blanks comments and what stands between quotes.
pub fn blanked(text: &str) -> String {
    let mut out = text.as_bytes().to_vec();
    let bytes = text.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        let rest = &text[at..];
        let (quote, end) = if rest.starts_with("//") {
            (0, rest.find('\n').unwrap_or(rest.len()))
        } else if rest.starts_with("/*") {
            (0, rest.find("*/").map_or(rest.len(), |end| end + 2))
        } else if let Some(hashes) = raw_string(text, at) {
            let close = format!("\"{}", "#".repeat(hashes));
            let open = hashes + 2;
            (open, rest[open..].find(&close).map_or(rest.len(), |end| open + end + close.len()))
        } else if rest.starts_with('"') {
            (1, quoted(rest.as_bytes()))
        } else if let Some(end) = character(rest) {
            (1, end)
        } else {
            at += rest.chars().next().map_or(1, char::len_utf8);
            continue;
        };
        let inside = if quote == 0 { at..at + end } else { at + quote..at + end - 1 };
        out[inside].iter_mut().filter(|byte| **byte != b'\n').for_each(|byte| *byte = b' ');
        at += end;
    }
    String::from_utf8(out).unwrap()
}

/// How many `#` a raw string that begins here has.
fn raw_string(text: &str, at: usize) -> Option<usize> {
    let before = text[..at].chars().next_back();
    if before.is_some_and(|before| before.is_alphanumeric() || before == '_') && !text[..at].ends_with('b') {
        return None;
    }
    let rest = text[at..].strip_prefix('r')?;
    let hashes = rest.bytes().take_while(|byte| *byte == b'#').count();
    rest[hashes..].starts_with('"').then_some(hashes)
}

/// The length of a quoted string, quotes included.
fn quoted(rest: &[u8]) -> usize {
    let mut at = 1;
    while at < rest.len() && rest[at] != b'"' {
        at += if rest[at] == b'\\' { 2 } else { 1 };
    }
    at + 1
}

/// The length of a character literal; none for a lifetime.
fn character(rest: &str) -> Option<usize> {
    let inside = rest.strip_prefix('\'')?;
    let first = inside.chars().next()?;
    if first == '\\' {
        return Some(inside[2..].find('\'')? + 4);
    }
    inside[first.len_utf8()..].starts_with('\'').then_some(first.len_utf8() + 2)
}

/// Blanks what stands behind `#[cfg(test)]` and names the modules that have a file of their own.
fn without_tests(code: &str) -> (String, Vec<String>) {
    let mut out = code.as_bytes().to_vec();
    let mut modules = Vec::new();
    for (at, attribute) in code.match_indices("#[cfg(test)]") {
        let item = &code[at + attribute.len()..];
        let end = match (item.find('{'), item.find(';')) {
            (Some(brace), semicolon) if semicolon.is_none_or(|semicolon| brace < semicolon) => {
                brace + closing(&item[brace..])
            }
            (_, Some(semicolon)) => semicolon + 1,
            _ => item.len(),
        };
        let words: Vec<&str> = item[..end].split(|c: char| !c.is_alphanumeric() && c != '_').collect();
        if let Some(module) = words.iter().skip_while(|word| **word != "mod").nth(1)
            && item[..end].ends_with(';')
        {
            modules.push((*module).to_owned());
        }
        out[at..at + attribute.len() + end].iter_mut().filter(|b| **b != b'\n').for_each(|b| *b = b' ');
    }
    (String::from_utf8(out).unwrap(), modules)
}

/// The length of a block in braces.
pub fn closing(block: &str) -> usize {
    let mut depth = 0;
    for (at, byte) in block.bytes().enumerate() {
        match byte {
            b'{' => depth += 1,
            b'}' if depth == 1 => return at + 1,
            b'}' => depth -= 1,
            _ => {}
        }
    }
    block.len()
}

#[test]
fn literals_comments_and_tests_are_taken_out() {
    let text = "a(\"x[0]\", 'y', '\\'') // b[1]\n#[cfg(test)]\nmod tests {\n c[2]; }\nr#\"d\"[3]\"# 'e f";
    let code = blanked(text);
    assert_eq!(code.len(), text.len());
    let (shipped, modules) = without_tests(&code);
    assert!(!shipped.contains('['), "{shipped}");
    assert!(shipped.contains("'e f") && modules.is_empty());
    assert_eq!(without_tests("#[cfg(test)]\nmod far;\nlet a;").1, ["far"]);
    assert_eq!(module_file("core/src/calibration/curve.rs", "tests"), "core/src/calibration/curve/tests.rs");
    assert_eq!(module_file("core/src/part/joint/mod.rs", "tests"), "core/src/part/joint/tests.rs");
}
