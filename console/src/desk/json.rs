//! Findings as JSON, schema 2. What is not known is null, never a guess.

mod character;
mod grounds;
mod job;

use std::io::{self, Write};
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::acceptance::criteria;
use halfskip::calibration::level::{Bound, Level};
use halfskip::evaluate::fusion::Body;
use halfskip::findings as examined;
use halfskip::findings::{
    Caution, ReadingFinding, STANDING, Summary, VerdictFinding, cautions, evaluate, undetermined,
};
use halfskip::record::examination::Facts;
use serde::Serialize;

use super::console::HostShell;
pub use character::Nature;
use character::advice;
pub use grounds::Ground;
pub use job::Job;

/// Scans of the coverage: both sides of 16 probes.
pub(super) const SCANS: usize = 32;
/// Legs that a coverage counts.
pub(super) const LEGS: u32 = 2;

/// The version of this layout.
pub const SCHEMA: u32 = 2;

/// What is written of one job.
#[derive(Serialize)]
pub struct Findings<'a> {
    schema: u32,
    job: Job,
    #[serde(flatten)]
    examined: Examined<'a>,
}

/// Everything an examination says.
#[derive(Serialize)]
pub struct Examined<'a> {
    pub(super) readings: Vec<Reading<'a>>,
    pub(super) indications: Vec<Indication<'a>>,
    pub(super) coverage: Coverage<'a>,
    /// What is between the record and a verdict.
    pub(super) summary: Option<String>,
    pub(super) cautions: Vec<String>,
}

/// One reading.
#[derive(Serialize)]
pub struct Reading<'a> {
    pub(super) n: u32,
    pub(super) indication: &'a str,
    pub(super) probe: &'a str,
    pub(super) side: &'static str,
    pub(super) leg: Option<u32>,
    pub(super) x_mm: Option<f32>,
    pub(super) y_mm: Option<f32>,
    pub(super) z_mm: Option<f32>,
    pub(super) path_mm: Option<f32>,
    pub(super) unfolded_mm: Option<f32>,
    pub(super) level_db: Option<f32>,
    pub(super) level_bound: Option<&'static str>,
    pub(super) u_y_mm: Option<f32>,
    pub(super) u_z_mm: Option<f32>,
}

/// One indication.
#[derive(Serialize)]
pub struct Indication<'a> {
    pub(super) id: &'a str,
    pub(super) x_mm: Option<f32>,
    pub(super) y_mm: Option<f32>,
    pub(super) z_mm: Option<f32>,
    pub(super) u_y_mm: Option<f32>,
    pub(super) u_z_mm: Option<f32>,
    pub(super) views: u32,
    pub(super) consistent: Option<bool>,
    /// The diameter of the body that the views tell; null where they are too few, and of an edge or a point.
    pub(super) body_mm: Option<f32>,
    pub(super) u_body_mm: Option<f32>,
    pub(super) level_db: Option<f32>,
    pub(super) level_bound: Option<&'static str>,
    pub(super) x_start_mm: Option<f32>,
    pub(super) x_end_mm: Option<f32>,
    pub(super) length_mm: Option<f32>,
    pub(super) length_open: Option<bool>,
    /// Which end is open: the start, the end.
    #[serde(skip)]
    pub(super) open_ends: (bool, bool),
    pub(super) height_mm: Option<f32>,
    pub(super) u_height_mm: Option<f32>,
    /// Its observations disagree, so that no height is told.
    #[serde(skip)]
    pub(super) heights_disagree: bool,
    pub(super) nature: Nature,
    pub(super) grounds: Vec<Ground>,
    pub(super) geometry: Geometry,
    /// What the sheet was asked and said.
    #[serde(skip)]
    pub(super) judged: Option<VerdictFinding>,
    pub(super) rating_db: Option<f32>,
    pub(super) class: Option<String>,
    pub(super) verdict: &'static str,
    pub(super) because: String,
}

/// What of the joint explains an indication.
#[derive(Serialize)]
pub struct Geometry {
    pub(super) r#match: Option<Explained>,
}

/// A feature of the joint that explains an indication.
#[derive(Serialize)]
pub struct Explained {
    pub(super) feature: &'static str,
    /// In units of the expanded uncertainty.
    pub(super) distance: f32,
}

