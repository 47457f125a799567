//! The beam of a probe brought from the block that it was measured on to the part: by velocities and by warmth.

use super::ProbeState;
use crate::calibration::angle_check::AngleCheck;
use crate::calibration::velocities::{PartVelocity, Velocities};
use crate::part::path::Axis;
use crate::physics::probe::Probe;
use crate::physics::refraction::{RefractionError, remarked};
use crate::units::Degrees;

/// A wedge that turns the beam by less than this may be measured at any temperature. Ours: a quarter of the half width
/// that angles have by default.
const TURNED: Degrees = Degrees::constant(0.5);

impl ProbeState {
    /// Brings the beam to the part: its angle and the ratio of the paths, by what is in force.
    pub(in crate::record::examination) fn aim(&mut self, part: Option<PartVelocity>) {
        let block = self.timebase().map(|fit| fit.base().velocity);
        self.velocities = block.zip(part).and_then(|(block, part)| Velocities::of(block, part));
        let axis = self.probe().map(|probe| Ok(Axis::new(self.brought(probe)?)?));
        (self.axis, self.no_beam) = match axis {
            Some(Ok(axis)) => (Some(axis), None),
            Some(Err(error)) => (None, Some(error)),
            None => (None, None),
        };
    }

    /// The angle in the part: the stated one, or the measured one when holes were peaked, else the angle of use.
    fn brought(&self, probe: &Probe) -> Result<Degrees, RefractionError> {
        let (on_block, warmth) = match (self.angle_on_block(), self.block_at) {
            (Some(on_block), Some(at)) => (on_block, probe.warmth(at)?),
            (on_block, _) => (on_block.unwrap_or(probe.refracted()), 1.0),
        };
        match &self.velocities {
            Some(velocities) => velocities.angle(on_block, warmth),
            None if warmth != 1.0 => remarked(on_block, warmth),
            None => Ok(on_block),
        }
    }

    /// The stated angle, or the measured one when holes were peaked; of the block, and at its temperature.
    #[must_use]
    pub fn angle_on_block(&self) -> Option<Degrees> {
        let measured = || self.angle_check.as_ref().map(AngleCheck::angle);
        self.stated.as_ref().map(|stated| stated.angle).or_else(measured)
    }

    /// The temperature of the block that the angle was measured on, or is stated for, degrees Celsius; none where it is not
    /// recorded.
    #[must_use]
    pub const fn block_at(&self) -> Option<f32> {
        self.block_at
    }

    /// The stated or measured angle brought to the temperature that the nominal one holds at, to be compared with it; as
    /// measured where the block's temperature or the wedge's behaviour is not known.
    #[must_use]
    pub fn angle_as_marked(&self) -> Option<Degrees> {
        let on_block = self.angle_on_block()?;
        let marked = self.probe().zip(self.block_at).map(|(probe, at)| probe.as_marked(on_block, at));
        // Without a beam at the marked temperature what was measured is all that can be compared.
        Some(marked.and_then(Result::ok).unwrap_or(on_block))
    }

    /// How far the wedge turns the beam from the marked temperature to that of use, degrees, where the angle in use was
    /// measured or stated without the temperature of its block and is none the less used as it is.
    #[must_use]
    pub fn turned_untold(&self) -> Option<f32> {
        let probe = self.probe().filter(|_| self.block_at.is_none() && self.angle_on_block().is_some())?;
        let turned = (probe.refracted().get() - probe.nominal().get()).abs();
        (turned > TURNED.get()).then_some(turned)
    }

    /// Why a probe in force has no beam in the part.
    #[must_use]
    pub const fn no_beam(&self) -> Option<RefractionError> {
        self.no_beam
    }

    /// The velocities of the block, by the time base, and of the part, by the material; none where they are the same or one
    /// of them is not recorded.
    #[must_use]
    pub const fn velocities(&self) -> Option<&Velocities> {
        self.velocities.as_ref()
    }
}
