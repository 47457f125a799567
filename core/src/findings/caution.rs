//! What the reader must be told beside the figures.

mod doubts;
mod entries;
mod of_probe;
mod of_reading;
mod shared;
mod told;
mod unusual;
mod voided;

pub(super) use of_reading::corner_off_axis;

use super::{Findings, Suspicion, evaluate};
use crate::acceptance::criteria::Criteria;
use crate::acceptance::technique::Grounds;
use crate::part::joint::{Joint, Obstacle};
use crate::part::side::{Face, Side};
use crate::physics::refraction::RefractionError;
use crate::record::examination::Facts;
use crate::units::Millimetres;
use doubts::Doubts;
pub use entries::Entries;
use of_probe::of_probe;
use of_reading::of_reading;
use shared::Open;
pub use shared::Shared;
pub use unusual::{Wide, unusual, wide};
pub use voided::Voided;

/// The cautions that stand under every answer.
pub const STANDING: [&str; 4] = [
    "halfskip computes; it does not qualify anyone, any procedure or any weld. Examination and interpretation belong to \
     certified personnel working to an approved written procedure under the governing code; local codes and the \
     responsible authority decide.",
    "A criteria sheet is a transcription: hold it against its source before relying on it.",
    "A clean result covers only the volume that the beam crossed; what was not covered is not known to be sound.",
    "Characterisation is advice with its evidence, never a statement of what a reflector is.",
];

