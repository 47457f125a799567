//! The faces that every reader of PDF has, what they can show, and how wide it is.
//!
//! Widths in thousandths of the size: those of Helvetica, Helvetica Bold and Symbol, as metric-compatible fonts that are
//! free to read have them. A page on a screen uses a face of the same widths.

use std::format;
use std::string::String;
use std::vec::Vec;

/// How words look.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Face {
    /// Upright.
    Plain,
    /// Heavy.
    Heavy,
    /// Leaning, as wide as upright.
    Slanted,
    /// Every character as wide as every other.
    Fixed,
}

/// Characters of one encoding in a row.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Run {
    /// In the Symbol face.
    pub symbol: bool,
    /// Their codes.
    pub codes: Vec<u8>,
    /// Their width, thousandths of the size.
    pub width: u32,
}

/// Words as codes. What no face has stands as its number, such as [U+4E2D]: nothing is lost without a word.
#[must_use]
pub fn runs(text: &str, face: Face) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    let mut push = |symbol, code: u8, width: u16| {
        let width = u32::from(if face == Face::Fixed { 600 } else { width });
        match runs.last_mut().filter(|run| run.symbol == symbol) {
            Some(run) => {
                run.codes.push(code);
                run.width += width;
            }
            None => runs.push(Run { symbol, codes: Vec::from([code]), width }),
        }
    };
    for char in text.chars() {
        if let Some(code) = code(char) {
            push(false, code, latin(code, face));
        } else if let Some((_, code, width)) = SYMBOL.iter().find(|(known, ..)| *known == char) {
            push(true, *code, *width);
        } else {
            let number: String = format!("[U+{:04X}]", u32::from(char));
            number.bytes().for_each(|code| push(false, code, latin(code, face)));
        }
    }
    runs
}

/// The width of words of a size.
#[must_use]
pub fn width(text: &str, face: Face, size: f64) -> f64 {
    let thousandths: u32 = runs(text, face).iter().map(|run| run.width).sum();
    f64::from(thousandths) / 1000.0 * size
}

/// The code of a character in the encoding of Windows code page 1252, PDF's WinAnsi.
fn code(char: char) -> Option<u8> {
    const HIGH: [(char, u8); 27] = [
        ('\u{20ac}', 0x80),
        ('\u{201a}', 0x82),
        ('\u{192}', 0x83),
        ('\u{201e}', 0x84),
        ('\u{2026}', 0x85),
        ('\u{2020}', 0x86),
        ('\u{2021}', 0x87),
        ('\u{2c6}', 0x88),
        ('\u{2030}', 0x89),
        ('\u{160}', 0x8a),
        ('\u{2039}', 0x8b),
        ('\u{152}', 0x8c),
        ('\u{17d}', 0x8e),
        ('\u{2018}', 0x91),
        ('\u{2019}', 0x92),
        ('\u{201c}', 0x93),
        ('\u{201d}', 0x94),
        ('\u{2022}', 0x95),
        ('\u{2013}', 0x96),
        ('\u{2014}', 0x97),
        ('\u{2dc}', 0x98),
        ('\u{2122}', 0x99),
        ('\u{161}', 0x9a),
        ('\u{203a}', 0x9b),
        ('\u{153}', 0x9c),
        ('\u{17e}', 0x9e),
        ('\u{178}', 0x9f),
    ];
    match u32::from(char) {
        // A soft hyphen shows nothing, and is told by its number.
        0xad => None,
        value @ (0x20..=0x7e | 0xa0..=0xff) => u8::try_from(value).ok(),
        _ => HIGH.iter().find(|(known, _)| *known == char).map(|(_, code)| *code),
    }
}

fn latin(code: u8, face: Face) -> u16 {
    let table = if face == Face::Heavy { &HEAVY } else { &PLAIN };
    code.checked_sub(32).and_then(|place| table.get(usize::from(place))).copied().unwrap_or(0)
}

#[rustfmt::skip]
const PLAIN: [u16; 224] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584, 0,
    556, 0, 222, 556, 333, 1000, 556, 556, 333, 1000, 667, 333, 1000, 0, 611, 0,
    0, 222, 222, 333, 333, 350, 556, 1000, 333, 1000, 500, 333, 944, 0, 500, 667,
    278, 333, 556, 556, 556, 556, 260, 556, 333, 737, 370, 556, 584, 333, 737, 333,
    400, 584, 333, 333, 333, 556, 537, 278, 333, 333, 365, 556, 834, 834, 834, 611,
    667, 667, 667, 667, 667, 667, 1000, 722, 667, 667, 667, 667, 278, 278, 278, 278,
    722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667, 611,
    556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556, 278, 278, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 584, 611, 556, 556, 556, 556, 500, 556, 500,
];

