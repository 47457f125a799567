//! Everything an examination says, computed once: JSON, table, page and comparison are written from it.

use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::acceptance::criteria;
use halfskip::calibration::level::{Bound, Level, level_uncertainty};
use halfskip::character::Nature;
use halfskip::evaluate::fusion::Body;
use halfskip::evaluate::sizing::length::Length;
use halfskip::findings::{
    self, Caution, GroundFinding, HeightFinding, Match, Point, ReadingFinding, STANDING, Scanned, Summary,
    VerdictFinding, cautions, evaluate, faces_in_use, scanned, undetermined,
};
use halfskip::part::joint::Joint;
use halfskip::planning::coverage::Cell;
use halfskip::record::entry::EnteredHeight;
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::Decibels;

use crate::answers::{Crossed, SCANS, crossed};

/// Legs that a coverage counts.
pub const LEGS: u32 = 2;

/// Holes of the coverage that a report lists.
const HOLES: usize = 64;

/// Everything an examination says.
pub struct Findings<'a> {
    /// Every reading.
    pub readings: Vec<ReadingFinding<'a>>,
    /// Every indication, in the order of first appearance.
    pub indications: Vec<Indication<'a>>,
    /// What of weld and heat-affected zone the beams can cross.
    pub coverage: Coverage<'a>,
    /// What is between the record and a verdict.
    pub summary: Option<String>,
    /// What the reader must be told.
    pub cautions: Vec<String>,
}

/// One indication.
pub struct Indication<'a> {
    /// Its place in the list of indications.
    pub number: u8,
    /// Its name.
    pub id: &'a str,
    /// Where it lies.
    pub point: Option<Point>,
    /// The feature of the joint that explains it.
    pub geometry: Option<Match>,
    /// How strong it is.
    pub level: Option<Level>,
    /// Expanded uncertainty of a level that is exact, dB.
    pub u_level: Option<f32>,
    /// How long it is.
    pub length: Option<Length>,
    /// How high it is; [`height`](Self::height) where the observations agree.
    pub observed_height: Option<HeightFinding>,
    /// Its character.
    pub nature: Nature,
    /// What the sheet was asked and said; none without a sheet.
    pub judged: Option<VerdictFinding>,
    /// The grounds of an accept.
    pub grounds: Vec<GroundFinding>,
}

/// The part of weld and heat-affected zone that beams can cross.
pub struct Coverage<'a> {
    /// By all probes in force; none where there is nothing to cross or nothing to cross it.
    pub all: Option<Crossed<HOLES>>,
    /// By each of them.
    pub by_probe: Vec<(&'a ProbeState, Option<Crossed<0>>)>,
    /// By the movements recorded.
    pub scanned: Option<Scanned>,
}

impl<'a> Findings<'a> {
    /// Of what is in force; each cell of the coverage is shown to `see`.
    pub fn of(facts: &Facts<'a>, found: &findings::Findings<'_>, see: impl FnMut(&Cell)) -> Self {
        let indications = indications(facts, found);
        let mut summary = Summary::new();
        indications.iter().for_each(|one| summary.add(facts, one.number, one.judged.as_ref()));
        let joint = facts.common().joint.as_ref().map(|(_, joint)| joint);
        Self {
            readings: facts.readings().map(|reading| evaluate(facts, reading)).collect(),
            indications,
            coverage: Coverage::of(facts, joint, see),
            summary: (!summary.is_empty()).then(|| summary.told(facts).to_string()),
            cautions: all_cautions(found),
        }
    }
}

impl<'a> Coverage<'a> {
    fn of(facts: &Facts<'a>, joint: Option<&Joint>, see: impl FnMut(&Cell)) -> Self {
        let probes = (0u8..).zip(facts.probes()).filter(|(_, state)| state.probe().is_some());
        let faces = faces_in_use(facts);
        let by_probe = probes.map(|(place, state)| {
            (state, joint.and_then(|joint| crossed(facts, joint, faces, Some(place), LEGS, |_| {})))
        });
        Self {
            by_probe: by_probe.collect(),
            all: joint.and_then(|joint| crossed(facts, joint, faces, None, LEGS, see)),
            scanned: scanned::<SCANS>(facts, LEGS),
        }
    }
}

impl<'a> Indication<'a> {
    fn of(facts: &Facts<'a>, found: findings::Indication<'_>) -> Self {
        let (point, strongest) = (found.place(), found.level().ok());
        let exact = strongest.as_ref().filter(|best| best.level.bound == Bound::Exact);
        let u_level = exact.and_then(|best| match best.finding.reading.height() {
            EnteredHeight::Shown(height) => {
                level_uncertainty(height.quantity(), best.finding.budget.height).ok().map(Decibels::get)
            }
            _ => None,
        });
        Self {
            number: found.number(),
            id: facts.name(found.number()),
            geometry: found.geometry(),
            level: strongest.as_ref().map(|strongest| strongest.level),
            u_level,
            length: found.length(found.findings().length_rule()).ok(),
            observed_height: found.height(point.as_ref()),
            nature: found.character(),
            judged: found.verdict(point.as_ref()),
            grounds: found.grounds().collect(),
            point,
        }
    }

    /// How high it is; none where the observations disagree.
    pub fn height(&self) -> Option<HeightFinding> {
        self.observed_height.filter(|height| !height.disagrees())
    }

    /// The diameter of the body that the views tell, and its expanded uncertainty; none where they are too few, and of an
    /// edge or a point.
    pub fn body(&self) -> Option<(f32, f32)> {
        match self.point?.body {
            Body::Across { across, uncertainty } => Some((across, uncertainty)),
            Body::Point | Body::UpTo(_) => None,
        }
    }

    /// The class that the sheet gives.
    pub fn class(&self) -> Option<&str> {
        self.judged.as_ref().map(|judged| judged.class.as_str()).filter(|class| !class.is_empty())
    }

    /// The word of the verdict; what is not decided is undetermined.
    pub fn verdict(&self) -> &'static str {
        let verdict = self.judged.as_ref().and_then(|judged| judged.verdict);
        verdict.map_or("undetermined", criteria::Verdict::word)
    }

    /// Why.
    pub fn because(&self, facts: &Facts<'_>) -> String {
        match &self.judged {
            Some(judged) => judged.told(facts).to_string(),
            None => "no criteria sheet is in force".to_string(),
        }
    }
}

/// Every indication with readings in force, in the order of first appearance.
pub fn indications<'a>(facts: &Facts<'a>, found: &findings::Findings<'_>) -> Vec<Indication<'a>> {
    found.indications().map(|one| Indication::of(facts, one)).collect()
}

/// Every caution: those that facts and sheet call for, what is undetermined and why, and the standing ones.
fn all_cautions(found: &findings::Findings<'_>) -> Vec<String> {
    let (facts, mut told) = (found.facts(), Vec::new());
    let mut tell = |caution: Caution| told.push(caution.told(facts).to_string());
    cautions(found, &mut tell);
    undetermined(facts, &mut tell);
    told.extend(STANDING.map(ToString::to_string));
    told
}