/// A caution that the facts call for.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Caution {
    /// No sheet is in force: nothing was held against any criterion.
    NoSheet,
    /// The sheet in force has not been held against its source.
    SheetNotChecked,
    /// Rows of the sheet in force that never decide, because earlier ones cover them.
    RowsNeverHold {
        /// Their numbers, from 1.
        rows: Entries,
    },
    /// The technique sheet in force has not been held against its source.
    TechniqueNotChecked,
    /// The technique sheet in force asks for less than the built-in minimum.
    TechniqueLeavesOut {
        /// What it leaves out.
        grounds: Grounds,
    },
    /// Half widths or limits of checks wider than usual.
    Wide(Wide),
    /// Readings that share a reason.
    Readings {
        /// The readings.
        readings: Entries,
        /// What they share.
        shared: Shared,
    },
    /// Entries that were voided and would speak against an accept.
    Voided {
        /// The entries.
        entries: Entries,
        /// What they are.
        what: Voided,
        /// The first entry that took one out; its reason is that of all.
        by: u32,
    },
    /// A transfer correction whose surface term is beyond what is usual.
    TransferUnusual {
        /// The probe, by its place.
        probe: u8,
        /// The surface term, dB.
        surface: f32,
    },
    /// A transfer correction that changes much with path.
    TransferSlopes {
        /// The probe, by its place.
        probe: u8,
        /// What the slope makes of the longest path that was read, dB.
        by: f32,
        /// That path, mm.
        path: f32,
    },
    /// Two neighbouring reference points far apart in path.
    PointsApart {
        /// The probe, by its place.
        probe: u8,
        /// The point at the shorter path.
        from: u32,
        /// The point at the longer path.
        to: u32,
        /// How many times the shorter path the longer one is.
        ratio: f32,
    },
    /// A probe whose own calibration is out of tolerance.
    Probe {
        /// The probe, by its place.
        probe: u8,
        /// What is.
        suspicion: Suspicion,
    },
    /// A time base whose velocity is not that of the material within the range tolerance.
    SpeedDiffers {
        /// The probe, by its place.
        probe: u8,
        /// Velocity of the time base, mm/us.
        base: f32,
        /// Shear velocity of the material, mm/us.
        material: f32,
    },
    /// An angle measured or stated without the temperature of its block, of a wedge that turns the beam with its own.
    BlockTemperature {
        /// The probe, by its place.
        probe: u8,
        /// How far it turns from the marked temperature to that of use, degrees.
        turned: f32,
    },
    /// A probe whose beam does not exist in the part.
    NoBeam {
        /// The probe, by its place.
        probe: u8,
        /// Why.
        why: RefractionError,
    },
    /// What was not recorded of a probe whose readings are evaluated, and is taken as if it were nothing.
    NotRecorded {
        /// The probe, by its place.
        probe: u8,
        /// No hole was peaked: the nominal angle is used.
        angle: bool,
        /// No time base: paths are taken as shown.
        timebase: bool,
        /// No transfer correction: 0 dB is used.
        transfer: bool,
    },
    /// A stated half width of the velocity that is in no uncertainty: there is no velocity to take it a part of.
    VelocityNotCounted {
        /// The probe, by its place.
        probe: u8,
        /// The half width, mm/us.
        half_width: f32,
    },
    /// A calibration was voided and made anew after a reading that is now worked out with the new one.
    CalibratedAnew {
        /// The probe, by its place.
        probe: u8,
        /// The last entry of its calibration.
        entry: u32,
        /// Its first reading.
        reading: u32,
    },
    /// The cap is told narrower than the groove that it closes.
    CapTooNarrow {
        /// Width of the cap, mm.
        cap: f32,
        /// Opening of the groove at the scanned face, mm.
        groove: f32,
    },
    /// The cap is wide enough for the groove, but ends over it on one side, by the centre told for it.
    CapBesideGroove {
        /// The side.
        side: Side,
        /// Where the cap ends on that side, from the centreline, mm.
        cap: f32,
        /// How far the groove is open on that side at the scanned face, mm.
        groove: f32,
    },
    /// A bead or a backing bar is told narrower than the opening at the far face that it closes.
    RootTooNarrow {
        /// Which of them.
        of: Obstacle,
        /// Its width, mm.
        width: f32,
        /// The opening at the far face, mm.
        opening: f32,
    },
    /// One reference point serves readings at other paths.
    OnePoint {
        /// The probe, by its place.
        probe: u8,
        /// The point's path, mm.
        path: f32,
    },
    /// Levels in which a transfer correction is carried on beyond the shots that it was measured by.
    TransferExtended {
        /// The probe, by its place.
        probe: u8,
        /// The first reading of a longer path.
        first: u32,
        /// How many there are.
        count: u32,
        /// The longest path of shots on block and part alike, mm.
        up_to: f32,
    },
    /// The beam of a probe passes the bore of the pipe without meeting it.
    BoreMissed {
        /// The probe, by its place.
        probe: u8,
        /// Its refracted angle, degrees.
        angle: f32,
        /// The angle at and beyond which the bore is missed.
        largest: f32,
    },
    /// The views of an indication disagree.
    ViewsDisagree {
        /// The indication, by its place.
        indication: u8,
    },
    /// The observations of an indication's height disagree.
    HeightsDisagree {
        /// The indication, by its place.
        indication: u8,
    },
    /// The height of an indication comes out below zero.
    HeightBelowZero {
        /// The indication, by its place.
        indication: u8,
    },
}

/// Tells every caution that the facts and the sheet in force call for.
pub fn cautions(findings: &Findings<'_>, mut tell: impl FnMut(Caution)) {
    let (facts, sheet) = (findings.facts(), findings.sheet());
    match sheet {
        None => tell(Caution::NoSheet),
        Some(sheet) => of_sheet(sheet, &mut tell),
    }
    let technique = facts.technique();
    if !technique.is_minimum() && !technique.is_checked() {
        tell(Caution::TechniqueNotChecked);
    }
    if !technique.left_out().is_empty() {
        tell(Caution::TechniqueLeavesOut { grounds: technique.left_out() });
    }
    if let Some(wide) = wide(facts) {
        tell(Caution::Wide(wide));
    }
    if let Some((_, joint)) = facts.common().joint.as_ref() {
        of_cap(joint, &mut tell);
        of_root(joint, &mut tell);
    }
    for place in (0u8..=u8::MAX).take(facts.probes().len()) {
        of_probe(facts, place, &mut tell);
    }
    of_readings(facts, &mut tell);
    voided::tell_all(findings, &mut tell);
    for indication in findings.indications() {
        let place = indication.place();
        let height = indication.height(place.as_ref());
        let doubts = Doubts::of(place.as_ref(), height.as_ref());
        let (Doubts { views_disagree, heights_disagree, height_below_zero }, indication) =
            (doubts, indication.number());
        if views_disagree {
            tell(Caution::ViewsDisagree { indication });
        }
        if heights_disagree {
            tell(Caution::HeightsDisagree { indication });
        }
        if height_below_zero {
            tell(Caution::HeightBelowZero { indication });
        }
    }
}

