//! What a report is made from, and how its figures are written.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::acceptance::criteria::Criteria;
use halfskip::part::side::{Face, Side};
use halfskip::record::entry::Entry;
use halfskip::record::examination::Facts;

use super::document::{Cell, Figure};
use crate::answers::page::{Lengths, Plus};
use crate::desk::console::HostShell;
use crate::desk::json::{self, Examined};

/// What is said where a figure is not known.
pub const UNKNOWN: &str = "not known";

/// The examination, its findings and its entries.
pub struct Known<'a> {
    /// The shell that answers.
    pub shell: &'a HostShell,
    /// What is in force.
    pub facts: Facts<'a>,
    /// The sheet in force.
    pub sheet: Option<&'a Criteria>,
    /// The figures that every output shows.
    pub findings: Examined<'a>,
    /// Every entry: number, whether voided, entry.
    pub entries: Vec<(u32, bool, Entry)>,
    /// How lengths are written.
    pub lengths: Lengths,
}

impl<'a> Known<'a> {
    /// From a shell that has taken every line of a job; none while that is being evaluated.
    pub fn new(shell: &'a HostShell) -> Option<Self> {
        let facts = shell.examination().facts();
        Some(Self {
            shell,
            facts,
            sheet: shell.sheet().map(|sheet| sheet as &Criteria),
            findings: shell.evaluated(|findings| json::examined(&facts, findings))?,
            entries: shell.examination().entries().collect(),
            lengths: Lengths(facts.common().units),
        })
    }

    /// The entries in force, with their numbers.
    pub fn in_force(&self) -> impl Iterator<Item = (u32, &Entry)> {
        self.entries.iter().filter(|(_, voided, _)| !voided).map(|(number, _, entry)| (*number, entry))
    }

    /// What the shell answers to a question; none when this version does not answer it.
    pub fn asked(&self, question: &str) -> Option<String> {
        let mut answer = String::new();
        let answered = self.shell.ask(question.as_bytes(), &mut answer);
        let answer = answer.trim_end();
        (answered && !answer.ends_with("this version does not answer that yet")).then(|| answer.to_string())
    }

    /// "mm" or "in".
    pub const fn unit(&self) -> &'static str {
        self.lengths.unit()
    }

    /// A length in millimetres in the session's unit, for a drawing.
    pub fn drawn(&self, mm: f32) -> f64 {
        f64::from(mm) / if self.unit() == "in" { 25.4 } else { 1.0 }
    }

    /// A length, a figure of the findings.
    pub fn length(&self, key: &str, mm: Option<f32>) -> Cell {
        figure(key, mm, |mm| self.lengths.bare(mm).to_string())
    }

    /// A length with its expanded uncertainty, a figure of the findings.
    pub fn within(&self, key: &str, mm: Option<f32>, expanded: Option<f32>) -> Cell {
        figure(key, mm, |mm| match expanded {
            Some(expanded) => format!("{} \u{b1} {}", self.lengths.bare(mm), self.lengths.bare(expanded)),
            None => self.lengths.bare(mm).to_string(),
        })
    }

    /// A length with its sign.
    pub fn signed(&self, mm: f32) -> String {
        let (mm, places) = if self.unit() == "in" { (mm / 25.4, 3) } else { (mm, 2) };
        Plus(mm, places).to_string()
    }

    /// A level in decibels, a figure of the findings, with its bound.
    pub fn level(key: &str, db: Option<f32>, bound: Option<&str>) -> Cell {
        figure(key, db, |db| {
            let sign = match bound {
                Some("at-least") => "\u{2265} ",
                Some("at-most") => "\u{2264} ",
                _ => "",
            };
            format!("{sign}{}", Plus(db, 1))
        })
    }
}

/// A figure of the findings, or that it is not known.
pub fn figure(key: &str, value: Option<f32>, shown: impl FnOnce(f32) -> String) -> Cell {
    match value {
        Some(value) => Cell::Figure(Figure { key: key.into(), value, shown: shown(value) }),
        None => Cell::Missing(UNKNOWN.into()),
    }
}

/// "A", or "A, far face".
pub fn stand(side: Side, face: Face) -> String {
    let side = if side == Side::A { "A" } else { "B" };
    match face {
        Face::Near => side.into(),
        Face::Far => format!("{side}, far face"),
    }
}

/// A verdict of a check in words.
pub const fn within(good: Option<bool>) -> &'static str {
    match good {
        Some(true) => "within its tolerance",
        Some(false) => "OUT OF ITS TOLERANCE",
        None => "nothing left over to judge it by",
    }
}
