//! `halfskip compare`: two examinations of one weld, indication by indication.
//!
//! A difference is told in units of its uncertainty: d = |q2 − q1| / U with U = √(U1² + U2²), both expanded (k = 2), the
//! two examinations taken as independent (JCGM 100:2008, 5.1.2; as the E_n score of ISO 13528, that from memory). d above
//! 1 is a difference that the uncertainties do not explain. What has no uncertainty has no d: it is told as a bare
//! difference.

mod matching;
mod text;

use std::format;
use std::io::{self, BufWriter, Write};
use std::string::String;
use std::vec::Vec;

use halfskip::calibration::level::Bound;
use halfskip::findings::{Caution, cautions as each_caution};
use serde::Serialize;

use super::args::{Compare, Compared};
use super::console::{Desk, HostShell};
use super::exit::{Exit, Stop};
use super::feed::read_job;
use super::findings::{self, Indication};
use super::json::{self, Job};
use super::run::folder;
use matching::matched;

/// What two examinations say of one weld.
#[derive(Serialize)]
pub struct Comparison {
    /// The version of this layout.
    comparison: u32,
    /// The two jobs.
    pub jobs: [Job; 2],
    /// Indications of both that lie at one place.
    pub matched: Vec<Pair>,
    /// Names of those that only the first has.
    pub only_first: Vec<String>,
    /// Names of those that only the second has.
    pub only_second: Vec<String>,
    /// What the reader must be told.
    pub cautions: Vec<String>,
}

/// An indication of both.
#[derive(Serialize)]
pub struct Pair {
    /// Its names.
    pub ids: [String; 2],
    /// What both examinations measured.
    pub quantities: Vec<Difference>,
    /// The verdicts.
    pub verdicts: [&'static str; 2],
    /// Whether any quantity differs by more than its uncertainty; none when no difference has one.
    pub differs: Option<bool>,
}

/// A quantity of both.
#[derive(Clone, Copy, PartialEq, Debug, Serialize)]
pub struct Difference {
    /// Its name.
    pub quantity: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// The two values; none where it is not known.
    pub values: [Option<f32>; 2],
    /// The second less the first.
    pub difference: Option<f32>,
    /// Expanded uncertainty of the difference, k = 2.
    pub uncertainty: Option<f32>,
    /// The difference in units of it, without its sign.
    pub units: Option<f32>,
}

/// A value and its expanded uncertainty.
type Measured = (f32, Option<f32>);

impl Difference {
    /// Of two values with their expanded uncertainties.
    #[must_use]
    pub fn new(quantity: &'static str, unit: &'static str, [first, second]: [Option<Measured>; 2]) -> Self {
        let (first, second) = (first.unzip(), second.unzip());
        let difference = first.0.zip(second.0).map(|(first, second)| second - first);
        // U = √(U1² + U2²)
        let uncertainty = first.1.flatten().zip(second.1.flatten()).map(|(one, other)| {
            let (one, other) = (f64::from(one), f64::from(other));
            (one * one + other * other).sqrt() as f32
        });
        let units = difference.zip(uncertainty.filter(|u| *u > 0.0)).map(|(d, u)| d.abs() / u);
        Self { quantity, unit, values: [first.0, second.0], difference, uncertainty, units }
    }
}

/// One examination, ready to be compared.
pub struct Side<'a> {
    /// What was found of each indication.
    pub found: Vec<Indication<'a>>,
    /// Added to its places along the weld, mm.
    pub shift: f32,
}

impl<'a> Side<'a> {
    /// Of a shell that has taken a job.
    #[must_use]
    pub fn new(shell: &'a HostShell, shift: f32) -> Self {
        let facts = shell.examination().facts();
        let found = shell.evaluated(|found| findings::indications(&facts, found));
        Self { found: found.unwrap_or_default(), shift }
    }
}

/// Compares two jobs and writes what was found.
///
/// # Errors
/// [`Stop`]: a job cannot be had, a line of it is bad, or the comparison cannot be written.
pub fn run(asked: &Compare) -> Result<Exit, Stop> {
    let mut desks = Vec::new();
    for job in [&asked.first, &asked.second] {
        let mut desk = Desk::new(folder(job));
        read_job(job, &mut desk, &mut io::stderr())?;
        desks.push(desk);
    }
    let [first, second] = desks.as_slice() else { return Err(Stop::Told) };
    let names = [asked.first.name(), asked.second.name()];
    let compared = comparison([first.shell(), second.shell()], names, asked.shift, asked.within);
    let mut out = BufWriter::new(io::stdout().lock());
    let written = match asked.format {
        Compared::Json => json::line(&compared, &mut out),
        Compared::Text => text::write(&compared, &mut out),
    };
    written.and_then(|()| out.flush()).map(|()| Exit::Done).map_err(|error| Stop::writing(&error))
}

