//! Lines of the language with the frames that they make: `frames/golden.txt`.

use halfskip::record::entry::{Entry, LengthUnit};
use halfskip_console::commands::parse::{Line, line};

const GOLDEN: &str = include_str!("../frames/golden.txt");

/// A line and its frame.
#[derive(Clone, Debug)]
pub struct Golden {
    /// The line as it stands in the file.
    pub line: &'static str,
    /// What it means.
    pub entry: Entry,
    /// The frame's bytes.
    pub frame: Vec<u8>,
}

/// All golden frames.
///
/// # Panics
/// When the file cannot be read as such.
#[must_use]
pub fn golden() -> Vec<Golden> {
    let lines: Vec<_> = GOLDEN.lines().filter(|line| !line.is_empty() && !line.starts_with('#')).collect();
    let (pairs, []) = lines.as_chunks::<2>() else { panic!("a line without its frame") };
    pairs.iter().map(|[line, hex]| Golden { line, entry: fact(line), frame: bytes(hex) }).collect()
}

/// The entry of a line.
///
/// # Panics
/// When it is no fact.
#[must_use]
pub fn fact(text: &str) -> Entry {
    match line(text.as_bytes(), LengthUnit::Mm) {
        Ok(Some(Line::Fact(entry))) => entry,
        other => panic!("{text}: {other:?}"),
    }
}

/// Bytes as pairs of hexadecimal digits.
#[must_use]
pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn bytes(hex: &str) -> Vec<u8> {
    let (pairs, []) = hex.as_bytes().as_chunks::<2>() else { panic!("{hex}: half a byte") };
    let byte = |pair: &[u8; 2]| u8::from_str_radix(str::from_utf8(pair).ok()?, 16).ok();
    pairs.iter().map(|pair| byte(pair).unwrap_or_else(|| panic!("{hex}: no hexadecimal"))).collect()
}
