//! One file calls the maths library, nothing for devices needs `std`, and no float goes through the language's own
//! formatting: that costs a device some ten kilobytes and a panic path.

use super::tree::{Source, is_for_hosts, root, sources};

/// What is linked into a device.
fn for_devices() -> Vec<Source> {
    let mut found = sources(&["core/src/", "console/src/"]);
    found.retain(|source| !is_for_hosts(&source.path));
    assert!(found.len() > 100);
    found
}

/// Where a word stands by itself.
fn words<'a>(code: &'a str, word: &'a str) -> impl Iterator<Item = usize> + 'a {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    code.match_indices(word)
        .map(|(at, _)| at)
        .filter(move |at| !code[..*at].ends_with(part) && !code[at + word.len()..].starts_with(part))
}

#[test]
fn only_one_file_names_the_maths_library() {
    let everywhere = sources(&["core/", "console/", "examples/"]);
    let naming = everywhere.iter().filter(|source| words(&source.code, "libm").next().is_some());
    let naming: Vec<&str> = naming.map(|source| source.path.as_str()).collect();
    // Beside it, only what the library's instructions are compared with.
    assert_eq!(naming, ["core/src/math/mod.rs", "examples/firmware/src/bin/count.rs"]);
    let console = std::fs::read_to_string(root().join("console/Cargo.toml")).unwrap();
    assert!(!console.contains("libm"));
}

#[test]
fn nothing_for_devices_names_std_or_alloc() {
    for source in for_devices() {
        for word in ["std", "alloc"] {
            for at in words(&source.shipped, word) {
                let line = source.text.lines().nth(source.line(at) - 1).unwrap();
                // The crate's root takes std in for tests and for the host program.
                let root = source.path == "console/src/lib.rs" && line.trim() == "extern crate std;";
                assert!(root, "{}:{}: {line}", source.path, source.line(at));
            }
        }
    }
    for root_file in ["core/src/lib.rs", "console/src/lib.rs"] {
        let text = std::fs::read_to_string(root().join(root_file)).unwrap();
        assert!(text.contains("#![no_std]"), "{root_file}");
        let taken_in = text.lines().collect::<Vec<_>>();
        for pair in taken_in.windows(2).filter(|pair| pair[1] == "extern crate std;") {
            assert!(
                matches!(
                    pair[0],
                    "#[cfg(test)]" | "#[cfg(any(test, feature = \"host\", feature = \"sheet\"))]"
                ),
                "{}",
                pair[0]
            );
        }
    }
}

/// A format string and what stands behind it.
struct Formatted<'a> {
    at: usize,
    string: &'a str,
    arguments: Vec<&'a str>,
}

/// Every call of a formatting macro.
fn formatted(source: &Source) -> Vec<Formatted<'_>> {
    let mut found = Vec::new();
    for name in ["write!(", "writeln!(", "format_args!(", "format!(", "print!(", "println!("] {
        for at in source.shipped_at(name) {
            let open = at + name.len();
            let end = open + until_closed(&source.shipped[open..]);
            let Some(quote) = source.shipped[open..end].find('"').map(|quote| open + quote + 1) else {
                continue;
            };
            let Some(close) = source.shipped[quote..end].find('"').map(|close| quote + close) else {
                continue;
            };
            let arguments = top_level_commas(&source.shipped[close + 1..end]);
            found.push(Formatted { at, string: &source.text[quote..close], arguments });
        }
    }
    found
}

/// The length up to the parenthesis that closes what is open.
fn until_closed(rest: &str) -> usize {
    let mut depth = 0;
    for (at, c) in rest.char_indices() {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' if depth == 0 => return at,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
    }
    rest.len()
}

fn top_level_commas(arguments: &str) -> Vec<&str> {
    let mut depth = 0;
    let parts = arguments.split(|c| {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
        c == ',' && depth == 0
    });
    parts.map(str::trim).filter(|part| !part.is_empty()).collect()
}

