//! Properties of the two encodings: what is written is read again, exactly, and nothing that is typed can stop the
//! program.

use crate::generated::{KINDS, Source};
use halfskip::record::entry::{Entry, LengthUnit, frame};
use halfskip_console::commands::parse::{Line, line};
use halfskip_console::commands::write;

const SEED: u64 = 0x9e37_79b9_7f4a_7c15;

fn written(entry: &Entry) -> String {
    let mut text = String::new();
    write::entry(&mut text, entry).unwrap();
    text
}

#[test]
fn every_entry_reads_back_from_its_line_whatever_the_unit() {
    let mut source = Source(SEED);
    for round in 0..KINDS * 400 {
        let entry = source.entry(round % KINDS);
        let text = written(&entry);
        for default in [LengthUnit::Mm, LengthUnit::In] {
            assert_eq!(line(text.as_bytes(), default), Ok(Some(Line::Fact(entry.clone()))), "{text}");
        }
    }
}

#[test]
fn every_entry_reads_back_from_its_frame() {
    let mut source = Source(SEED);
    let mut buffer = [0; frame::MAX_FRAME];
    for round in 0..KINDS * 400 {
        let entry = source.entry(round % KINDS);
        let frame = frame::encode(&entry, &mut buffer).unwrap();
        assert_eq!(frame::decode(frame), Ok(frame::Frame::Fact(entry)));
    }
}

#[test]
fn every_kind_of_entry_is_generated() {
    let mut source = Source(SEED);
    let mut verbs: Vec<&str> = (0..KINDS).map(|kind| source.entry(kind).verb()).collect();
    assert_eq!(verbs.len(), 27);
    verbs.sort_unstable();
    verbs.dedup();
    // Two kinds each of dac and linearity.
    assert_eq!(verbs.len(), 25);
}

#[test]
fn a_spoilt_line_is_refused_in_one_line_or_means_something_that_can_be_written() {
    let mut source = Source(SEED);
    let mut refused = 0;
    for round in 0..KINDS * 400 {
        let mut bytes = written(&source.entry(round % KINDS)).into_bytes();
        for _ in 0..=source.below(3) {
            let at = source.below(bytes.len() as u32) as usize;
            match source.below(4) {
                0 => bytes[at] = source.below(256) as u8,
                1 => drop(bytes.remove(at)),
                2 => bytes.insert(at, *b" =\"#\\,:x.-e\0".get(source.below(12) as usize).unwrap()),
                _ => bytes.truncate(at.max(1)),
            }
            if bytes.is_empty() {
                bytes.push(b' ');
            }
        }
        match line(&bytes, LengthUnit::Mm) {
            Ok(Some(Line::Fact(entry))) => {
                let text = written(&entry);
                assert_eq!(line(text.as_bytes(), LengthUnit::In), Ok(Some(Line::Fact(entry))), "{text}");
            }
            Ok(_) => {}
            Err(refusal) => {
                refused += 1;
                let told = refusal.to_string();
                assert!(!told.contains(char::is_control) && told.len() < 400, "{told:?}");
                assert!(usize::from(refusal.column) <= bytes.len() + 1, "{told}");
            }
        }
    }
    assert!(refused > 4000, "{refused}");
}

#[test]
fn what_a_line_cannot_hold_is_neither_written_nor_framed() {
    for text in ["two\nlines", "\u{1b}[2J", "\0"] {
        let entry = Entry::Note(text.try_into().unwrap());
        assert!(write::entry(&mut String::new(), &entry).is_err());
        assert_eq!(frame::encode(&entry, &mut [0; frame::MAX_FRAME]), Err(frame::FrameError::NotPlain));
    }
}
