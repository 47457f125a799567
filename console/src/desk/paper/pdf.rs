//! Sheets as PDF 1.7 (ISO 32000-1): the same marks that a page draws, with faces that every reader has.
//!
//! Neither a date nor an identifier is written, so that the same report is the same file.

use std::vec::Vec;

use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Finish, Name, Pdf, Rect, Ref, Str, TextStr};

use super::Laid;
use crate::desk::drawing::face::{Face, runs, width};
use crate::desk::drawing::{Align, Dash, Drawing, Ink, Mark, Pen, Words};

/// Names in the pages' resources, and the faces behind them.
const FONTS: [(&[u8], &[u8]); 5] = [
    (b"P", b"Helvetica"),
    (b"H", b"Helvetica-Bold"),
    (b"S", b"Helvetica-Oblique"),
    (b"F", b"Courier"),
    (b"G", b"Symbol"),
];

/// Who wrote the file, by which it is known to be a report of this program.
pub const PRODUCER: &str = "halfskip report";

/// How far the control points of a quarter of a circle lie along its tangents.
const QUARTER: f64 = 0.552_284_75;

/// Numbers for the objects of the file.
struct Numbers(i32);

impl Numbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

/// The file.
pub fn written(title: &str, laid: &Laid) -> Vec<u8> {
    let mut numbers = Numbers(0);
    let [catalog, tree, info, outline] = [(); 4].map(|()| numbers.next());
    let fonts = FONTS.map(|(name, face)| (name, face, numbers.next()));
    let sheets: Vec<(Ref, Ref)> = laid.sheets.iter().map(|_| (numbers.next(), numbers.next())).collect();
    let items: Vec<Ref> = laid.bookmarks.iter().map(|_| numbers.next()).collect();
    let mut pdf = Pdf::new();
    pdf.document_info(info).title(TextStr(title)).producer(TextStr(PRODUCER));
    let mut root = pdf.catalog(catalog);
    root.pages(tree).lang(TextStr("en")).outlines(outline);
    root.viewer_preferences().display_doc_title(true);
    root.finish();
    pdf.pages(tree).kids(sheets.iter().map(|(page, _)| *page)).count(sheets.len() as i32);
    for (_, face, number) in fonts {
        let mut font = pdf.type1_font(number);
        font.base_font(Name(face));
        // The Symbol face has an encoding of its own.
        if face != b"Symbol" {
            font.encoding_predefined(Name(b"WinAnsiEncoding"));
        }
    }
    for (drawing, (page, content)) in laid.sheets.iter().zip(&sheets) {
        let mut written = pdf.page(*page);
        written.media_box(Rect::new(0.0, 0.0, drawing.width as f32, drawing.height as f32));
        written.parent(tree).contents(*content);
        let mut resources = written.resources();
        let mut named = resources.fonts();
        for (name, _, number) in fonts {
            named.pair(Name(name), number);
        }
        named.finish();
        resources.finish();
        written.finish();
        pdf.stream(*content, &self::content(drawing));
    }
    bookmarks(&mut pdf, laid, outline, &items, &sheets);
    pdf.finish()
}

fn bookmarks(pdf: &mut Pdf, laid: &Laid, outline: Ref, items: &[Ref], sheets: &[(Ref, Ref)]) {
    let mut root = pdf.outline(outline);
    if let (Some(first), Some(last)) = (items.first(), items.last()) {
        root.first(*first).last(*last).count(items.len() as i32);
    }
    root.finish();
    for (place, (bookmark, number)) in laid.bookmarks.iter().zip(items).enumerate() {
        let Some((page, _)) = sheets.get(bookmark.sheet) else { continue };
        let height = laid.sheets.get(bookmark.sheet).map_or(0.0, |sheet| sheet.height);
        let mut item = pdf.outline_item(*number);
        item.title(TextStr(&bookmark.heading)).parent(outline);
        if let Some(before) = place.checked_sub(1).and_then(|place| items.get(place)) {
            item.prev(*before);
        }
        if let Some(next) = items.get(place + 1) {
            item.next(*next);
        }
        item.dest().page(*page).xyz(0.0, (height - bookmark.top) as f32, None);
    }
}

fn content(drawing: &Drawing) -> Vec<u8> {
    let mut content = Content::new();
    content.set_line_join(LineJoinStyle::RoundJoin).set_line_cap(LineCapStyle::ButtCap);
    let mut pencil = Pencil { content, height: drawing.height };
    drawing.marks.iter().for_each(|mark| pencil.mark(mark));
    pencil.content.finish().to_vec()
}

