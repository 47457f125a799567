//! What turns a beam: the part's material, and the angle that was measured on a block or stated.

use super::Settings;
use crate::calibration::velocities::PartVelocity;
use crate::physics::material::{self, Material};
use crate::record::entry::{AngleEntry, AngleKnown, MaterialEntry, Name};
use crate::record::examination::Refusal;
use crate::units::limits;

impl Settings {
    /// Brings the beam of a probe to the part.
    pub(super) fn aim(&mut self, name: &Name) {
        let part = self.common.part_velocity;
        if let Ok(state) = self.state(name) {
            state.aim(part);
        }
    }

    pub(super) fn apply_angle(&mut self, entry: &AngleEntry, number: u32) -> Result<(), Refusal> {
        let state = self.state(&entry.probe)?;
        let at = entry.at.map(|at| limits::TEMPERATURE.check(at.value())).transpose()?;
        match &entry.how {
            AngleKnown::Hole { depth, distance } => {
                state.add_hole(number, depth.within(limits::DEPTH)?, distance.within(limits::DISTANCE)?, at)
            }
            AngleKnown::Stated { angle, index } => {
                let index = index.map(|index| index.within(limits::INDEX)).transpose()?;
                state.state_angle(number, angle.within(limits::ANGLE)?, index, at)
            }
        }
    }

    pub(super) fn apply_material(&mut self, entry: &MaterialEntry, number: u32) -> Result<(), Refusal> {
        if let Some((holder, _)) = self.common.material {
            return Err(Refusal::InForce { what: "the material", number: holder });
        }
        let material = match (entry.shear, material::preset(&entry.name)) {
            (Some(shear), _) => {
                let longitudinal = entry.longitudinal.map(crate::units::decimal::Entered::quantity);
                Material::new(shear.quantity(), longitudinal, None).map_err(Refusal::Material)?
            }
            (None, Some(preset)) => preset.material,
            (None, None) => return Err(Refusal::UnknownMaterial(entry.name.clone())),
        };
        let material = match entry.attenuation {
            Some(attenuation) => material.with_attenuation(attenuation.quantity()),
            None => material,
        };
        self.common.material = Some((number, material));
        let part = PartVelocity { shear: material.shear(), of_table: entry.shear.is_none() };
        self.common.part_velocity = Some(part);
        self.probes.iter_mut().for_each(|state| state.aim(Some(part)));
        Ok(())
    }
}
