//! Transfer correction: the gain the part needs over the block, for the same reflector at the same path.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | s | sound path: half of what the sound travels, as a pulse-echo time base shows it | mm |
//! | G | gain that brings the received pulse to one chosen height | dB |
//! | T(s) | transfer correction | dB |
//!
//! Two like probes face each other on one surface, one sending and one receiving. One full skip apart the pulse makes
//! a V (`s = t / cos a`, thickness t, beam angle a), two full skips apart a W (`s = 2 t / cos a`). The gains of such
//! shots against path give one line for the block and one for the part \[R2\]:
//!
//! `T(s) = part line(s) − block line(s)`
//!
//! At s = 0 that is the surface term (roughness, coupling); its rise is the slope term (attenuation). The surface
//! term is not halved: a shot crosses the contact twice, in and out, and so does an echo.

use core::fmt;

use crate::decimal::fixed;
use crate::error::RangeError;
use crate::limits::PATH;
use crate::line::{Line, repeated};
use crate::math;
use crate::units::{Decibels, Millimetres};

/// A V or W shot: path (half the travel) and the gain that brought the pulse to the chosen height.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Shot {
    /// Half of what the sound travelled.
    pub path: Millimetres,
    /// The instrument's gain.
    pub gain: Decibels,
}

/// What a shot was taken on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Specimen {
    /// The reference block.
    Block,
    /// The part under examination.
    Part,
}

/// Why shots give no correction.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum TransferError {
    /// A line takes two shots at least.
    TooFew {
        /// On which specimen they are missing.
        specimen: Specimen,
        /// How many there are.
        shots: usize,
    },
    /// Two shots of one specimen have the same path.
    EqualPaths {
        /// On which specimen.
        specimen: Specimen,
        /// The path given twice.
        path: Millimetres,
    },
    /// A path that is not above zero, or a correction outside the range of gains.
    Range(RangeError),
}

impl fmt::Display for Specimen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Block => "block",
            Self::Part => "part",
        })
    }
}

impl fmt::Display for TransferError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew { specimen, shots } => {
                write!(f, "shots on the {specimen}: {shots} given, a line takes two or more")
            }
            Self::EqualPaths { specimen, path } => {
                write!(f, "two shots on the {specimen} have the path {} mm", fixed(path.get()))
            }
            Self::Range(error) => error.fmt(f),
        }
    }
}

impl core::error::Error for TransferError {}

impl From<RangeError> for TransferError {
    fn from(error: RangeError) -> Self {
        Self::Range(error)
    }
}

/// The gain a part needs over the block, straight in dB against path.
///
/// ```
/// use halfskip::transfer::{Shot, Transfer};
/// use halfskip::units::{Decibels, Millimetres};
/// let shot = |path, gain| Shot {
///     path: Millimetres::new(path).unwrap(),
///     gain: Decibels::new(gain).unwrap(),
/// };
/// // The part is 3 dB worse at 40 mm and 4 dB worse at 80 mm.
/// let block = [shot(40.0, 41.0), shot(80.0, 47.5)];
/// let part = [shot(40.0, 44.0), shot(80.0, 51.5)];
/// let transfer = Transfer::lines(&block, &part).unwrap();
/// assert!((transfer.surface().get() - 2.0).abs() < 1e-5);
/// assert!((transfer.slope() - 0.025).abs() < 1e-7);
/// assert!((transfer.at(Millimetres::new(60.0).unwrap()).unwrap().get() - 3.5).abs() < 1e-5);
/// assert!(Transfer::lines(&block[..1], &part).is_err());
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Transfer {
    surface: Decibels,
    slope: f32,
    departure: Option<Decibels>,
}

impl Transfer {
    /// No correction: the part takes the same gain as the block.
    pub const NONE: Self = Self::fixed(Decibels::constant(0.0));

    /// The same correction at every path.
    ///
    /// ```
    /// use halfskip::transfer::Transfer;
    /// use halfskip::units::{Decibels, Millimetres};
    /// let transfer = Transfer::fixed(Decibels::new(2.5).unwrap());
    /// assert_eq!(transfer.at(Millimetres::new(80.0).unwrap()).unwrap().get(), 2.5);
    /// ```
    #[must_use]
    pub const fn fixed(gain: Decibels) -> Self {
        Self { surface: gain, slope: 0.0, departure: None }
    }

    /// From shots on block and part, two or more each; more than two are fitted by least squares.
    ///
    /// # Errors
    /// [`TransferError::TooFew`], [`TransferError::EqualPaths`], [`TransferError::Range`] for a path that is not above
    /// zero or a surface term outside the range of gains.
    pub fn lines(block: &[Shot], part: &[Shot]) -> Result<Self, TransferError> {
        let on_block = line(block, Specimen::Block)?;
        let on_part = line(part, Specimen::Part)?;
        // Surface term: T(0) = part line(0) − block line(0). It is not halved.
        let surface = Decibels::new((on_part.at(0.0) - on_block.at(0.0)) as f32)?;
        let slope = (on_part.slope() - on_block.slope()) as f32;
        let departure = match (block.len(), part.len()) {
            (2, 2) => None,
            _ => Some(Decibels::new(
                departures(on_block, block).chain(departures(on_part, part)).fold(0.0, math::larger),
            )?),
        };
        Ok(Self { surface, slope, departure })
    }

