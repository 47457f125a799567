//! What is in force for one probe: its make-up, its calibration, its gain line.

mod in_part;

use heapless::Vec;

use super::Refusal;
use super::references::{ReferencePoint, References};
use super::refusal::as_many;
use crate::calibration::angle_check::AngleCheck;
use crate::calibration::curve::{Beyond, CurvePoint, Dac, DacPoint};
use crate::calibration::timebase::{TimeBase, TimeBaseFit};
use crate::calibration::transfer::{Shot, Transfer};
use crate::calibration::velocities::Velocities;
use crate::part::path::Axis;
use crate::physics::probe::{Probe, ProbeSpec, WedgeTemperature};
use crate::physics::refraction::RefractionError;
use crate::record::entry::{Name, ProbeEntry, Shots, TimebaseKnown};
use crate::units::decimal::Entered;
use crate::units::limits;
use crate::units::{Decibels, Degrees, Millimetres, ScreenPercent};

/// Side-drilled holes of one probe's angle check.
pub const HOLES: usize = 12;

/// An angle that was stated, not measured.
#[derive(Clone)]
struct StatedAngle {
    number: u32,
    angle: Degrees,
    index: Option<Millimetres>,
}

/// One probe as the entries make it.
#[derive(Clone)]
pub struct ProbeState {
    name: Name,
    probe: Option<(u32, Probe)>,
    holes: Vec<(Millimetres, Millimetres), HOLES>,
    /// The first and the last entry of the holes.
    hole_entries: Option<(u32, u32)>,
    angle_check: Option<AngleCheck>,
    stated: Option<StatedAngle>,
    /// Temperature of the block that the angle was measured on, or is stated for, degrees Celsius.
    block_at: Option<f32>,
    axis: Option<Axis>,
    no_beam: Option<RefractionError>,
    velocities: Option<Velocities>,
    dac: Dac,
    references: References,
    beyond: Beyond,
    timebase: Option<(u32, bool, TimeBaseFit)>,
    transfer: Option<(u32, bool, Transfer)>,
    margin: Option<Decibels>,
    remade: Option<u32>,
}

impl ProbeState {
    pub(super) fn new(name: Name, reference: ScreenPercent) -> Self {
        Self {
            name,
            probe: None,
            holes: Vec::new(),
            hole_entries: None,
            angle_check: None,
            stated: None,
            block_at: None,
            axis: None,
            no_beam: None,
            velocities: None,
            dac: Dac::new(reference),
            references: References::new(),
            beyond: Beyond::Refuse,
            timebase: None,
            transfer: None,
            margin: None,
            remade: None,
        }
    }

    /// The same name with nothing in force.
    pub(super) fn forget(&mut self, reference: ScreenPercent) {
        *self = Self::new(self.name.clone(), reference);
    }

    /// Keeps in mind that references stand which were recorded with another probe of this name.
    pub(super) fn remake(&mut self, number: u32) {
        let references = self.dac.points().len() > 0
            || self.timebase.is_some()
            || self.transfer.is_some()
            || self.stated.is_some()
            || !self.holes.is_empty();
        if references {
            self.remade = Some(number);
        }
    }

    pub(super) fn declare(&mut self, number: u32, entry: &ProbeEntry) -> Result<(), Refusal> {
        if let Some((holder, _)) = self.probe {
            return Err(Refusal::InForce { what: "this probe", number: holder });
        }
        let probe = Probe::new(spec(entry)?).map_err(Refusal::Probe)?;
        self.probe = Some((number, probe));
        Ok(())
    }

    pub(super) fn add_hole(
        &mut self,
        number: u32,
        depth: Millimetres,
        distance: Millimetres,
        at: Option<f32>,
    ) -> Result<(), Refusal> {
        if let Some(stated) = &self.stated {
            return Err(Refusal::InForce { what: "the stated angle of this probe", number: stated.number });
        }
        if let Some((number, _)) = self.hole_entries.filter(|_| self.block_at != at) {
            return Err(Refusal::BlockTemperature { number });
        }
        let full = Refusal::Full { what: "holes of an angle check", capacity: HOLES as u32 };
        self.holes.push((depth, distance)).map_err(|_| full)?;
        let fitted = AngleCheck::fit(&self.holes).map_err(Refusal::Angle).and_then(|check| {
            Axis::new(check.angle())?;
            Ok(check)
        });
        match fitted {
            Ok(check) => {
                (self.angle_check, self.block_at) = (Some(check), at);
                let first = self.hole_entries.map_or(number, |(first, _)| first);
                self.hole_entries = Some((first, number));
                Ok(())
            }
            Err(refusal) => {
                let _ = self.holes.pop();
                Err(refusal)
            }
        }
    }

