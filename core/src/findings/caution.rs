//! What the reader must be told beside the figures.

mod doubts;
mod of_probe;
mod of_reading;
mod told;

pub(super) use of_reading::corner_off_axis;

use super::tip::height_by;
use super::{Suspicion, point, suspicion};
use crate::curve::How;
use crate::examination::Facts;
use crate::joint::Joint;
use crate::side::{Face, Side};
use crate::technique::Grounds;
use crate::units::Millimetres;
pub use doubts::Doubts;
use of_probe::of_probe;
use of_reading::{Metal, of_reading};

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
    /// The technique sheet in force has not been held against its source.
    TechniqueNotChecked,
    /// The technique sheet in force does not ask for all that the built-in minimum does.
    LeavesOut {
        /// What it leaves out.
        grounds: Grounds,
    },
    /// Readings that rest on a calibration found out of tolerance.
    Suspect {
        /// The first of them.
        first: u32,
        /// The last of them.
        last: u32,
        /// How many they are.
        count: u32,
        /// Why.
        suspicion: Suspicion,
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
    /// One reference point serves readings at other paths.
    OnePoint {
        /// The probe, by its place.
        probe: u8,
        /// The point's path, mm.
        path: f32,
    },
    /// A corner that the beam meets outside its main lobe.
    OffAxis {
        /// The reading.
        number: u32,
        /// The ray to the corner, degrees.
        ray: f32,
        /// The beam's axis, degrees.
        axis: f32,
    },
    /// A reading that plots farther from weld and heat-affected zone than the plate is thick.
    FarFromWeld {
        /// The reading.
        number: u32,
        /// Its place across the weld, mm.
        y: f32,
    },
    /// A beam that turned at the far face beyond the step of a counterbore, worked out with the wall at the weld.
    TurnsBeyondStep {
        /// The reading.
        number: u32,
        /// Where it first turned, from the centreline, mm.
        turn: f32,
    },
    /// A level that rests on a reference outside the recorded points.
    Extended {
        /// The reading.
        number: u32,
        /// How the reference was come by.
        how: How,
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
    /// A stand-off at which the probe would stand on a cap that is not dressed flush.
    OnTheCap {
        /// The reading.
        number: u32,
        /// Its stand-off, mm.
        standoff: f32,
        /// The least one that clears the cap, mm.
        least: f32,
    },
    /// A reading from a side that the joint says cannot be reached.
    OutOfReach {
        /// The reading.
        number: u32,
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

/// Tells every caution that the facts call for. `sheet_checked` is none without a sheet in force.
pub fn cautions(facts: &Facts<'_>, sheet_checked: Option<bool>, tell: impl FnMut(Caution)) {
    let doubts = |indication| {
        let point = point(facts, indication);
        Doubts::of(point.as_ref(), height_by(facts, indication, point.as_ref()).as_ref())
    };
    cautions_with(facts, sheet_checked, doubts, tell);
}

/// The same by the doubts about each indication where they are known already.
pub fn cautions_with(
    facts: &Facts<'_>,
    sheet_checked: Option<bool>,
    doubts: impl Fn(u8) -> Doubts,
    mut tell: impl FnMut(Caution),
) {
    match sheet_checked {
        None => tell(Caution::NoSheet),
        Some(false) => tell(Caution::SheetNotChecked),
        Some(true) => {}
    }
    let technique = facts.technique();
    if !technique.is_minimum() && !technique.is_checked() {
        tell(Caution::TechniqueNotChecked);
    }
    let grounds = technique.left_out();
    if !grounds.is_empty() {
        tell(Caution::LeavesOut { grounds });
    }
    if let Some((_, joint)) = facts.common().joint.as_ref() {
        of_cap(joint, &mut tell);
    }
    for place in (0u8..=u8::MAX).take(facts.probes().len()) {
        of_probe(facts, place, &mut tell);
    }
    // Readings in a row that share a reason are told once.
    let mut run: Option<(u32, u32, u32, Suspicion)> = None;
    let metal = facts.common().joint.as_ref().map(|(_, joint)| Metal::of(joint));
    for reading in facts.readings() {
        let found = suspicion(facts, reading);
        run = match (run, found) {
            (Some((first, _, count, held)), Some(now)) if held == now => {
                Some((first, reading.number(), count.saturating_add(1), held))
            }
            (held, now) => {
                tell_run(held, &mut tell);
                now.map(|suspicion| (reading.number(), reading.number(), 1, suspicion))
            }
        };
        of_reading(facts, metal, reading, &mut tell);
    }
    tell_run(run, &mut tell);
    for indication in facts.seen() {
        let Doubts { views_disagree, heights_disagree, height_below_zero } = doubts(indication);
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

fn tell_run(run: Option<(u32, u32, u32, Suspicion)>, tell: &mut impl FnMut(Caution)) {
    if let Some((first, last, count, suspicion)) = run {
        tell(Caution::Suspect { first, last, count, suspicion });
    }
}
