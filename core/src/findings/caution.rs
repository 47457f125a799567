//! What the reader must be told beside the figures.

use core::fmt;

mod doubts;
mod of_probe;
mod of_reading;

pub(super) use of_reading::corner_off_axis;

use super::tip::height_by;
use super::{Suspicion, point, suspicion};
use crate::curve::How;
use crate::decimal::{Fixed, fixed};
use crate::examination::Facts;
use crate::side::Face;
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
    /// The cap is told narrower than the groove that it closes.
    CapTooNarrow {
        /// Width of the cap, mm.
        cap: f32,
        /// Opening of the groove at the scanned face, mm.
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

impl Caution {
    /// The caution in words, with the names that the facts hold.
    #[must_use]
    pub const fn told<'a>(&'a self, facts: &'a Facts<'a>) -> impl fmt::Display + 'a {
        Told { caution: self, facts }
    }
}

struct Told<'a> {
    caution: &'a Caution,
    facts: &'a Facts<'a>,
}

impl fmt::Display for Told<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self.caution {
            Caution::NoSheet => {
                f.write_str("no criteria sheet is in force: nothing was held against a criterion")
            }
            Caution::SheetNotChecked => f.write_str("sheet not checked against its source"),
            Caution::Suspect { first, last, count, suspicion } if count > 1 => {
                write!(f, "{count} readings, entries {first} to {last}, are suspect: {suspicion}")
            }
            Caution::Suspect { first, suspicion, .. } => write!(f, "reading {first} is suspect: {suspicion}"),
            Caution::Probe { probe, suspicion } => write!(f, "probe {}: {suspicion}", self.probe(probe)),
            Caution::SpeedDiffers { probe, base, material } => write!(
                f,
                "probe {}: its time base runs at {} mm/us, the material at {} mm/us; paths from times may be wrong by \
                 as much, or the material is another",
                self.probe(probe),
                Fixed(base, 3),
                Fixed(material, 3)
            ),
            Caution::NotRecorded { probe, angle, timebase, transfer } => {
                write!(f, "probe {}: not recorded:", self.probe(probe))?;
                let parts = [
                    (angle, " its true angle, so that the nominal one is used"),
                    (timebase, " its time base, so that paths are taken as shown"),
                    (transfer, " a transfer correction, so that 0 dB is used"),
                ];
                let mut told = parts.iter().filter(|(missing, _)| *missing).map(|(_, part)| *part);
                f.write_str(told.next().unwrap_or(""))?;
                told.try_for_each(|part| write!(f, ";{part}"))
            }
            Caution::VelocityNotCounted { probe, half_width } => write!(
                f,
                "probe {}: the half width of the velocity, {} mm/us, is in none of its uncertainties: neither its time \
                 base nor the material is recorded",
                self.probe(probe),
                Fixed(half_width, 3)
            ),
            Caution::CapTooNarrow { cap, groove } => write!(
                f,
                "the cap of {} mm is narrower than the groove, {} mm open at the scanned face: coverage and stand-offs \
                 count on one of them",
                Fixed(cap, 1),
                Fixed(groove, 1)
            ),
            Caution::OnePoint { probe, path } => write!(
                f,
                "probe {} has one reference point, at a path of {} mm: levels of readings at other paths are not \
                 corrected for distance",
                self.probe(probe),
                Fixed(path, 1)
            ),
            Caution::OffAxis { number, ray, axis } => write!(
                f,
                "reading {number}: path and thickness put its corner on a ray of {} deg, outside the main lobe about \
                 {} deg; it may be no corner, or the thickness another",
                Fixed(ray, 1),
                Fixed(axis, 1)
            ),
            Caution::FarFromWeld { number, y } => write!(
                f,
                "reading {number} plots {} mm from the centreline, far outside the weld: stand-off, side or path may \
                 be wrong, or it is not of this weld",
                Fixed(y.abs(), 1)
            ),
            Caution::TurnsBeyondStep { number, turn } => write!(
                f,
                "reading {number}: the beam first turned {} mm from the centreline, beyond the step of the \
                 counterbore, where the wall is thicker than the one it was worked out with",
                Fixed(turn.abs(), 1)
            ),
            Caution::Extended { number, how } => {
                let way = if how == How::Held { "the end value is held" } else { "the fitted slope is used" };
                write!(f, "reading {number} lies outside the recorded reference points: {way}")
            }
            Caution::TransferExtended { probe, first, count, up_to } => write!(
                f,
                "probe {}: its transfer correction was measured up to a path of {} mm and is carried on beyond it; {count} \
                 of its readings lie{} there, the first in entry {first}",
                self.probe(probe),
                Fixed(up_to, 1),
                if count == 1 { "s" } else { "" }
            ),
            Caution::OnTheCap { number, standoff, least } => write!(
                f,
                "reading {number}: at a stand-off of {} mm the probe would stand on the cap; {} mm clears it",
                fixed(standoff),
                fixed(least)
            ),
            Caution::OutOfReach { number } => {
                write!(f, "reading {number} is from a side that the joint says cannot be reached")
            }
            Caution::BoreMissed { probe, angle, largest } => write!(
                f,
                "probe {}: the beam of {} deg misses the bore, which is met below {} deg; leg 2 has not been \
                 reflected there",
                self.probe(probe),
                Fixed(angle, 1),
                Fixed(largest, 2)
            ),
            Caution::ViewsDisagree { indication } => {
                let name = self.indication(indication);
                write!(f, "the views of indication {name} disagree by more than their uncertainty explains")
            }
            Caution::HeightsDisagree { indication } => write!(
                f,
                "the observations of the height of indication {} disagree by more than their uncertainty explains: no \
                 height is told",
                self.indication(indication)
            ),
            Caution::HeightBelowZero { indication } => write!(
                f,
                "the height of indication {} comes out below zero: its tips plot the wrong way round",
                self.indication(indication)
            ),
        }
    }
}

impl Told<'_> {
    fn probe(&self, place: u8) -> &str {
        self.facts.probe(place).map_or("", |state| state.name().as_str())
    }

    fn indication(&self, place: u8) -> &str {
        self.facts.indications().get(usize::from(place)).map_or("", |name| name.as_str())
    }
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
    if let Some((_, joint)) = facts.common().joint.as_ref() {
        let (cap, groove) = (joint.spec().cap, joint.section().groove_width(Face::Near));
        if let Some(cap) = cap.map(Millimetres::get).filter(|cap| *cap < groove) {
            tell(Caution::CapTooNarrow { cap, groove });
        }
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

fn tell_run(run: Option<(u32, u32, u32, Suspicion)>, tell: &mut impl FnMut(Caution)) {
    if let Some((first, last, count, suspicion)) = run {
        tell(Caution::Suspect { first, last, count, suspicion });
    }
}