    pub(super) fn state_angle(
        &mut self,
        number: u32,
        angle: Degrees,
        index: Option<Millimetres>,
        at: Option<f32>,
    ) -> Result<(), Refusal> {
        if let Some(stated) = &self.stated {
            return Err(Refusal::InForce { what: "the stated angle of this probe", number: stated.number });
        }
        if let Some((first, _)) = self.hole_entries {
            return Err(Refusal::InForce { what: "the measured angle of this probe", number: first });
        }
        Axis::new(angle)?;
        self.block_at = at;
        self.stated = Some(StatedAngle { number, angle, index });
        Ok(())
    }

    pub(super) fn add_reference(
        &mut self,
        number: u32,
        point: DacPoint,
        hole: Option<Millimetres>,
    ) -> Result<(), Refusal> {
        self.references.fits(hole)?;
        let place = self.dac.points().filter(|held| held.path < point.path).count();
        self.dac.insert(point).map_err(Refusal::Curve)?;
        self.references.insert(place, number, hole);
        Ok(())
    }

    pub(super) fn set_beyond(&mut self, beyond: Beyond) {
        self.beyond = beyond;
    }

    pub(super) fn set_margin(&mut self, margin: Decibels) {
        self.margin = Some(margin);
    }

    pub(super) fn set_timebase(&mut self, number: u32, how: &TimebaseKnown) -> Result<(), Refusal> {
        if let Some((holder, ..)) = self.timebase {
            return Err(Refusal::InForce { what: "the time base of this probe", number: holder });
        }
        self.timebase = Some(match how {
            TimebaseKnown::Echoes { path, time } => {
                as_many(path.len(), "count of times", time.len())?;
                let mut echoes: Vec<_, { crate::record::entry::MAX_ECHOES }> = Vec::new();
                for (path, time) in path.iter().zip(time) {
                    // The list has the capacity of the entry's own.
                    let _ = echoes.push((path.quantity(), time.quantity()));
                }
                (number, false, TimeBase::fit(&echoes).map_err(Refusal::Timebase)?)
            }
            TimebaseKnown::Stated { velocity, delay } => {
                let delay = delay.within(limits::DELAY)?;
                let base = TimeBase { velocity: velocity.quantity(), delay };
                (number, true, TimeBaseFit::stated(base))
            }
        });
        Ok(())
    }

    pub(super) fn set_transfer(&mut self, number: u32, shots: &Shots) -> Result<(), Refusal> {
        if let Some((holder, ..)) = self.transfer {
            return Err(Refusal::InForce { what: "the transfer correction of this probe", number: holder });
        }
        let (stated, transfer) = match shots {
            Shots::Fixed(gain) => (true, Transfer::fixed(gain.quantity())),
            Shots::Lines { block, part } => {
                let list = |pairs: &[crate::record::entry::Calibrated]| {
                    let mut shots: Vec<Shot, { crate::record::entry::MAX_SHOTS }> = Vec::new();
                    for (path, gain) in pairs {
                        let _ = shots.push(Shot { path: path.quantity(), gain: gain.quantity() });
                    }
                    shots
                };
                (false, Transfer::lines(&list(block), &list(part)).map_err(Refusal::Transfer)?)
            }
        };
        self.transfer = Some((number, stated, transfer));
        Ok(())
    }

    /// Its name.
    #[must_use]
    pub const fn name(&self) -> &Name {
        &self.name
    }

    /// The probe, unless its entry was voided.
    #[must_use]
    pub fn probe(&self) -> Option<&Probe> {
        self.probe.as_ref().map(|(_, probe)| probe)
    }