/// The part of weld and heat-affected zone that beams can cross.
#[derive(Serialize)]
pub struct Coverage<'a> {
    pub(super) fraction: Option<f32>,
    pub(super) as_scanned: Option<f32>,
    pub(super) by_probe: Vec<ProbeCoverage<'a>>,
}

/// The same by one probe.
#[derive(Serialize)]
pub struct ProbeCoverage<'a> {
    pub(super) probe: &'a str,
    pub(super) fraction: Option<f32>,
}

const fn bound(level: Level) -> Option<&'static str> {
    match level.bound {
        Bound::Exact => None,
        Bound::AtLeast => Some("at-least"),
        Bound::AtMost => Some("at-most"),
    }
}

/// A reading's finding in the layout of the schema.
#[must_use]
pub fn reading<'a>(facts: &Facts<'a>, finding: &ReadingFinding<'a>) -> Reading<'a> {
    let place = finding.place.ok();
    let level = finding.level.ok().map(|found| found.level);
    // An echo that was looked for and not seen lies nowhere; leg and path are where it was looked for.
    let lies = place.filter(|_| !finding.unseen());
    let uncertainty = lies.and_then(|_| finding.uncertainty());
    Reading {
        n: finding.reading.number(),
        indication: facts.name(finding.reading.indication()),
        probe: facts.probe(finding.reading.probe()).map_or("", |state| state.name()),
        side: finding.reading.side().letter(),
        leg: place.map(|place| place.leg),
        x_mm: lies.map(|place| place.x.get()),
        y_mm: lies.map(|place| place.y.get()),
        z_mm: lies.map(|place| place.z.get()),
        path_mm: finding.path.ok().map(|path| path.get()),
        unfolded_mm: place.map(|place| place.unfolded.get()),
        level_db: level.map(|level| level.db.get()),
        level_bound: level.and_then(bound),
        u_y_mm: uncertainty.map(|(u_y, _)| u_y),
        u_z_mm: uncertainty.map(|(_, u_z)| u_z),
    }
}

/// The word of a verdict; what is not decided is undetermined.
#[must_use]
pub const fn verdict_word(verdict: Option<criteria::Verdict>) -> &'static str {
    match verdict {
        Some(verdict) => verdict.word(),
        None => "undetermined",
    }
}

/// Every indication with readings in force, in the order of first appearance.
#[must_use]
pub fn indications<'a>(facts: &Facts<'a>, findings: &examined::Findings<'_>) -> Vec<Indication<'a>> {
    findings.indications().map(|found| indication(facts, found)).collect()
}

