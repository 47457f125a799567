//! The worst error of every function of the accuracy table, found at the rows of the reference tables.

mod amplitude;
mod calibration;
mod curved;
mod geometry;
mod mathematics;
mod sound;

use std::collections::BTreeMap;

use halfskip::units::{Degrees, Millimetres, MillimetresPerMicrosecond};

use crate::accuracy;
use crate::reference::Row;

/// The worst error of each function, in parts of its term, and how many answers it is the worst of.
#[derive(Clone, Default, Debug)]
pub struct Worst(BTreeMap<&'static str, (f64, usize)>);

impl Worst {
    /// Measures everything.
    ///
    /// # Panics
    /// At the first answer that is off by more than the table allows, or a wrong leg or refusal; it names the row.
    #[must_use]
    pub fn measured() -> Self {
        let mut worst = Self::default();
        for table in [
            mathematics::mathematics,
            geometry::flat_path,
            geometry::skips,
            geometry::corners,
            geometry::heights,
            curved::curved,
            sound::refraction,
            sound::beam,
            sound::beam_edges,
            amplitude::decibels,
            amplitude::levels,
            amplitude::far_field,
            calibration::calibration,
        ] {
            table(&mut worst);
        }
        worst
    }

    /// The worst error of one function and how many answers were compared; nothing where none was.
    #[must_use]
    pub fn of(&self, function: &str) -> Option<(f64, usize)> {
        self.0.get(function).copied()
    }

    fn note(&mut self, function: &str, error: f64, row: Row) {
        let allowed = accuracy::of(function);
        assert!(
            error <= allowed.error,
            "{function}: off by {error:.2e} of {}, {:.0e} allowed, at {row:?}",
            allowed.term,
            allowed.error
        );
        let (worst, answers) = self.0.entry(allowed.function).or_default();
        *answers += 1;
        if error > *worst {
            *worst = error;
        }
    }
}

fn mm(value: f32) -> Millimetres {
    Millimetres::new(value).unwrap()
}

fn degrees(value: f32) -> Degrees {
    Degrees::new(value).unwrap()
}

fn speed(value: f32) -> MillimetresPerMicrosecond {
    MillimetresPerMicrosecond::new(value).unwrap()
}
