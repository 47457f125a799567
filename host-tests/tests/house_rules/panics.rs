//! No panic can be reached in what is linked into a device: nothing that could is written down.

use super::tree::{Source, blanked, closing, is_for_hosts, sources};

/// Words that panic, or that grow until they do.
const WORDS: [&str; 14] = [
    ".unwrap()",
    ".unwrap_err()",
    ".expect(",
    ".expect_err(",
    "panic!",
    "unreachable!",
    "unimplemented!",
    "todo!",
    "assert!",
    "assert_eq!",
    "assert_ne!",
    ".split_at(",
    ".copy_from_slice(",
    "unsafe",
];

/// Where an index stands in brackets: behind a name, a call or another index.
fn indexed(code: &str) -> impl Iterator<Item = usize> + '_ {
    let ends = |c: char| c.is_alphanumeric() || matches!(c, '_' | ')' | ']' | '?');
    code.match_indices('[').map(|(at, _)| at).filter(move |at| code[..*at].ends_with(ends))
}

/// Functions that only `const` items call: where they would panic, the program does not compile.
const COMPILED: [&str; 5] = [
    "const fn constant(value: f32)",
    "const fn preset_of(",
    "const fn of<Q: Quantity>(range: Range)",
    "const fn place(table: &[Key]",
    "const fn at<T: Reads>(",
];

/// Indices that cannot be out of bounds, and why.
const IN_BOUNDS: [(&str, &str); 2] = [
    ("CLASSES[usize::from(*byte)]", "256 places for a byte"),
    ("CLASSES[usize::from(byte)]", "256 places for a byte"),
];

/// Blanks what only runs while the program is compiled.
fn without_constants(code: &str) -> String {
    let mut code = code.to_owned();
    for (start, _) in code.clone().match_indices("const ") {
        let (before, rest) = (code[..start].trim_end(), &code[start..]);
        // Not a parameter of a generic item, nor a pointer.
        if !(before.is_empty() || before.ends_with("pub") || before.ends_with([';', '{', '}', ']', ')'])) {
            continue;
        }
        let compiled = COMPILED.iter().any(|function| rest.starts_with(function));
        let end = if rest.starts_with("const {") || compiled {
            rest.find('{').map(|open| open + closing(&rest[open..]))
        } else if rest.starts_with("const fn ") {
            None
        } else {
            item_end(rest)
        };
        blank(&mut code, start..start + end.unwrap_or(0));
    }
    for (index, _) in IN_BOUNDS {
        while let Some(at) = code.find(index) {
            blank(&mut code, at..at + index.len());
        }
    }
    code
}

/// The length of an item that ends in a semicolon, blocks and arrays in it skipped.
fn item_end(item: &str) -> Option<usize> {
    let mut depth = 0;
    for (at, c) in item.char_indices() {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' if depth == 0 => return None,
            ')' | ']' | '}' => depth -= 1,
            ';' if depth == 0 => return Some(at),
            _ => {}
        }
    }
    None
}

fn blank(code: &mut String, range: std::ops::Range<usize>) {
    let blank: String = code[range.clone()].bytes().map(|b| if b == b'\n' { '\n' } else { ' ' }).collect();
    code.replace_range(range, &blank);
}

fn faults(source: &Source, indices: bool) -> Vec<String> {
    let code = without_constants(&source.shipped);
    let mut places: Vec<usize> =
        WORDS.iter().flat_map(|word| code.match_indices(word)).map(|(at, _)| at).collect();
    if indices {
        places.extend(indexed(&code));
    }
    let line = |at: &usize| {
        let line = source.line(*at);
        format!("{}:{line}: {}", source.path, source.text.lines().nth(line - 1).unwrap().trim())
    };
    places.iter().map(line).collect()
}

#[test]
fn nothing_that_panics_is_written_in_core_or_console() {
    let mut wrong = Vec::new();
    for source in sources(&["core/src/", "console/src/"]) {
        // The host program has a heap, whose own types check an index; it may use them.
        let indices = !is_for_hosts(&source.path);
        wrong.extend(faults(&source, indices));
    }
    assert!(wrong.is_empty(), "{} places\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn what_is_exempt_is_still_there() {
    let code: String =
        sources(&["core/src/", "console/src/"]).into_iter().map(|source| source.shipped).collect();
    for exempt in COMPILED.into_iter().chain(IN_BOUNDS.map(|(index, _)| index)) {
        assert!(code.contains(exempt), "{exempt}");
    }
}

#[test]
fn panics_are_found_and_types_and_attributes_are_not() {
    let count = |text: &str| {
        let code = blanked(text);
        let source = Source { path: String::new(), text: text.into(), shipped: code.clone(), code };
        faults(&source, true).len()
    };
    assert_eq!(count("a.unwrap(); b[0]; c()[1]; d[2][3]; x?[4]; panic!(\"[5]\")"), 7);
    assert_eq!(count("#[must_use] fn f(a: &[u8], b: [f32; 3]) -> Vec<[u8; 2]> { [1, 2] } #[expect(x)]"), 0);
    assert_eq!(
        count("pub const fn constant(value: f32) -> Self { match value { _ => panic!(\"no\") } } fn g() {}"),
        0
    );
}
