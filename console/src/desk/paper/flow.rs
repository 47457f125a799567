//! Sheets filled from the top down.

use std::string::String;
use std::vec::Vec;

use super::{words, wrap};
use crate::desk::drawing::face::Face;
use crate::desk::drawing::{Align, Drawing, Ink, Pen};

/// Size of words, points.
pub const TYPE: f64 = 9.0;
/// From one base line to the next, points.
pub const LINE: f64 = 11.8;
/// Size and line of worked lines.
const FIXED: (f64, f64) = (7.6, 9.4);

/// The size of a sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum Sheet {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 by 11 in.
    Letter,
}

impl Sheet {
    const MARGIN: f64 = 45.0;
    const FOOT: f64 = 30.0;

    /// Width and height, points.
    #[must_use]
    pub const fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (595.28, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }

    /// Left and right end of the foot, and its base line.
    pub(super) const fn foot(self) -> (f64, f64, f64) {
        let (width, height) = self.size();
        (Self::MARGIN, width - Self::MARGIN, height - Self::FOOT)
    }
}

/// Where a section begins.
#[derive(Clone, PartialEq, Debug)]
pub struct Bookmark {
    /// Its heading.
    pub heading: String,
    /// The sheet, counted from 0.
    pub sheet: usize,
    /// From the top, points.
    pub top: f64,
}

/// Sheets under way.
pub struct Flow {
    kind: Sheet,
    full: Vec<Drawing>,
    sheet: Drawing,
    top: f64,
    bookmarks: Vec<Bookmark>,
}

impl Flow {
    pub fn new(kind: Sheet) -> Self {
        Self { kind, full: Vec::new(), sheet: empty(kind), top: Sheet::MARGIN, bookmarks: Vec::new() }
    }

    /// Width between the margins.
    pub const fn width(&self) -> f64 {
        self.kind.size().0 - 2.0 * Sheet::MARGIN
    }

    /// The left margin, and how far down the sheet is filled.
    pub const fn place(&self) -> (f64, f64) {
        (Sheet::MARGIN, self.top)
    }

    /// Whether so much more fits on this sheet.
    pub const fn fits(&self, height: f64) -> bool {
        self.top + height <= self.kind.size().1 - Sheet::MARGIN - 8.0
    }

    /// Begins a new sheet when so much does not fit on this one and something stands on it; whether it did.
    pub fn room(&mut self, height: f64) -> bool {
        let begin = !self.fits(height) && self.top > Sheet::MARGIN;
        if begin {
            self.full.push(core::mem::replace(&mut self.sheet, empty(self.kind)));
            self.top = Sheet::MARGIN;
        }
        begin
    }

    /// Leaves so much room.
    pub fn down(&mut self, height: f64) {
        self.top += height;
    }

    /// Puts marks on the sheet.
    pub fn mark(&mut self, draw: impl FnOnce(&mut Drawing)) {
        draw(&mut self.sheet);
    }

    pub fn bookmark(&mut self, heading: &str) {
        self.bookmarks.push(Bookmark { heading: heading.into(), sheet: self.full.len(), top: self.top });
    }

    /// A paragraph.
    pub fn words(&mut self, text: &str, face: Face, size: f64, ink: Ink) {
        self.indented(text, face, size, ink, 0.0);
    }

    fn indented(&mut self, text: &str, face: Face, size: f64, ink: Ink, indent: f64) {
        let line = size / TYPE * LINE;
        for text in wrap::lines(text, face, size, self.width() - indent) {
            self.room(line);
            let at = (Sheet::MARGIN + indent, self.top + 0.8 * line);
            self.sheet.marks.push(words(at, text, face, size, Align::Start, ink));
            self.top += line;
        }
    }

    /// A paragraph behind a mark.
    pub fn item(&mut self, mark: &str, text: &str) {
        self.room(LINE);
        let at = (Sheet::MARGIN + 2.0, self.top + 0.8 * LINE);
        self.sheet.marks.push(words(at, mark.into(), Face::Plain, TYPE, Align::Start, Ink::Text));
        self.indented(text, Face::Plain, TYPE, Ink::Text, 12.0);
        self.top += 1.5;
    }

    /// A line whose blanks count; what is too long goes on below.
    pub fn fixed(&mut self, text: &str) {
        let (size, line) = FIXED;
        let room = ((self.width() - 8.0) / (0.6 * size)) as usize;
        let chars: Vec<char> = text.chars().collect();
        let pieces = chars.chunks(room.max(1)).map(|piece| piece.iter().collect::<String>());
        let pieces: Vec<String> =
            if chars.is_empty() { Vec::from([String::new()]) } else { pieces.collect() };
        for piece in pieces {
            self.room(line);
            let at = (Sheet::MARGIN + 8.0, self.top + 0.8 * line);
            self.sheet.marks.push(words(at, piece, Face::Fixed, size, Align::Start, Ink::Text));
            self.top += line;
        }
    }

    /// A line from margin to margin.
    pub fn rule(&mut self, pen: Pen) {
        let (left, right) = (Sheet::MARGIN, Sheet::MARGIN + self.width());
        self.sheet.line([(left, self.top), (right, self.top)], pen);
        self.top += pen.width;
    }

    pub fn finished(mut self) -> (Vec<Drawing>, Vec<Bookmark>) {
        self.full.push(self.sheet);
        (self.full, self.bookmarks)
    }
}

fn empty(kind: Sheet) -> Drawing {
    let (width, height) = kind.size();
    Drawing::new(width, height, String::new())
}
