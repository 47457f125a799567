//! Everything an examination says, computed once: JSON, table, page and comparison are written from it.

use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::acceptance::criteria::{self, Measure, Sheet};
use halfskip::calibration::level::Level;
use halfskip::character::{Nature, nature};
use halfskip::evaluate::sizing::length::Length;
use halfskip::findings::{
    Caution, Extent, GroundFinding, HeightFinding, IndicationFinding, LengthRule, ReadingFinding, STANDING,
    Scanned, Summary, VerdictFinding, cautions, evaluate, grounds, indication, scanned, undetermined,
};
use halfskip::part::joint::Joint;
use halfskip::planning::coverage::Cell;
use halfskip::record::examination::{Facts, ProbeState};

use super::console::SERIES;
use crate::answers::{Crossed, crossed};

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
    /// Its name.
    pub id: &'a str,
    /// Place, level, length and height.
    pub found: IndicationFinding<'a>,
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
    pub fn of<const ROWS: usize>(
        facts: &Facts<'a>,
        sheet: Option<&Sheet<ROWS>>,
        see: impl FnMut(&Cell),
    ) -> Self {
        let indications = indications(facts, sheet);
        let mut summary = Summary::<256>::new();
        indications.iter().for_each(|one| summary.add(facts, one.found.indication, one.judged.as_ref()));
        let joint = facts.common().joint.as_ref().map(|(_, joint)| joint);
        Self {
            readings: facts.readings().map(|reading| evaluate(facts, reading)).collect(),
            indications,
            coverage: Coverage::of(facts, joint, see),
            summary: (!summary.is_empty()).then(|| summary.told(facts).to_string()),
            cautions: all_cautions(facts, sheet),
        }
    }
}

impl<'a> Coverage<'a> {
    fn of(facts: &Facts<'a>, joint: Option<&Joint>, see: impl FnMut(&Cell)) -> Self {
        let probes = (0u8..).zip(facts.probes()).filter(|(_, state)| state.probe().is_some());
        let by_probe = probes.map(|(place, state)| {
            (state, joint.and_then(|joint| crossed(facts, joint, Some(place), LEGS, |_| {})))
        });
        Self {
            by_probe: by_probe.collect(),
            all: joint.and_then(|joint| crossed(facts, joint, None, LEGS, see)),
            scanned: scanned::<32>(facts, LEGS),
        }
    }
}

impl Indication<'_> {
    /// How strong it is.
    pub fn level(&self) -> Option<Level> {
        self.found.strongest.as_ref().ok().map(|strongest| strongest.level)
    }

    /// How long it is.
    pub fn length(&self) -> Option<Length> {
        self.found.length.ok()
    }

    /// How high it is; none where the observations disagree.
    pub fn height(&self) -> Option<HeightFinding> {
        self.found.height.filter(|height| !height.disagrees())
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

/// The ends of every indication by the sheet's own length rule.
pub fn extents(facts: &Facts<'_>, rule: LengthRule) -> Vec<Extent> {
    facts.seen().map(|place| Extent::measured::<SERIES>(facts, place, rule)).collect()
}

/// Every indication with readings in force, in the order of first appearance.
pub fn indications<'a, const ROWS: usize>(
    facts: &Facts<'a>,
    sheet: Option<&Sheet<ROWS>>,
) -> Vec<Indication<'a>> {
    let rule = LengthRule::of_sheet(sheet);
    let measure = sheet.map_or(Measure::Level, |sheet| sheet.head().measure);
    let extents = extents(facts, rule);
    let of = |extent: &Extent| {
        let nature = nature(facts, extent.indication);
        Indication {
            id: facts.name(extent.indication),
            found: indication::<SERIES>(facts, extent.indication, rule),
            judged: sheet.map(|sheet| nature.verdict(facts, sheet, extent.indication, &extents)),
            grounds: grounds(facts, measure, extent.indication).collect(),
            nature,
        }
    };
    extents.iter().map(of).collect()
}

/// Every caution: those that facts and sheet call for, what is undetermined and why, and the standing ones.
fn all_cautions<const ROWS: usize>(facts: &Facts<'_>, sheet: Option<&Sheet<ROWS>>) -> Vec<String> {
    let mut told = Vec::new();
    let mut tell = |caution: Caution| told.push(caution.told(facts).to_string());
    cautions(facts, sheet, &mut tell);
    undetermined(facts, &mut tell);
    told.extend(STANDING.map(ToString::to_string));
    told
}