/// Placeholders: what they name, and how it is printed.
fn placeholders(string: &str) -> Vec<(&str, &str)> {
    let mut found = Vec::new();
    let mut rest = string;
    while let Some(open) = rest.find('{') {
        rest = &rest[open + 1..];
        if let Some(escaped) = rest.strip_prefix('{') {
            rest = escaped;
            continue;
        }
        let Some(close) = rest.find('}') else { break };
        found.push(rest[..close].split_once(':').unwrap_or((&rest[..close], "")));
        rest = &rest[close + 1..];
    }
    found
}

/// The names that are floats at a place in a file: declared so, and not bound to something else nearer to it.
fn floats(source: &Source, at: usize) -> Vec<&str> {
    let mut found = Vec::new();
    for of in [": f32", ": f64", ": &f32", ": &f64"] {
        for declared in source.shipped_at(of).filter(|declared| *declared < at) {
            let before = &source.shipped[..declared];
            let name = before.rsplit(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap();
            let between = &source.shipped[declared..at];
            let bound = |binding: &str| words(binding.split('=').next().unwrap(), name).next().is_some();
            if !between.split("let ").skip(1).any(bound) {
                found.push(name);
            }
        }
    }
    found
}

/// Whether an expression is a float's bare name, or a quantity's bare number.
fn is_float(expression: &str, floats: &[&str]) -> bool {
    if [".get()", ".value()"].iter().any(|ending| expression.ends_with(ending)) {
        return true;
    }
    let plain = expression.chars().all(|c| c.is_alphanumeric() || "_.*&".contains(c));
    let last = expression.rsplit(['.', '*', '&']).next().unwrap_or_default();
    plain && floats.contains(&last)
}

/// What a file prints that it must not.
fn float_prints(source: &Source) -> (usize, Vec<String>) {
    let (mut seen, mut wrong) = (0, Vec::new());
    for Formatted { at, string, arguments } in formatted(source) {
        let mut positional = arguments.iter();
        let floats = floats(source, at);
        for (name, how) in placeholders(string) {
            seen += 1;
            let named =
                arguments.iter().find_map(|argument| argument.split_once(" = ").filter(|(n, _)| *n == name));
            let expression = match (name, named) {
                ("", _) => positional.next().copied().unwrap_or_default(),
                (_, Some((_, expression))) => expression,
                (name, None) => name,
            };
            if how.contains(['.', '?', 'e']) || is_float(expression, &floats) {
                wrong.push(format!("{}:{}: {{{name}:{how}}} {expression}", source.path, source.line(at)));
            }
        }
    }
    (seen, wrong)
}

#[test]
fn no_float_is_printed_by_the_language() {
    let (mut seen, mut wrong) = (0, Vec::new());
    for source in for_devices() {
        let (more, found) = float_prints(&source);
        seen += more;
        wrong.extend(found);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(seen > 100, "only {seen} placeholders were found");
}

#[test]
fn a_printed_float_is_found_whatever_way_it_is_named() {
    for body in [
        "fn f(v: f32) { write!(f, \"{v}\") }",
        "fn f(v: &f32) { write!(f, \"a {} b\", *v) }",
        "struct S { v: f32 } write!(f, \"{n}{}\", self.v, n = 2)",
        "write!(f, \"{}\", path.get())",
        "write!(f, \"{x:.2}\")",
        "write!(f, \"{:?}\", state)",
    ] {
        let source =
            Source { path: String::new(), text: body.into(), code: body.into(), shipped: body.into() };
        let source = Source { shipped: super::tree::blanked(&source.text), ..source };
        assert_eq!(float_prints(&source).1.len(), 1, "{body}");
    }
    let fine = "fn f(v: f32) { let v = fixed(v); write!(f, \"{v}\") } fn g(v: f32) { write!(f, \"{} {{v}} {count}\", fixed(v)) }";
    let source = Source {
        path: String::new(),
        text: fine.into(),
        code: fine.into(),
        shipped: super::tree::blanked(fine),
    };
    assert!(float_prints(&source).1.is_empty());
}
