//! From a quantity of the vector files to the library's public functions: one file a core module.
//!
//! Nothing here computes what a case asks: it builds the arguments, calls the library and reads the answer off.

mod calibration;
mod criteria;
mod curved;
mod height;
mod kinds;
mod laws;
mod level;
mod material;
mod path;
mod probe;
mod refraction;
mod transfer;
mod weighted;

use halfskip::units::decimal::{Decimal, Entered};
use halfskip::units::{Decibels, Degrees, Millimetres, MillimetresPerMicrosecond, Quantity, ScreenPercent};

use crate::vectors::{Answer, Case};
use kinds::Kind;

/// The library's answer to a case; `None` when nothing is bound to its quantity.
#[must_use]
pub fn answer(case: &Case) -> Option<Answer> {
    [
        refraction::answer,
        material::answer,
        path::answer,
        curved::answer,
        probe::answer,
        level::answer,
        transfer::answer,
        laws::answer,
        calibration::answer,
        height::answer,
        weighted::answer,
        criteria::answer,
    ]
    .into_iter()
    .find_map(|module| module(case))
}

/// Quantities of the vector files that no function of the library computes, with the reason.
pub const UNBOUND: &[(&str, &str)] = &[
    ("ball_loss_per_doubling_db", "the ball is no reflector of the library"),
    ("interface_pressure_pct", INTERFACES),
    ("interface_over_wall_db", INTERFACES),
    ("interface_energy_reflected", INTERFACES),
    ("energy_db", "the library knows decibels of amplitudes only"),
    ("water_attenuation_db_per_cm", "attenuation is measured, never computed from a constant"),
];

const INTERFACES: &str = "reflection at interfaces is not in the library";

type Asked = Result<f64, &'static str>;

/// An answer from what was asked of the library.
fn from(asked: Asked) -> Answer {
    match asked {
        Ok(number) => Answer::Number(number),
        Err(kind) => Answer::Refused(kind),
    }
}

/// A result of the library with its error named by kind.
trait OrKind<T> {
    fn or_kind(self) -> Result<T, &'static str>;
}

impl<T, E: Kind> OrKind<T> for Result<T, E> {
    fn or_kind(self) -> Result<T, &'static str> {
        self.map_err(|error| error.kind())
    }
}

fn mm(value: f64) -> Result<Millimetres, &'static str> {
    Millimetres::new(value as f32).or_kind()
}

fn degrees(value: f64) -> Result<Degrees, &'static str> {
    Degrees::new(value as f32).or_kind()
}

fn db(value: f64) -> Result<Decibels, &'static str> {
    Decibels::new(value as f32).or_kind()
}

fn percent(value: f64) -> Result<ScreenPercent, &'static str> {
    ScreenPercent::new(value as f32).or_kind()
}

/// A speed printed in m/s, taken as a person would enter it.
fn speed(metres_per_second: f64) -> Result<MillimetresPerMicrosecond, &'static str> {
    alternative(metres_per_second)
}

/// A quantity typed in its second unit, such as inches or m/s.
fn alternative<Q: Quantity>(value: f64) -> Result<Q, &'static str> {
    let typed = Decimal::parse(&value.to_string()).map_err(|_| "no-decimal")?;
    Ok(Entered::<Q>::in_alternative(typed).or_kind()?.quantity())
}

/// A result in double precision, as it stands.
fn number(value: f32) -> f64 {
    f64::from(value)
}
