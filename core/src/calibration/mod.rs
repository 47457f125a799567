//! What a probe and an instrument are calibrated with: time base, angle, reference curve, transfer, linearity; and the
//! level that a reading has by them.

pub mod angle_check;
pub mod curve;
pub mod gain_accuracy;
pub mod level;
pub mod linearity;
pub mod timebase;
pub mod transfer;
pub mod velocities;
