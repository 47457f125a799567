//! Findings as JSON, schema 2. What is not known is null, never a guess.

pub(super) mod character;
mod job;

use std::io::{self, Write};
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::calibration::level::{Bound, Level};
use halfskip::findings::{Findings as Evaluated, GroundFinding, ReadingFinding};
use halfskip::record::examination::Facts;
use serde::Serialize;

use super::console::HostShell;
use super::findings;
use crate::answers::Crossed;
use character::Nature;
pub use job::Job;

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
    readings: Vec<Reading<'a>>,
    indications: Vec<Indication<'a>>,
    coverage: Coverage<'a>,
    /// What is between the record and a verdict.
    summary: Option<String>,
    cautions: Vec<String>,
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
    pub(super) height_mm: Option<f32>,
    pub(super) u_height_mm: Option<f32>,
    pub(super) nature: Nature,
    pub(super) grounds: Vec<Ground>,
    pub(super) geometry: Geometry,
    pub(super) rating_db: Option<f32>,
    pub(super) class: Option<String>,
    pub(super) verdict: &'static str,
    pub(super) because: String,
}

/// A ground of an indication.
#[derive(Serialize)]
pub struct Ground {
    name: &'static str,
    state: &'static str,
    /// What it rests on; of many entries the first ones.
    entries: Vec<u32>,
    says: String,
}

/// What of the joint explains an indication.
#[derive(Serialize)]
pub struct Geometry {
    r#match: Option<Explained>,
}

/// A feature of the joint that explains an indication.
#[derive(Serialize)]
pub struct Explained {
    feature: &'static str,
    /// In units of the expanded uncertainty.
    distance: f32,
}

/// The part of weld and heat-affected zone that beams can cross.
#[derive(Serialize)]
pub struct Coverage<'a> {
    fraction: Option<f32>,
    as_scanned: Option<f32>,
    by_probe: Vec<ProbeCoverage<'a>>,
}

/// The same by one probe.
#[derive(Serialize)]
pub struct ProbeCoverage<'a> {
    probe: &'a str,
    fraction: Option<f32>,
}

const fn bound(level: Level) -> Option<&'static str> {
    match level.bound {
        Bound::Exact => None,
        Bound::AtLeast => Some("at-least"),
        Bound::AtMost => Some("at-most"),
    }
}

impl<'a> Reading<'a> {
    /// A reading's finding in the layout of the schema.
    #[must_use]
    pub fn of(facts: &Facts<'a>, finding: &ReadingFinding<'a>) -> Self {
        let place = finding.place.ok();
        let level = finding.level.ok().map(|found| found.level);
        // An echo that was looked for and not seen lies nowhere; leg and path are where it was looked for.
        let lies = place.filter(|_| !finding.unseen());
        let uncertainty = lies.and_then(|_| finding.uncertainty());
        Self {
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
}

impl<'a> Indication<'a> {
    pub(super) fn of(facts: &Facts<'_>, of: &findings::Indication<'a>) -> Self {
        let (point, length, height) = (of.point.as_ref(), of.length, of.height());
        let (explained, body) = (of.geometry, of.body());
        Self {
            id: of.id,
            x_mm: point.map(|point| point.x),
            y_mm: point.map(|point| point.y),
            z_mm: point.map(|point| point.z),
            u_y_mm: point.map(|point| point.u_y),
            u_z_mm: point.map(|point| point.u_z),
            views: point.map_or(0, |point| point.views),
            consistent: point.and_then(|point| point.consistent),
            body_mm: body.map(|(across, _)| across),
            u_body_mm: body.map(|(_, uncertainty)| uncertainty),
            level_db: of.level.map(|level| level.db.get()),
            level_bound: of.level.and_then(bound),
            x_start_mm: length.map(|length| length.start.get()),
            x_end_mm: length.map(|length| length.end.get()),
            length_mm: length.map(|length| length.length().get()),
            length_open: length.map(|length| length.is_open()),
            height_mm: height.map(|height| height.height),
            u_height_mm: height.map(|height| height.uncertainty),
            nature: Nature::of(&of.nature),
            grounds: of.grounds.iter().map(|ground| Ground::of(facts, ground)).collect(),
            geometry: Geometry {
                r#match: explained
                    .map(|found| Explained { feature: found.feature.word(), distance: found.distance }),
            },
            rating_db: of.judged.as_ref().and_then(|judged| judged.rating).map(|(_, rating)| rating.d.get()),
            class: of.class().map(ToString::to_string),
            verdict: of.verdict(),
            because: of.because(facts),
        }
    }
}

impl Ground {
    fn of(facts: &Facts<'_>, found: &GroundFinding) -> Self {
        Self {
            name: found.ground.name(),
            state: found.state.word(),
            entries: found.entries.iter().collect(),
            says: found.says(facts).to_string(),
        }
    }
}

impl<'a> Coverage<'a> {
    fn of(found: &findings::Coverage<'a>) -> Self {
        let by_probe = found.by_probe.iter().map(|(state, crossed)| ProbeCoverage {
            probe: state.name(),
            fraction: crossed.as_ref().and_then(Crossed::fraction),
        });
        Self {
            fraction: found.all.as_ref().and_then(Crossed::fraction),
            as_scanned: found.scanned.as_ref().and_then(|found| found.coverage.fraction()),
            by_probe: by_probe.collect(),
        }
    }
}

/// Everything an examination says, in the layout of the schema.
#[must_use]
pub fn examined<'a>(facts: &Facts<'a>, found: &Evaluated<'_>) -> Examined<'a> {
    let found = findings::Findings::of(facts, found, |_| {});
    Examined {
        readings: found.readings.iter().map(|reading| Reading::of(facts, reading)).collect(),
        indications: found.indications.iter().map(|one| Indication::of(facts, one)).collect(),
        coverage: Coverage::of(&found.coverage),
        summary: found.summary,
        cautions: found.cautions,
    }
}

/// The same with the job that it is of, in a shell that has taken a job of this name; none while that is being evaluated.
#[must_use]
pub fn findings(name: String, shell: &HostShell) -> Option<Findings<'_>> {
    let examined = shell.evaluated(|found| examined(&shell.examination().facts(), found))?;
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