/// Tells what a sheet itself calls for.
pub fn of_sheet(sheet: &Criteria, tell: &mut impl FnMut(Caution)) {
    if !sheet.is_checked() {
        tell(Caution::SheetNotChecked);
    }
    let mut rows: Option<Entries> = None;
    for row in sheet.unreachable_rows() {
        let row = row as u32;
        match &mut rows {
            Some(rows) => rows.add(row, row.checked_sub(1)),
            None => rows = Some(Entries::of(row)),
        }
    }
    if let Some(rows) = rows {
        tell(Caution::RowsNeverHold { rows });
    }
}

/// Readings that share a reason are told once.
#[inline(never)]
fn of_readings(facts: &Facts<'_>, tell: &mut impl FnMut(Caution)) {
    let weld = facts.common().joint.as_ref().map(|(_, joint)| (joint, joint.section()));
    let (mut open, mut before) = (Open::new(), None);
    for reading in facts.readings() {
        let number = reading.number();
        of_reading(facts, weld.as_ref(), reading, &mut |shared: Shared| {
            open.add(facts, shared.by(number), before, tell);
        });
        before = Some(number);
    }
    open.close(tell);
}

/// Tells which readings have no path, no place or no level, those of one reason together.
pub fn undetermined(facts: &Facts<'_>, mut tell: impl FnMut(Caution)) {
    let (mut open, mut before) = (Open::new(), None);
    for reading in facts.readings() {
        let (finding, number) = (evaluate(facts, reading), reading.number());
        let mut add = |shared: Shared| open.add(facts, shared.by(number), before, &mut tell);
        match (finding.path, finding.place, finding.level) {
            (Err(why), ..) => add(Shared::NoPath(why)),
            (_, place, level) => {
                place.err().into_iter().for_each(|why| add(Shared::NoPlace(why)));
                level.err().into_iter().for_each(|why| add(Shared::NoLevel(why)));
            }
        }
        before = Some(number);
    }
    open.close(tell);
}

/// Whether bead and bar cover the opening at the far face.
fn of_root(joint: &Joint, tell: &mut impl FnMut(Caution)) {
    let (spec, opening) = (joint.spec(), joint.section().groove_width(Face::Far));
    let told = [(Obstacle::Bead, spec.bead), (Obstacle::Backing, spec.backing.map(|bar| bar.width))];
    for (of, width) in told {
        // Less than a micrometre is rounding.
        if let Some(width) = width.map(Millimetres::get).filter(|width| opening - width > 1e-3) {
            tell(Caution::RootTooNarrow { of, width, opening });
        }
    }
}

/// Whether the cap covers the groove.
fn of_cap(joint: &Joint, tell: &mut impl FnMut(Caution)) {
    let Some(cap) = joint.spec().cap.map(Millimetres::get) else { return };
    let section = joint.section();
    let groove = section.groove_width(Face::Near);
    if cap < groove {
        return tell(Caution::CapTooNarrow { cap, groove });
    }
    for side in [Side::A, Side::B] {
        let (cap, groove) = (section.edge(side), section.opening(side, Face::Near));
        // Less than a micrometre is rounding.
        if groove - cap > 1e-3 {
            tell(Caution::CapBesideGroove { side, cap, groove });
        }
    }
}
