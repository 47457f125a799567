//! What is in force for one probe: its make-up, its calibration, its gain line.

use heapless::Vec;

use super::Refusal;
use super::refusal::as_many;
use crate::anglecheck::AngleCheck;
use crate::curve::{Beyond, Dac, DacPoint};
use crate::entry::{ElementEntry, Name, ProbeEntry, Shots, TimebaseEntry};
use crate::error::RangeError;
use crate::path::Axis;
use crate::probe::{Element, Probe, ProbeSpec, WedgeTemperature};
use crate::timebase::{TimeBase, TimeBaseFit};
use crate::transfer::{Shot, Transfer};
use crate::units::{Decibels, Millimetres, ScreenPercent};

/// Side-drilled holes of one probe's angle check.
pub const HOLES: usize = 12;

/// One probe as the entries make it.
#[derive(Clone)]
pub struct ProbeState {
    name: Name,
    probe: Option<(u32, Probe)>,
    holes: Vec<(Millimetres, Millimetres), HOLES>,
    angle_check: Option<AngleCheck>,
    axis: Option<Axis>,
    dac: Dac,
    beyond: Beyond,
    timebase: Option<(u32, TimeBaseFit)>,
    transfer: Option<(u32, Transfer)>,
    margin: Option<Decibels>,
    remade: Option<u32>,
}

impl ProbeState {
    pub(super) fn new(name: Name, reference: ScreenPercent) -> Self {
        Self {
            name,
            probe: None,
            holes: Vec::new(),
            angle_check: None,
            axis: None,
            dac: Dac::new(reference),
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
        self.axis = Some(self.axis_of(&probe, self.angle_check.as_ref())?);
        self.probe = Some((number, probe));
        Ok(())
    }

    /// The measured angle when holes were peaked, else the angle of use.
    fn axis_of(&self, probe: &Probe, check: Option<&AngleCheck>) -> Result<Axis, RangeError> {
        Axis::new(check.map_or(probe.refracted(), AngleCheck::angle))
    }

    pub(super) fn add_hole(&mut self, depth: Millimetres, distance: Millimetres) -> Result<(), Refusal> {
        let full = Refusal::Full { what: "holes of an angle check", capacity: HOLES as u32 };
        self.holes.push((depth, distance)).map_err(|_| full)?;
        let fitted = AngleCheck::fit(&self.holes).map_err(Refusal::Angle).and_then(|check| {
            let axis = self.probe.as_ref().map(|(_, probe)| self.axis_of(probe, Some(&check))).transpose()?;
            Ok((check, axis))
        });
        match fitted {
            Ok((check, axis)) => {
                (self.angle_check, self.axis) = (Some(check), axis);
                Ok(())
            }
            Err(refusal) => {
                let _ = self.holes.pop();
                Err(refusal)
            }
        }
    }

    pub(super) fn add_reference(&mut self, point: DacPoint) -> Result<(), Refusal> {
        self.dac.insert(point).map_err(Refusal::Curve)
    }

    pub(super) fn set_beyond(&mut self, beyond: Beyond) {
        self.beyond = beyond;
    }

    pub(super) fn set_margin(&mut self, margin: Decibels) {
        self.margin = Some(margin);
    }

    pub(super) fn set_timebase(&mut self, number: u32, entry: &TimebaseEntry) -> Result<(), Refusal> {
        if let Some((holder, _)) = self.timebase {
            return Err(Refusal::InForce { what: "the time base of this probe", number: holder });
        }
        as_many(entry.path.len(), "count of times", entry.time.len())?;
        let mut echoes: Vec<_, { crate::entry::MAX_ECHOES }> = Vec::new();
        for (path, time) in entry.path.iter().zip(&entry.time) {
            // The list has the capacity of the entry's own.
            let _ = echoes.push((path.quantity(), time.quantity()));
        }
        self.timebase = Some((number, TimeBase::fit(&echoes).map_err(Refusal::Timebase)?));
        Ok(())
    }

    pub(super) fn set_transfer(&mut self, number: u32, shots: &Shots) -> Result<(), Refusal> {
        if let Some((holder, _)) = self.transfer {
            return Err(Refusal::InForce { what: "the transfer correction of this probe", number: holder });
        }
        let transfer = match shots {
            Shots::Fixed(gain) => Transfer::fixed(gain.quantity()),
            Shots::Lines { block, part } => {
                let list = |pairs: &[crate::entry::Calibrated]| {
                    let mut shots: Vec<Shot, { crate::entry::MAX_SHOTS }> = Vec::new();
                    for (path, gain) in pairs {
                        let _ = shots.push(Shot { path: path.quantity(), gain: gain.quantity() });
                    }
                    shots
                };
                Transfer::lines(&list(block), &list(part)).map_err(Refusal::Transfer)?
            }
        };
        self.transfer = Some((number, transfer));
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

    /// The beam's axis at the measured angle, else at the angle of use; none while the probe is voided.
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

    /// How far the true index point lies ahead of the mark; 0 until two holes tell.
    #[must_use]
    pub fn index(&self) -> Millimetres {
        const NONE: Millimetres = Millimetres::constant(0.0);
        self.angle_check.as_ref().and_then(AngleCheck::index).unwrap_or(NONE)
    }

    /// The gain line.
    #[must_use]
    pub const fn dac(&self) -> &Dac {
        &self.dac
    }

    /// What holds outside it.
    #[must_use]
    pub const fn beyond(&self) -> Beyond {
        self.beyond
    }

    /// The time base.
    #[must_use]
    pub fn timebase(&self) -> Option<&TimeBaseFit> {
        self.timebase.as_ref().map(|(_, fit)| fit)
    }

    /// The transfer correction; none recorded counts as 0 dB.
    #[must_use]
    pub fn transfer(&self) -> Option<&Transfer> {
        self.transfer.as_ref().map(|(_, transfer)| transfer)
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
        element: match entry.element {
            ElementEntry::Round(diameter) => Element::Round { diameter: diameter.quantity() },
            ElementEntry::Rectangular(in_plane, across) => {
                Element::Rectangular { in_plane: in_plane.quantity(), across: across.quantity() }
            }
        },
        front: entry.front.map(crate::decimal::Entered::quantity),
        wedge: entry.wedge.map(crate::decimal::Entered::quantity),
        wedge_path: entry.wedge_path.map(crate::decimal::Entered::quantity),
        temperature,
    })
}
