//! Cautions in words.

use core::fmt;

mod readings;

use super::{Caution, Entries, Voided, Wide};
use crate::part::joint::Obstacle;
use crate::record::examination::Facts;
use crate::units::decimal::{Fixed, fixed};

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
            Caution::RowsNeverHold { rows } => write!(
                f,
                "{} of the sheet can never hold: what comes before covers {}",
                rows.of_a("row"),
                if rows.is_one() { "it" } else { "them" }
            ),
            Caution::TechniqueNotChecked => f.write_str("technique sheet not checked against its source"),
            Caution::TechniqueLeavesOut { grounds } => {
                write!(
                    f,
                    "the technique sheet leaves out what the built-in minimum asks for before an accept: {grounds}"
                )
            }
            Caution::Wide(wide) => self.wide(wide, f),
            Caution::Readings { readings, shared } => {
                readings::Told { readings: &readings, shared: &shared, facts: self.facts }.fmt(f)
            }
            Caution::Voided { entries, what, by } => self.voided(&entries, what, by, f),
            Caution::TransferUnusual { probe, surface } => write!(
                f,
                "probe {}: its transfer correction of {} dB at the surface is beyond the usual -2 to 6 dB: block and part may \
                 be exchanged, or the coupling poor",
                self.probe(probe),
                Fixed(surface, 1)
            ),
            Caution::TransferSlopes { probe, by, path } => write!(
                f,
                "probe {}: its transfer correction changes by {} dB to the longest path read, {} mm",
                self.probe(probe),
                Fixed(by, 1),
                Fixed(path, 1)
            ),
            Caution::PointsApart { probe, from, to, ratio } => write!(
                f,
                "probe {}: the paths of the reference points of entries {from} and {to} are as 1 to {}: levels between them \
                 read low",
                self.probe(probe),
                Fixed(ratio, 1)
            ),
            Caution::Probe { probe, suspicion } => write!(f, "probe {}: {suspicion}", self.probe(probe)),
            Caution::SpeedDiffers { probe, base, material } => write!(
                f,
                "probe {}: its time base runs at {} mm/us, the material at {} mm/us: paths and angle are brought to the \
                 part by that ratio; make sure that the material is the part's",
                self.probe(probe),
                Fixed(base, 3),
                Fixed(material, 3)
            ),
            Caution::BlockTemperature { probe, turned } => write!(
                f,
                "probe {}: its angle is used as it was measured, on a block whose temperature is not recorded (at=); from the \
                 marked temperature to that of use its wedge turns the beam by {} deg",
                self.probe(probe),
                Fixed(turned, 1)
            ),
            Caution::NoBeam { probe, why } => {
                write!(f, "probe {}: its beam does not exist in the part: {why}", self.probe(probe))
            }
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
            Caution::RootTooNarrow { of, width, opening } => write!(
                f,
                "the {} of {} mm is narrower than the weld at the far face, {} mm open: coverage and expected echoes count \
                 on one of them",
                if of == Obstacle::Backing { "backing bar" } else { "bead" },
                Fixed(width, 1),
                Fixed(opening, 1)
            ),
            Caution::OnePoint { probe, path } => write!(
                f,
                "probe {} has one reference point, at a path of {} mm: levels of readings at other paths are not \
                 corrected for distance",
                self.probe(probe),
                Fixed(path, 1)
            ),
            Caution::TransferExtended { probe, first, count, up_to } => write!(
                f,
                "probe {}: its transfer correction was measured up to a path of {} mm and is carried on beyond it; {count} \
                 of its readings lie{} there, the first in entry {first}",
                self.probe(probe),
                Fixed(up_to, 1),
                if count == 1 { "s" } else { "" }
            ),
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
    fn wide(&self, wide: Wide, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (budget, limits) = (&self.facts.common().budget, &self.facts.common().check_limits);
        let parts = [
            (wide.angle, "angle", budget.angle.get(), "deg"),
            (wide.path, "path", budget.path.get(), "mm"),
            (wide.index, "index", budget.index.get(), "mm"),
            (wide.standoff, "standoff", budget.standoff.get(), "mm"),
            (wide.thickness, "thickness", budget.thickness.get(), "mm"),
            (wide.height, "height", budget.height.get(), "%"),
            (wide.range, "range of checks", limits.range.get(), "%"),
            (wide.sensitivity, "sensitivity of checks", limits.sensitivity.get(), "dB"),
        ];
        let mut between = "tolerance wider than usual: ";
        for (_, what, value, unit) in parts.into_iter().filter(|(wide, ..)| *wide) {
            write!(f, "{between}{what} {} {unit}", fixed(value))?;
            between = ", ";
        }
        Ok(())
    }

    fn voided(&self, entries: &Entries, what: Voided, by: u32, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let were = if entries.is_one() { "was" } else { "were" };
        match what {
            Voided::Check => write!(f, "{} {were} voided", entries.of_a("check"))?,
            Voided::FailedCheck => {
                write!(f, "{}, not within the limits, {were} voided", entries.of_a("check"))?;
            }
            Voided::Calibration => write!(f, "{} of a calibration {were} voided", entries.of_a("entry"))?,
            Voided::Joint => {
                write!(f, "the joint of {} was voided after readings", entries.of_a("entry"))?;
            }
            Voided::Sheet => write!(f, "the sheet of {} {were} voided", entries.of_a("entry"))?,
            Voided::Reading => write!(
                f,
                "{}, which the sheet would not plainly accept by level alone, {were} voided",
                entries.of_a("reading")
            )?,
        }
        match self.facts.void_reason(by) {
            Some(reason) => write!(f, ": \"{reason}\""),
            None => Ok(()),
        }
    }

    fn probe(&self, place: u8) -> &str {
        self.facts.probe(place).map_or("", |state| state.name().as_str())
    }

    fn indication(&self, place: u8) -> &str {
        self.facts.name(place)
    }
}