#[rustfmt::skip]
const HEAVY: [u16; 224] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584, 0,
    556, 0, 278, 556, 500, 1000, 556, 556, 333, 1000, 667, 333, 1000, 0, 611, 0,
    0, 278, 278, 500, 500, 350, 556, 1000, 333, 1000, 556, 333, 944, 0, 500, 667,
    278, 333, 556, 556, 556, 556, 280, 556, 333, 737, 370, 556, 584, 333, 737, 333,
    400, 584, 333, 333, 333, 611, 556, 278, 333, 333, 365, 556, 834, 834, 834, 611,
    722, 722, 722, 722, 722, 722, 1000, 722, 667, 667, 667, 667, 278, 278, 278, 278,
    722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667, 611,
    556, 556, 556, 556, 556, 556, 889, 556, 556, 556, 556, 556, 278, 278, 278, 278,
    611, 611, 611, 611, 611, 611, 611, 584, 611, 611, 611, 611, 611, 556, 611, 556,
];

/// Characters of the Symbol face: character, code, width.
#[rustfmt::skip]
const SYMBOL: [(char, u8, u16); 56] = [
    ('\u{391}', 65, 722), ('\u{392}', 66, 667), ('\u{393}', 71, 603), ('\u{394}', 68, 612),
    ('\u{395}', 69, 611), ('\u{396}', 90, 611), ('\u{397}', 72, 722), ('\u{398}', 81, 741),
    ('\u{399}', 73, 333), ('\u{39a}', 75, 722), ('\u{39b}', 76, 686), ('\u{39c}', 77, 889),
    ('\u{39d}', 78, 722), ('\u{39e}', 88, 645), ('\u{39f}', 79, 722), ('\u{3a0}', 80, 768),
    ('\u{3a1}', 82, 556), ('\u{3a3}', 83, 592), ('\u{3a4}', 84, 611), ('\u{3a5}', 85, 690),
    ('\u{3a6}', 70, 763), ('\u{3a7}', 67, 722), ('\u{3a8}', 89, 795), ('\u{3a9}', 87, 768),
    ('\u{3b1}', 97, 631), ('\u{3b2}', 98, 549), ('\u{3b3}', 103, 411), ('\u{3b4}', 100, 494),
    ('\u{3b5}', 101, 439), ('\u{3b6}', 122, 494), ('\u{3b7}', 104, 603), ('\u{3b8}', 113, 521),
    ('\u{3b9}', 105, 329), ('\u{3ba}', 107, 549), ('\u{3bb}', 108, 549), ('\u{3bc}', 109, 576),
    ('\u{3bd}', 110, 521), ('\u{3be}', 120, 493), ('\u{3bf}', 111, 549), ('\u{3c0}', 112, 549),
    ('\u{3c1}', 114, 549), ('\u{3c3}', 115, 603), ('\u{3c4}', 116, 439), ('\u{3c5}', 117, 576),
    ('\u{3c6}', 102, 521), ('\u{3c7}', 99, 549), ('\u{3c8}', 121, 686), ('\u{3c9}', 119, 686),
    ('\u{2211}', 229, 713), ('\u{2212}', 45, 549), ('\u{221a}', 214, 549), ('\u{221e}', 165, 713),
    ('\u{2248}', 187, 549), ('\u{2260}', 185, 549), ('\u{2264}', 163, 549), ('\u{2265}', 179, 549),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_face_lacks_is_told_by_its_number() {
        let [run] = runs("\u{4e2d}\u{fc}", Face::Plain).try_into().unwrap();
        assert_eq!(run.codes, b"[U+4E2D]\xfc");
        assert!(runs("", Face::Plain).is_empty());
    }

    #[test]
    fn greek_and_relations_come_from_the_symbol_face() {
        let found = runs("z \u{2265} 2 \u{3b1}", Face::Plain);
        let parts: Vec<(bool, &[u8])> = found.iter().map(|run| (run.symbol, run.codes.as_slice())).collect();
        assert_eq!(parts, [(false, &b"z "[..]), (true, &[179]), (false, b" 2 "), (true, b"a")]);
    }

    #[test]
    fn widths_are_those_of_the_face() {
        assert!((width("Wi", Face::Plain, 10.0) - 11.66).abs() < 1e-9);
        assert!((width("Wi", Face::Heavy, 10.0) - 12.22).abs() < 1e-9);
        assert!((width("Wi\u{3b1}", Face::Fixed, 10.0) - 18.0).abs() < 1e-9);
    }
}
