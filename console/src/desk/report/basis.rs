//! What a report is made from, and how its figures are written.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::acceptance::criteria::Criteria;
use halfskip::calibration::level::{Bound, Level};
use halfskip::findings::Point;
use halfskip::part::side::{Face, Side};
use halfskip::record::entry::Entry;
use halfskip::record::examination::Facts;

use super::document::{Block, Cell, Figure};
use super::map::Map;
use crate::answers::page::{Lengths, plus};
use crate::commands::parse::Question;
use crate::desk::console::HostShell;
use crate::desk::findings::{Findings, Indication};

/// What is said where a figure is not known.
pub const UNKNOWN: &str = "not known";

/// The examination, its findings and its entries.
pub struct Basis<'a> {
    /// The shell that answers.
    pub shell: &'a HostShell,
    /// What is in force.
    pub facts: Facts<'a>,
    /// The sheet in force.
    pub sheet: Option<&'a Criteria>,
    /// What every output shows.
    pub findings: Findings<'a>,
    /// What the beams cross of the joint, cell by cell.
    pub map: Map,
    /// Every entry: number, whether voided, entry.
    pub entries: Vec<(u32, bool, Entry)>,
    /// How lengths are written.
    pub lengths: Lengths,
}

impl<'a> Basis<'a> {
    /// From a shell that has taken every line of a job; none while that is being evaluated.
    pub fn new(shell: &'a HostShell) -> Option<Self> {
        let facts = shell.examination().facts();
        let mut map = Map::default();
        let found = shell.evaluated(|found| Findings::of(&facts, found, |cell| map.take(cell)))?;
        Some(Self {
            shell,
            facts,
            sheet: shell.sheet().map(|sheet| sheet as &Criteria),
            findings: found,
            map,
            entries: shell.examination().entries().collect(),
            lengths: Lengths(facts.common().units),
        })
    }

    /// The entries in force, with their numbers.
    pub fn in_force(&self) -> impl Iterator<Item = (u32, &Entry)> {
        self.entries.iter().filter(|(_, voided, _)| !voided).map(|(number, _, entry)| (*number, entry))
    }

    /// What the shell answers to a question, as lines whose blanks count.
    pub fn answer(&self, question: &Question) -> Block {
        let mut answer = String::new();
        self.shell.answer(question, &mut answer);
        Block::Worked(answer.trim_end().to_string())
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
        plus(mm, places).to_string()
    }

    /// A level in decibels, a figure of the findings, with its bound.
    pub fn level(key: &str, level: Option<Level>) -> Cell {
        figure(key, level.map(|level| level.db.get()), |db| {
            let sign = match level.map(|level| level.bound) {
                Some(Bound::AtLeast) => "\u{2265} ",
                Some(Bound::AtMost) => "\u{2264} ",
                _ => "",
            };
            format!("{sign}{}", plus(db, 1))
        })
    }

    /// A coordinate of an indication's place and its expanded uncertainty, a figure of the findings.
    pub fn of_point(&self, key: &str, found: &Indication<'_>, of: impl Fn(&Point) -> (f32, f32)) -> Cell {
        let (mm, expanded) = found.point.as_ref().map(of).unzip();
        self.within(key, mm, expanded)
    }

    /// A length along the weld, "at least" where an end is open.
    pub fn along(&self, found: &Indication<'_>) -> Cell {
        let key = format!("indications.{}.length_mm", found.id);
        let length = found.length;
        let open = if length.is_some_and(|length| length.is_open()) { "\u{2265} " } else { "" };
        figure(&key, length.map(|length| length.length().get()), |mm| {
            format!("{open}{}", self.lengths.bare(mm))
        })
    }

    /// A height through the wall.
    pub fn high(&self, found: &Indication<'_>) -> Cell {
        let (height, u) = found.height().map(|height| (height.height, height.uncertainty)).unzip();
        self.within(&format!("indications.{}.height_mm", found.id), height, u)
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
