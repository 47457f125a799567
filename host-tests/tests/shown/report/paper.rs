//! Sheets: nothing leaves them, nothing is lost on the way to them.

use halfskip_console::desk::drawing::face::runs;
use halfskip_console::desk::drawing::{Align, Mark, face::width};
use halfskip_console::desk::paper::{Laid, Sheet, laid, pdf};
use halfskip_console::desk::report;
use halfskip_console::desk::report::document::{Block, Document};

use super::pages::{ODD, desk, jobs, roomy};

fn documents() -> Vec<(String, Document)> {
    jobs().into_iter().map(|(name, desk)| (name, report::document(desk.shell(), None).unwrap())).collect()
}

/// Every character that stands on the sheets, blanks left out, drawings and feet too.
fn characters(laid: &Laid) -> String {
    let marks = laid.sheets.iter().flat_map(|sheet| &sheet.marks);
    let words = marks.filter_map(|mark| match mark {
        Mark::Words(words) => Some(words.text.as_str()),
        _ => None,
    });
    words.flat_map(str::chars).filter(|char| *char != ' ').collect()
}

#[test]
fn nothing_leaves_a_sheet() {
    roomy(|| {
        for (name, document) in documents() {
            for sheet in [Sheet::A4, Sheet::Letter] {
                let (wide, high) = sheet.size();
                for (number, drawing) in laid(&document, sheet).sheets.iter().enumerate() {
                    for mark in &drawing.marks {
                        let inside = |x: f64, y: f64| {
                            (30.0..=wide - 30.0).contains(&x) && (30.0..=high - 20.0).contains(&y)
                        };
                        let fits = match mark {
                            Mark::Line { points, .. } | Mark::Area { points, .. } => {
                                points.iter().all(|(x, y)| inside(*x, *y))
                            }
                            Mark::Oval { centre, half, .. } => {
                                inside(centre.0 - half.0, centre.1 - half.1)
                                    && inside(centre.0 + half.0, centre.1 + half.1)
                            }
                            Mark::Words(words) => {
                                let long = width(&words.text, words.face, words.size);
                                let start = match words.align {
                                    Align::Start => words.at.0,
                                    Align::Middle => words.at.0 - 0.5 * long,
                                    Align::End => words.at.0 - long,
                                };
                                inside(start, words.at.1 - words.size) && inside(start + long, words.at.1)
                            }
                        };
                        assert!(fits, "{name}: sheet {}: {mark:?}", number + 1);
                    }
                }
            }
        }
    });
}

#[test]
fn every_cell_and_line_of_the_document_is_on_the_sheets() {
    roomy(|| {
        for (name, document) in documents() {
            let found = characters(&laid(&document, Sheet::A4));
            let held = |text: &str| {
                let text: String = text.chars().filter(|char| *char != ' ').collect();
                assert!(found.contains(&text) || text.chars().count() > 20, "{name}: {text}");
            };
            for block in document.sections.iter().flat_map(|section| &section.blocks) {
                match block {
                    Block::Heading(text) | Block::Paragraph(text) | Block::Notice(text) => {
                        let whole: String = text.chars().filter(|char| *char != ' ').collect();
                        assert!(found.contains(&whole), "{name}: {text}");
                    }
                    Block::Items(items) => items.iter().for_each(|item| held(item)),
                    Block::Table(table) => {
                        let cells = table.rows.iter().flat_map(|row| &row.cells);
                        cells.for_each(|cell| held(cell.shown()));
                    }
                    Block::Worked(text) => text.lines().for_each(|line| {
                        let whole: String = line.chars().filter(|char| *char != ' ').collect();
                        assert!(found.contains(&whole), "{name}: {line}");
                    }),
                    Block::Figure(_) | Block::Signatures(_) => {}
                }
            }
        }
    });
}

#[test]
fn the_same_report_is_the_same_file_and_every_section_has_its_bookmark() {
    roomy(|| {
        let document = report::document(desk(ODD, None).shell(), None).unwrap();
        let file = pdf(&document, Sheet::A4);
        assert_eq!(file, pdf(&document, Sheet::A4));
        assert!(file.starts_with(b"%PDF-1.7") && file.ends_with(b"%%EOF"));
        let marks: Vec<String> =
            laid(&document, Sheet::A4).bookmarks.into_iter().map(|mark| mark.heading).collect();
        let headings: Vec<String> = document.sections.iter().map(|section| section.heading.clone()).collect();
        assert_eq!(marks, headings);
        let holds = |text: &[u8]| file.windows(text.len()).any(|window| window == text);
        assert!(!holds(b"CreationDate") && !holds(b"/ID"));
    });
}

#[test]
fn what_no_face_has_is_written_as_its_number() {
    let codes: Vec<u8> = runs("漢", halfskip_console::desk::drawing::face::Face::Plain).remove(0).codes;
    assert_eq!(codes, b"[U+6F22]");
}
