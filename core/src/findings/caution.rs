//! What the reader must be told beside the figures.

use core::fmt;

use super::suspect::suspicion_of_probe;
use super::{Suspicion, evaluate, height, point, suspicion};
use crate::curve::How;
use crate::decimal::{Fixed, fixed};
use crate::examination::{Facts, Pooled};
use crate::part::Part;
use crate::side::Face;

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
    /// A level that rests on a reference outside the recorded points.
    Extended {
        /// The reading.
        number: u32,
        /// How the reference was come by.
        how: How,
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
            Caution::Probe { probe, suspicion } => {
                let name = self.facts.probe(probe).map_or("", |state| state.name().as_str());
                write!(f, "probe {name}: {suspicion}")
            }
            Caution::Extended { number, how } => {
                let way = if how == How::Held { "the end value is held" } else { "the fitted slope is used" };
                write!(f, "reading {number} lies outside the recorded reference points: {way}")
            }
            Caution::OnTheCap { number, standoff, least } => write!(
                f,
                "reading {number}: at a stand-off of {} mm the probe would stand on the cap; {} mm clears it",
                fixed(standoff),
                fixed(least)
            ),
            Caution::OutOfReach { number } => {
                write!(f, "reading {number} is from a side that the joint says cannot be reached")
            }
            Caution::BoreMissed { probe, angle, largest } => {
                let name = self.facts.probe(probe).map_or("", |state| state.name().as_str());
                write!(
                    f,
                    "probe {name}: the beam of {} deg misses the bore, which is met below {} deg; leg 2 has not been \
                     reflected there",
                    Fixed(angle, 1),
                    Fixed(largest, 2)
                )
            }
            Caution::ViewsDisagree { indication } => {
                let name = self.indication(indication);
                write!(f, "the views of indication {name} disagree by more than their uncertainty explains")
            }
            Caution::HeightBelowZero { indication } => write!(
                f,
                "the height of indication {} comes out below zero: its tips plot the wrong way round",
                self.indication(indication)
            ),
        }
    }
}

impl Told<'_> {
    fn indication(&self, place: u8) -> &str {
        self.facts.indications().get(usize::from(place)).map_or("", |name| name.as_str())
    }
}

/// Tells every caution that the facts call for. `sheet_checked` is none without a sheet in force.
pub fn cautions(facts: &Facts<'_>, sheet_checked: Option<bool>, mut tell: impl FnMut(Caution)) {
    match sheet_checked {
        None => tell(Caution::NoSheet),
        Some(false) => tell(Caution::SheetNotChecked),
        Some(true) => {}
    }
    for place in (0u8..=u8::MAX).take(facts.probes().len()) {
        if let Some(suspicion) = suspicion_of_probe(facts, place) {
            tell(Caution::Probe { probe: place, suspicion });
        }
        if let Some((angle, largest)) = bore_missed(facts, place) {
            tell(Caution::BoreMissed { probe: place, angle, largest });
        }
    }
    // Readings in a row that share a reason are told once.
    let mut run: Option<(u32, u32, u32, Suspicion)> = None;
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
        of_reading(facts, reading, &mut tell);
    }
    tell_run(run, &mut tell);
    for indication in facts.seen() {
        if point(facts, indication).is_some_and(|point| point.consistent == Some(false)) {
            tell(Caution::ViewsDisagree { indication });
        }
        if height(facts, indication).is_some_and(|found| found.height < 0.0) {
            tell(Caution::HeightBelowZero { indication });
        }
    }
}

/// A probe's angle and the largest that meets the bore, when it misses it.
fn bore_missed(facts: &Facts<'_>, probe: u8) -> Option<(f32, f32)> {
    let (_, joint) = facts.common().joint.as_ref()?;
    let axis = facts.probe(probe)?.axis()?;
    let Part::Around(pipe) = Part::of(joint)? else { return None };
    let largest = pipe.largest_angle()?;
    (axis.angle() >= largest).then(|| (axis.angle().get(), largest.get()))
}

fn tell_run(run: Option<(u32, u32, u32, Suspicion)>, tell: &mut impl FnMut(Caution)) {
    if let Some((first, last, count, suspicion)) = run {
        tell(Caution::Suspect { first, last, count, suspicion });
    }
}

fn of_reading(facts: &Facts<'_>, reading: &Pooled, tell: &mut impl FnMut(Caution)) {
    let number = reading.number();
    if let Ok(found) = evaluate(facts, reading).level
        && matches!(found.reference.how, How::Held | How::Sloped)
    {
        tell(Caution::Extended { number, how: found.reference.how });
    }
    let Some((_, joint)) = facts.common().joint.as_ref() else { return };
    if !joint.spec().reach.allows(reading.side()) {
        tell(Caution::OutOfReach { number });
    }
    let front = facts.probe(reading.probe()).and_then(|state| state.probe()).and_then(|probe| probe.front());
    let crowned = reading.face() == Face::Near && !joint.is_flush();
    if let (Some(cap), Some(front), true) = (joint.spec().cap, front, crowned) {
        let (standoff, least) = (reading.standoff().get(), cap.get() / 2.0 + front.get());
        if standoff < least {
            tell(Caution::OnTheCap { number, standoff, least });
        }
    }
}