    /// The beam's axis in the part, at the stated or measured angle, else at the angle of use; none while the probe is
    /// voided, and where the beam does not exist in the part.
    #[must_use]
    pub const fn axis(&self) -> Option<&Axis> {
        self.axis.as_ref()
    }

    /// The angle check, when holes were peaked.
    #[must_use]
    pub const fn angle_check(&self) -> Option<&AngleCheck> {
        self.angle_check.as_ref()
    }

    /// The peaked holes: depth of the centre, surface distance.
    #[must_use]
    pub fn holes(&self) -> &[(Millimetres, Millimetres)] {
        &self.holes
    }

    /// The first and the last entry of the peaked holes.
    #[must_use]
    pub const fn angle_entries(&self) -> Option<(u32, u32)> {
        self.hole_entries
    }

    /// The stated angle with its entry, when it was stated and not measured.
    #[must_use]
    pub fn angle_stated(&self) -> Option<(u32, Degrees)> {
        self.stated.as_ref().map(|stated| (stated.number, stated.angle))
    }

    /// The stated index point, ahead of the mark, when one was stated.
    #[must_use]
    pub fn index_stated(&self) -> Option<Millimetres> {
        self.stated.as_ref().and_then(|stated| stated.index)
    }

    /// How far the true index point lies ahead of the mark; 0 until two holes or a statement tell.
    #[must_use]
    pub fn index(&self) -> Millimetres {
        const NONE: Millimetres = Millimetres::constant(0.0);
        let measured = || self.angle_check.as_ref().and_then(AngleCheck::index);
        self.index_stated().or_else(measured).unwrap_or(NONE)
    }

    /// The gain line.
    #[must_use]
    pub const fn dac(&self) -> &Dac {
        &self.dac
    }

    /// The points of the gain line in order of path, with their entries and holes.
    pub fn reference_points(&self) -> impl Iterator<Item = ReferencePoint> + Clone + '_ {
        self.dac
            .points()
            .zip(self.references.iter())
            .map(|(CurvePoint { path, gain }, (number, hole))| ReferencePoint { number, path, gain, hole })
    }

    /// What holds outside it.
    #[must_use]
    pub const fn beyond(&self) -> Beyond {
        self.beyond
    }

    /// The time base.
    #[must_use]
    pub fn timebase(&self) -> Option<&TimeBaseFit> {
        self.timebase.as_ref().map(|(.., fit)| fit)
    }

    /// The entry of the time base, and whether it was stated and not measured.
    #[must_use]
    pub fn timebase_entry(&self) -> Option<(u32, bool)> {
        self.timebase.as_ref().map(|(number, stated, _)| (*number, *stated))
    }

    /// The transfer correction; none recorded counts as 0 dB.
    #[must_use]
    pub fn transfer(&self) -> Option<&Transfer> {
        self.transfer.as_ref().map(|(.., transfer)| transfer)
    }

    /// The entry of the transfer correction, and whether it was stated and not measured.
    #[must_use]
    pub fn transfer_entry(&self) -> Option<(u32, bool)> {
        self.transfer.as_ref().map(|(number, stated, _)| (*number, *stated))
    }

    /// The entry that declared this probe as one that sounds otherwise than the voided one whose references still stand.
    #[must_use]
    pub const fn remade(&self) -> Option<u32> {
        self.remade
    }

    /// The scanning margin.
    #[must_use]
    pub const fn margin(&self) -> Option<Decibels> {
        self.margin
    }
}

fn spec(entry: &ProbeEntry) -> Result<ProbeSpec, Refusal> {
    let temperature = match entry.heat {
        Some(heat) => {
            Some(WedgeTemperature::new(heat.slope.value(), heat.marked_at.value(), heat.at.value())?)
        }
        None => None,
    };
    Ok(ProbeSpec {
        angle: entry.angle.quantity(),
        frequency: entry.frequency.quantity(),
        element: entry.element.map(Entered::quantity),
        front: entry.front.map(Entered::quantity),
        wedge: entry.wedge.map(Entered::quantity),
        wedge_path: entry.wedge_path.map(Entered::quantity),
        temperature,
    })
}