fn indication<'a>(facts: &Facts<'a>, found: examined::Indication<'_>) -> Indication<'a> {
    let point = found.place();
    let point = point.as_ref();
    let finding = found.verdict(point);
    let judged = finding.as_ref();
    let body = point.and_then(|point| match point.body {
        Body::Across { across, uncertainty } => Some((across, uncertainty)),
        Body::Point | Body::UpTo(_) => None,
    });
    let length = found.length(found.findings().length_rule()).ok();
    let level = found.level().ok().map(|strongest| strongest.level);
    let observed = found.height(point);
    let height = observed.filter(|height| !height.disagrees());
    let because = judged
        .map_or_else(|| "no criteria sheet is in force".to_string(), |judged| judged.told(facts).to_string());
    let class =
        judged.map(|judged| judged.class.as_str()).filter(|class| !class.is_empty()).map(ToString::to_string);
    Indication {
        id: facts.name(found.number()),
        x_mm: point.map(|point| point.x),
        y_mm: point.map(|point| point.y),
        z_mm: point.map(|point| point.z),
        u_y_mm: point.map(|point| point.u_y),
        u_z_mm: point.map(|point| point.u_z),
        views: point.map_or(0, |point| point.views),
        consistent: point.and_then(|point| point.consistent),
        body_mm: body.map(|(across, _)| across),
        u_body_mm: body.map(|(_, uncertainty)| uncertainty),
        level_db: level.map(|level| level.db.get()),
        level_bound: level.and_then(bound),
        x_start_mm: length.map(|length| length.start.get()),
        x_end_mm: length.map(|length| length.end.get()),
        length_mm: length.map(|length| length.length().get()),
        length_open: length.map(|length| length.is_open()),
        open_ends: length.map_or((false, false), |length| (length.open_start, length.open_end)),
        height_mm: height.map(|height| height.height),
        u_height_mm: height.map(|height| height.uncertainty),
        heights_disagree: observed.is_some_and(|height| height.disagrees()),
        nature: advice(&found.character()),
        grounds: grounds::told(found),
        geometry: Geometry { r#match: explained(found.geometry()) },
        rating_db: judged.and_then(|judged| judged.rating).map(|(_, rating)| rating.d.get()),
        class,
        verdict: verdict_word(judged.and_then(|judged| judged.verdict)),
        because,
        judged: finding,
    }
}

/// The feature of the joint that explains an indication; advice, which never takes it away.
fn explained(found: Option<examined::Match>) -> Option<Explained> {
    let found = found?;
    Some(Explained { feature: found.feature.word(), distance: found.distance })
}

/// The part of weld and heat-affected zone that the probes in force can cross, by all of them and by each.
fn covered<'a>(facts: &Facts<'a>) -> Coverage<'a> {
    let fraction = |probe| examined::coverage::<SCANS>(facts, probe, LEGS, |_| {})?.ok()?.fraction();
    let probes = (0..=u8::MAX).zip(facts.probes()).filter(|(_, state)| state.probe().is_some());
    let by_probe =
        probes.map(|(place, state)| ProbeCoverage { probe: state.name(), fraction: fraction(Some(place)) });
    let as_scanned = examined::scanned::<SCANS>(facts, LEGS).and_then(|found| found.coverage.fraction());
    Coverage { fraction: fraction(None), as_scanned, by_probe: by_probe.collect() }
}

/// Every caution: those that facts and sheet call for, what is undetermined and why, and the standing ones.
#[must_use]
pub fn all_cautions(findings: &examined::Findings<'_>) -> Vec<String> {
    let (facts, mut told) = (findings.facts(), Vec::new());
    let mut tell = |caution: Caution| told.push(caution.told(facts).to_string());
    cautions(findings, &mut tell);
    undetermined(facts, &mut tell);
    told.extend(STANDING.map(ToString::to_string));
    told
}

/// What is between the record and a verdict; none where every indication has one.
fn summary(facts: &Facts<'_>, indications: &[Indication<'_>]) -> Option<String> {
    let mut summary = Summary::new();
    for (found, place) in indications.iter().zip(facts.seen()) {
        summary.add(facts, place, found.judged.as_ref());
    }
    (!summary.is_empty()).then(|| summary.told(facts).to_string())
}

/// Everything an examination says, in the layout of the schema.
#[must_use]
pub fn examined<'a>(facts: &Facts<'a>, findings: &examined::Findings<'_>) -> Examined<'a> {
    let indications = indications(facts, findings);
    Examined {
        readings: facts.readings().map(|found| reading(facts, &evaluate(facts, found))).collect(),
        summary: summary(facts, &indications),
        indications,
        coverage: covered(facts),
        cautions: all_cautions(findings),
    }
}

/// The same with the job that it is of, in a shell that has taken a job of this name; none while that is being evaluated.
#[must_use]
pub fn findings(name: String, shell: &HostShell) -> Option<Findings<'_>> {
    let examined = shell.evaluated(|findings| examined(&shell.examination().facts(), findings))?;
    Some(Findings { schema: SCHEMA, job: Job::of(name, shell), examined })
}

/// Writes anything as one line of JSON.
///
/// # Errors
/// That the output cannot be written.
pub fn line(what: &impl Serialize, out: &mut impl Write) -> io::Result<()> {
    serde_json::to_writer(&mut *out, what)?;
    out.write_all(b"\n")
}

/// Writes the findings of a shell that has taken a job of this name as one line of JSON.
///
/// # Errors
/// That the output cannot be written.
pub fn write(name: String, shell: &HostShell, out: &mut impl Write) -> io::Result<()> {
    line(&findings(name, shell).ok_or(io::ErrorKind::WouldBlock)?, out)
}
