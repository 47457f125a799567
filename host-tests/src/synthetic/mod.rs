//! Sweeps of invented reflectors of known truth, made by a model that shares nothing with the evaluation.
//!
//! Every reflector is a line cut into pieces that scatter like Huygens' sources. A probe is a row of sources on the
//! surface, delayed so that their beam leaves at its angle; the faces are mirrors. What comes back by every way -
//! straight, by way of a face, there one way and back the other - is summed with its phase, so that specular echoes,
//! edges, corners and the walk of each come out of the sum and are not put in. Two dimensions, one kind of wave; at a
//! piece of reflector the part of the shear wave that stays a shear wave is that of elasticity.

mod field;
mod reflector;
mod sweep;
mod truth;

pub use reflector::{Piece, Reflector};
pub use sweep::{Errors, Sweeps, examined, job};
pub use truth::{Drawing, Kind, SetUp, Truth, draw};

fn at_least(value: f64, least: f64) -> f64 {
    if value < least { least } else { value }
}

fn at_most(value: f64, most: f64) -> f64 {
    if value > most { most } else { value }
}
