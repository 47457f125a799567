//! Cautions in words.

use core::fmt;

use super::Caution;
use crate::curve::How;
use crate::decimal::{Fixed, fixed};
use crate::examination::Facts;

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
            Caution::TechniqueNotChecked => f.write_str("technique sheet not checked against its source"),
            Caution::LeavesOut { grounds } => write!(
                f,
                "the technique sheet leaves out what the built-in minimum asks for before an accept: {grounds}"
            ),
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
            Caution::CalibratedAnew { probe, entry, reading } => write!(
                f,
                "probe {}: its calibration was made anew by entry {entry}, after reading {reading}, which is worked out with \
                 it",
                self.probe(probe)
            ),
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
            Caution::CapBesideGroove { side, cap, groove } => write!(
                f,
                "the cap ends {} mm from the centreline on side {}, over the groove, which is open to {} mm there: \
                 coverage and stand-offs count on one of them",
                Fixed(cap, 1),
                side.letter(),
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
        self.facts.name(place)
    }
}