    /// The correction at a path, `T(s) = T(0) + slope · s`.
    ///
    /// # Errors
    /// [`RangeError`] outside the range of gains.
    pub fn at(&self, path: Millimetres) -> Result<Decibels, RangeError> {
        // T(s) = T(0) + slope · s
        Decibels::new(self.surface.get() + self.slope * path.get())
    }

    /// The surface term T(0): what coupling and roughness take.
    #[must_use]
    pub const fn surface(&self) -> Decibels {
        self.surface
    }

    /// The slope term, dB per mm of path: what the part attenuates more than the block. Negative when it attenuates
    /// less.
    #[must_use]
    pub const fn slope(&self) -> f32 {
        self.slope
    }

    /// The largest departure of a shot from its line; `None` where two shots each leave nothing to judge by.
    #[must_use]
    pub const fn largest_departure(&self) -> Option<Decibels> {
        self.departure
    }
}

fn line(shots: &[Shot], specimen: Specimen) -> Result<Line, TransferError> {
    for shot in shots {
        PATH.check(shot.path.get())?;
    }
    if let Some(path) = repeated(shots.iter().map(|shot| shot.path.get())) {
        let path = Millimetres::new(path)?;
        return Err(TransferError::EqualPaths { specimen, path });
    }
    Line::through(shots.iter().map(|shot| (f64::from(shot.path.get()), f64::from(shot.gain.get()))))
        .ok_or(TransferError::TooFew { specimen, shots: shots.len() })
}

/// How far each shot lies from its line, dB.
fn departures(line: Line, shots: &[Shot]) -> impl Iterator<Item = f32> + '_ {
    shots
        .iter()
        .map(move |shot| (f64::from(shot.gain.get()) - line.at(f64::from(shot.path.get()))).abs() as f32)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(path: f32) -> Millimetres {
        Millimetres::new(path).unwrap()
    }

    fn shots<const N: usize>(pairs: [(f32, f32); N]) -> [Shot; N] {
        pairs.map(|(path, gain)| Shot { path: mm(path), gain: Decibels::new(gain).unwrap() })
    }

    #[test]
    fn the_surface_term_is_not_halved() {
        // The same metal, with a contact that costs 2 dB each time it is crossed: in and out are 4 dB, by V, W or echo.
        let block = shots([(40.0, 41.0), (80.0, 47.5)]);
        let part = shots([(40.0, 45.0), (80.0, 51.5)]);
        let transfer = Transfer::lines(&block, &part).unwrap();
        assert!((transfer.surface().get() - 4.0).abs() < 1e-5);
        assert!(transfer.slope().abs() < 1e-7);
        assert!((transfer.at(mm(25.0)).unwrap().get() - 4.0).abs() < 1e-5);
    }

    #[test]
    fn block_and_part_may_differ_in_thickness() {
        let block = shots([(40.0, 41.0), (80.0, 47.5)]);
        let part = shots([(36.0, 42.0), (72.0, 49.0)]);
        let transfer = Transfer::lines(&block, &part).unwrap();
        // Each line by hand at 60 mm: 41 + 6.5 / 2 and 42 + 7 · 24 / 36.
        let by_hand = (42.0 + 7.0 * 24.0 / 36.0) - (41.0 + 6.5 / 2.0);
        assert!((transfer.at(mm(60.0)).unwrap().get() - by_hand).abs() < 1e-5);
        assert_eq!(transfer.largest_departure(), None);
    }

    #[test]
    fn a_part_like_its_block_needs_nothing() {
        let same = shots([(40.0, 41.0), (80.0, 47.5), (120.0, 52.0)]);
        let transfer = Transfer::lines(&same, &same).unwrap();
        assert_eq!(transfer.at(mm(55.0)), Ok(Decibels::constant(0.0)));
        // The middle shot lies 1 dB above the chord of the other two, two thirds of that above the fitted line.
        let departure = transfer.largest_departure().unwrap().get();
        assert!((departure - 2.0 / 3.0).abs() < 1e-5);
    }

    #[test]
    fn shots_without_a_line_are_refused() {
        let good = shots([(40.0, 41.0), (80.0, 47.5)]);
        let twice = shots([(40.0, 41.0), (40.0, 41.5), (80.0, 47.0)]);
        let none = Transfer::lines(&good, &[]).unwrap_err();
        let equal = Transfer::lines(&twice, &good).unwrap_err();
        assert_eq!(none, TransferError::TooFew { specimen: Specimen::Part, shots: 0 });
        assert_eq!(equal, TransferError::EqualPaths { specimen: Specimen::Block, path: mm(40.0) });
        let at_zero = shots([(0.0, 41.0), (80.0, 47.5)]);
        assert!(matches!(Transfer::lines(&at_zero, &good), Err(TransferError::Range(_))));
    }
}