/// What two shells say of one weld. `shift` is added to the second's places along the weld, `within` is how far apart along
/// it two indications of one place may lie, both in mm.
#[must_use]
pub fn comparison(shells: [&HostShell; 2], names: [String; 2], shift: f32, within: f32) -> Comparison {
    let [first, second] = shells;
    let sides = [Side::new(first, 0.0), Side::new(second, shift)];
    let [one, other] = &sides;
    let pairs = matched(one, other, within);
    let alone = |side: &Side<'_>, taken: &dyn Fn(usize) -> bool| {
        let left = side.found.iter().enumerate().filter(|(place, _)| !taken(*place));
        left.map(|(_, found)| found.id.into()).collect()
    };
    let only_first = alone(one, &|place| pairs.iter().any(|pair| pair.0 == place));
    let only_second = alone(other, &|place| pairs.iter().any(|pair| pair.1 == place));
    let matched = pairs
        .iter()
        .filter_map(|(place, with)| Some(pair(one.found.get(*place)?, other.found.get(*with)?, shift)));
    let matched = matched.collect();
    let [name, with] = names;
    let jobs = [Job::of(name, first), Job::of(with, second)];
    Comparison { comparison: 1, matched, only_first, only_second, cautions: cautions(shells, &sides), jobs }
}

fn pair(one: &Indication<'_>, other: &Indication<'_>, shift: f32) -> Pair {
    let both = |name, unit, of: fn(&Indication<'_>) -> Option<Measured>| {
        Difference::new(name, unit, [of(one), of(other)])
    };
    let point = |found: &Indication<'_>| found.point;
    let level = |found: &Indication<'_>| {
        let exact = found.level.filter(|level| level.bound == Bound::Exact);
        exact.map(|level| level.db.get())
    };
    let x = [point(one).map(|point| (point.x, None)), point(other).map(|point| (point.x + shift, None))];
    let levels = [level(one).map(|db| (db, one.u_level)), level(other).map(|db| (db, other.u_level))];
    let quantities = Vec::from([
        Difference::new("x", "mm", x),
        both("y", "mm", |found| found.point.map(|point| (point.y, Some(point.u_y)))),
        both("z", "mm", |found| found.point.map(|point| (point.z, Some(point.u_z)))),
        Difference::new("level", "dB", levels),
        both("length", "mm", |found| {
            found.length.filter(|length| !length.is_open()).map(|length| (length.length().get(), None))
        }),
        both("height", "mm", |found| found.height().map(|height| (height.height, Some(height.uncertainty)))),
    ]);
    let known: Vec<f32> = quantities.iter().filter_map(|quantity| quantity.units).collect();
    let differs = (!known.is_empty()).then(|| known.iter().any(|units| *units > 1.0));
    Pair {
        ids: [one.id.into(), other.id.into()],
        quantities,
        verdicts: [one.verdict(), other.verdict()],
        differs,
    }
}

fn cautions([first, second]: [&HostShell; 2], sides: &[Side<'_>; 2]) -> Vec<String> {
    let joint = |shell: &HostShell| {
        shell.examination().facts().common().joint.as_ref().map(|(_, joint)| *joint.spec())
    };
    let mut cautions: Vec<String> = Vec::new();
    if joint(first) != joint(second) {
        cautions.push("the two jobs do not record the same joint".into());
    }
    let title = |shell: &HostShell| shell.sheet().map(|sheet| sheet.head().title.clone());
    if title(first) != title(second) {
        cautions.push("the two jobs are judged by different sheets".into());
    }
    let technique = |shell: &HostShell| shell.examination().facts().technique().clone();
    if technique(first) != technique(second) {
        cautions.push("the two jobs ask for different grounds before an accept".into());
    }
    for ((which, shell), side) in [("first", first), ("second", second)].into_iter().zip(sides) {
        let facts = shell.examination().facts();
        let tell = |caution: Caution| cautions.push(format!("{which}: {}", caution.told(&facts)));
        let _ = shell.evaluated(|found| each_caution(found, tell));
        for found in side.found.iter().filter(|found| found.point.is_none()) {
            cautions.push(format!("{which}: indication {} has no place and is matched with none", found.id));
        }
    }
    cautions.push(
        "An indication that only one examination has was not seen by the other, or not looked for: that is no proof of \
         change. Levels of different probes, gains or calibrations agree only as far as their references do."
            .into(),
    );
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_difference_is_measured_by_the_root_of_the_summed_squares() {
        let found = Difference::new("z", "mm", [Some((10.0, Some(0.3))), Some((9.0, Some(0.4)))]);
        assert_eq!((found.difference, found.uncertainty), (Some(-1.0), Some(0.5)));
        assert!((found.units.unwrap() - 2.0).abs() < 1e-6);
    }

    #[test]
    fn what_one_side_does_not_know_is_no_difference() {
        for values in [[None, Some((9.0, Some(0.4)))], [Some((1.0, None)), Some((9.0, Some(0.4)))]] {
            assert_eq!(Difference::new("z", "mm", values).units, None);
        }
        assert_eq!(Difference::new("z", "mm", [Some((1.0, None)), Some((3.0, None))]).difference, Some(2.0));
        assert_eq!(Difference::new("z", "mm", [Some((1.0, Some(0.0))), Some((3.0, Some(0.0)))]).units, None);
    }
}
