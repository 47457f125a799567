//! A small stand-in for an examination: `add N` is a fact, `sum` a question, the rest is refused.

use core::fmt::Write;
use std::path::PathBuf;

use halfskip_console::desk::{Lines, Outcome};

#[derive(Default, Debug)]
pub struct Tally {
    pub facts: Vec<u32>,
}

impl Lines for Tally {
    fn line(&mut self, line: &[u8], answer: &mut dyn Write) -> Outcome {
        let text = core::str::from_utf8(line).unwrap();
        if text.is_empty() || text.starts_with('#') {
            return Outcome::Quiet;
        }
        if text == "sum" {
            writeln!(answer, "sum {} of {}", self.facts.iter().sum::<u32>(), self.facts.len()).unwrap();
            return Outcome::Answered;
        }
        let number = text.strip_prefix("add ").map(|number| number.trim().parse());
        match number {
            Some(Ok(number)) => {
                self.facts.push(number);
                Outcome::Recorded
            }
            Some(Err(_)) => {
                writeln!(answer, "no number").unwrap();
                Outcome::Refused { column: Some(5) }
            }
            None => {
                writeln!(answer, "unknown verb").unwrap();
                Outcome::Refused { column: Some(1) }
            }
        }
    }

    fn clear(&mut self) {
        self.facts.clear();
    }
}

/// An empty directory of this name for one test.
pub fn directory(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&path);
    std::fs::create_dir_all(&path).unwrap();
    path
}