/// Draws on a sheet whose origin is at its foot.
struct Pencil {
    content: Content,
    height: f64,
}

impl Pencil {
    fn at(&self, (x, y): (f64, f64)) -> (f32, f32) {
        // Hundredths of a point: what is finer is only length of the file.
        let rounded = |value: f64| ((value * 100.0).round() / 100.0) as f32;
        (rounded(x), rounded(self.height - y))
    }

    fn mark(&mut self, mark: &Mark) {
        match mark {
            Mark::Line { points, pen } => {
                self.path(points);
                self.end(None, Some(*pen), false);
            }
            Mark::Area { points, fill, pen } => {
                self.path(points);
                self.end(*fill, *pen, true);
            }
            Mark::Oval { centre, half, fill, pen } => {
                self.oval(*centre, *half);
                self.end(*fill, *pen, true);
            }
            Mark::Words(words) => self.words(words),
        }
    }

    fn path(&mut self, points: &[(f64, f64)]) {
        for (place, point) in points.iter().enumerate() {
            let (x, y) = self.at(*point);
            if place == 0 {
                self.content.move_to(x, y);
            } else {
                self.content.line_to(x, y);
            }
        }
    }

    fn oval(&mut self, (x, y): (f64, f64), (a, b): (f64, f64)) {
        let point = |across: f64, down: f64| (x + across * a, y + down * b);
        let (first_x, first_y) = self.at(point(1.0, 0.0));
        self.content.move_to(first_x, first_y);
        for (from, to) in [
            ((1.0, 0.0), (0.0, 1.0)),
            ((0.0, 1.0), (-1.0, 0.0)),
            ((-1.0, 0.0), (0.0, -1.0)),
            ((0.0, -1.0), (1.0, 0.0)),
        ] {
            let (c1, c2) = (
                point(from.0 + QUARTER * to.0, from.1 + QUARTER * to.1),
                point(to.0 + QUARTER * from.0, to.1 + QUARTER * from.1),
            );
            let ((x1, y1), (x2, y2), (x3, y3)) = (self.at(c1), self.at(c2), self.at(point(to.0, to.1)));
            self.content.cubic_to(x1, y1, x2, y2, x3, y3);
        }
    }

    fn end(&mut self, fill: Option<Ink>, pen: Option<Pen>, close: bool) {
        if let Some(ink) = fill {
            let [r, g, b] = parts(ink);
            self.content.set_fill_rgb(r, g, b);
        }
        if let Some(pen) = pen {
            let [r, g, b] = parts(pen.ink);
            self.content.set_stroke_rgb(r, g, b).set_line_width(pen.width as f32);
            let pattern = Dash::pattern(pen.dash).map(|(piece, gap)| [piece as f32, gap as f32]);
            self.content.set_dash_pattern(pattern.into_iter().flatten(), 0.0);
        }
        match (fill.is_some(), pen.is_some()) {
            (true, true) => self.content.close_fill_nonzero_and_stroke(),
            (true, false) => self.content.fill_nonzero(),
            (false, true) if close => self.content.close_and_stroke(),
            (false, true) => self.content.stroke(),
            (false, false) => self.content.end_path(),
        };
    }

    fn words(&mut self, words: &Words) {
        let wide = width(&words.text, words.face, words.size);
        let start = match words.align {
            Align::Start => words.at.0,
            Align::Middle => words.at.0 - 0.5 * wide,
            Align::End => words.at.0 - wide,
        };
        let (x, y) = self.at((start, words.at.1));
        let [r, g, b] = parts(words.ink);
        self.content.set_fill_rgb(r, g, b).begin_text();
        self.content.next_line(x, y);
        for run in runs(&words.text, words.face) {
            let name: &[u8] = match (run.symbol, words.face) {
                (true, _) => b"G",
                (false, Face::Plain) => b"P",
                (false, Face::Heavy) => b"H",
                (false, Face::Slanted) => b"S",
                (false, Face::Fixed) => b"F",
            };
            self.content.set_font(Name(name), words.size as f32).show(Str(&run.codes));
        }
        self.content.end_text();
    }
}

fn parts(ink: Ink) -> [f32; 3] {
    ink.rgb().map(|part| (f32::from(part) / 255.0 * 1000.0).round() / 1000.0)
}
