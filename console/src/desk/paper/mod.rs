//! A report on paper: the same document as the page, laid out on sheets, written as PDF.

mod flow;
mod pdf;
mod table;
mod wrap;

use std::format;
use std::vec::Vec;

use super::drawing::face::Face;
use super::drawing::{Align, Drawing, Ink, Mark, Pen, Words};
use super::report::document::{Block, Document};
pub use flow::{Bookmark, Sheet};
use flow::{Flow, LINE, TYPE};
pub use pdf::PRODUCER;

/// What every file of sheets begins with.
pub const HEAD: &[u8] = b"%PDF-";

/// Sheets laid out: their drawings, and where each section begins.
#[derive(Clone, PartialEq, Debug)]
pub struct Laid {
    /// One drawing a sheet.
    pub sheets: Vec<Drawing>,
    /// A bookmark for every section.
    pub bookmarks: Vec<Bookmark>,
}

/// The report as PDF.
#[must_use]
pub fn pdf(document: &Document, sheet: Sheet) -> Vec<u8> {
    let laid = laid(document, sheet);
    pdf::written(&document.title, &laid)
}

/// The report laid out on sheets.
#[must_use]
pub fn laid(document: &Document, sheet: Sheet) -> Laid {
    let mut flow = Flow::new(sheet);
    flow.words("Ultrasonic examination report", Face::Plain, TYPE, Ink::Soft);
    flow.down(4.0);
    flow.words(&document.title, Face::Heavy, 17.0, Ink::Text);
    flow.down(4.0);
    flow.rule(Pen::solid(Ink::Text, 2.0));
    for section in &document.sections {
        flow.room(50.0 + least(section.blocks.first(), flow.width()));
        flow.down(16.0);
        flow.bookmark(&section.heading);
        flow.words(&section.heading, Face::Heavy, 12.5, Ink::Text);
        flow.down(2.0);
        flow.rule(Pen::solid(Ink::Grid, 0.8));
        flow.down(4.0);
        section.blocks.iter().for_each(|block| put(&mut flow, block));
    }
    let (mut sheets, bookmarks) = flow.finished();
    foot(&mut sheets, &document.title, sheet);
    Laid { sheets, bookmarks }
}

/// The least room that a block begins with: a drawing is never cut, so that its heading goes with it.
fn least(block: Option<&Block>, width: f64) -> f64 {
    match block {
        Some(Block::Figure(drawing)) => drawing.height * width / drawing.width + LINE + 10.0,
        _ => 40.0,
    }
}

fn put(flow: &mut Flow, block: &Block) {
    match block {
        Block::Heading(text) => {
            flow.room(60.0);
            flow.down(8.0);
            flow.words(text, Face::Heavy, 10.5, Ink::Text);
            flow.down(2.0);
        }
        Block::Paragraph(text) => {
            flow.down(2.0);
            flow.words(text, Face::Plain, TYPE, Ink::Text);
            flow.down(3.0);
        }
        Block::Notice(text) => notice(flow, text),
        Block::Items(items) => {
            for item in items {
                flow.item("\u{2022}", item);
            }
            flow.down(3.0);
        }
        Block::Table(table) => table::put(flow, table),
        Block::Figure(drawing) => figure(flow, drawing),
        Block::Worked(text) => {
            flow.down(3.0);
            for line in text.lines() {
                flow.fixed(line);
            }
            flow.down(5.0);
        }
        Block::Signatures(fields) => signatures(flow, fields),
    }
}

/// A paragraph in a frame.
fn notice(flow: &mut Flow, text: &str) {
    let lines = wrap::lines(text, Face::Heavy, TYPE, flow.width() - 16.0);
    let high = lines.len() as f64 * LINE + 10.0;
    flow.room(high + 4.0);
    flow.down(3.0);
    let (left, top) = flow.place();
    let frame = Some(Pen::solid(Ink::Text, 1.4));
    flow.mark(|sheet| {
        sheet.rectangle((left, top), (left + flow_width(sheet, left), top + high), None, frame)
    });
    for (place, line) in (1u32..).zip(lines) {
        let at = (left + 8.0, top + 2.0 + f64::from(place) * LINE);
        flow.mark(|sheet| sheet.marks.push(words(at, line, Face::Heavy, TYPE, Align::Start, Ink::Text)));
    }
    flow.down(high + 4.0);
}

/// The width between margins that are alike.
fn flow_width(sheet: &Drawing, left: f64) -> f64 {
    sheet.width - 2.0 * left
}

/// A drawing at the width of the text, its title under it.
fn figure(flow: &mut Flow, drawing: &Drawing) {
    let scale = flow.width() / drawing.width;
    flow.room(drawing.height * scale + LINE + 10.0);
    flow.down(6.0);
    let place = flow.place();
    let marks: Vec<Mark> = drawing.marks.iter().map(|mark| mark.moved(place, scale)).collect();
    flow.mark(|sheet| sheet.marks.extend(marks));
    flow.down(drawing.height * scale + 2.0);
    flow.words(&drawing.title, Face::Plain, TYPE, Ink::Soft);
    flow.down(4.0);
}

/// Lines to sign on, two beside each other.
fn signatures(flow: &mut Flow, fields: &[std::string::String]) {
    let gap = 20.0;
    let wide = 0.5 * (flow.width() - gap);
    for pair in fields.chunks(2) {
        flow.room(58.0);
        flow.down(40.0);
        let (left, top) = flow.place();
        for (place, field) in (0u32..).zip(pair) {
            let start = left + f64::from(place) * (wide + gap);
            flow.mark(|sheet| {
                sheet.line([(start, top), (start + wide, top)], Pen::solid(Ink::Text, 0.8));
                let at = (start, top + LINE);
                sheet.marks.push(words(at, field.clone(), Face::Plain, TYPE, Align::Start, Ink::Soft));
            });
        }
        flow.down(LINE + 4.0);
    }
}

/// Title and number at the foot of every sheet.
fn foot(sheets: &mut [Drawing], title: &str, sheet: Sheet) {
    let of = sheets.len();
    for (number, drawing) in (1u32..).zip(sheets) {
        let (left, right, y) = sheet.foot();
        let number = format!("sheet {number} of {of}");
        let room = right - left - super::drawing::face::width(&number, Face::Plain, 8.0) - 12.0;
        let mut lines = wrap::lines(title, Face::Plain, 8.0, room).into_iter();
        let mut short = lines.next().unwrap_or_default();
        if lines.next().is_some() {
            short.push_str(" \u{2026}");
        }
        drawing.marks.push(words((left, y), short, Face::Plain, 8.0, Align::Start, Ink::Soft));
        drawing.marks.push(words((right, y), number, Face::Plain, 8.0, Align::End, Ink::Soft));
    }
}

fn words(at: (f64, f64), text: std::string::String, face: Face, size: f64, align: Align, ink: Ink) -> Mark {
    Mark::Words(Words { at, text, size, align, ink, face })
}
