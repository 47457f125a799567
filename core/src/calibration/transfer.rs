//! Transfer correction: the gain the part needs over the block, for the same reflector at the same path.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | s | sound path: half of what the sound travels, as a pulse-echo time base shows it | mm |
//! | G | gain that brings the received pulse to one chosen height | dB |
//! | T(s) | transfer correction | dB |
//!
//! Two like probes face each other on one surface, one sending and one receiving. One full skip apart the pulse makes
//! a V (`s = t / cos a`, thickness t, beam angle a), two full skips apart a W (`s = 2 t / cos a`). From each shot the
//! beam's own spreading is taken off, `G − 20 log10 s` (far field), so that block and part may differ in thickness. What
//! is left against path gives one line for the block and one for the part \[R2\]:
//!
//! `T(s) = part line(s) − block line(s)`
//!
//! At s = 0 that is the surface term (roughness, coupling); its rise is the slope term (attenuation). The surface
//! term is not halved: a shot crosses the contact twice, in and out, and so does an echo. Where block and part have the
//! same paths the spreading drops out.
//!
//! One shot on each, or shots whose paths lie close together, give no slope. The surface term then is the correction at
//! every path:
//!
//! `T = mean over the part's shots of (G − 20 log10 s) − the same over the block's`

use core::fmt;

use crate::math;
use crate::math::line::{Line, repeated};
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};
use crate::units::limits::PATH;
use crate::units::{Decibels, Millimetres};

/// How far apart the paths of one specimen's shots have to lie for a slope: so many mm, and such a share of the longest.
/// Ours: two gains that are half a decibel off make 0.1 dB/mm on 10 mm, which is 10 dB at 100 mm.
const MIN_SPAN: f32 = 10.0;
const MIN_SHARE: f32 = 0.2;

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
    /// A correction takes a shot on the block and one on the part at least.
    NoShot {
        /// On which specimen it is missing.
        specimen: Specimen,
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
            Self::NoShot { specimen } => write!(f, "there is no shot on the {specimen}"),
            Self::EqualPaths { specimen, path } => {
                write!(f, "two shots on the {specimen} have the path {} mm", fixed(path.get()))
            }
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(TransferError: Range(RangeError));

/// The gain a part needs over the block, straight in dB against path.
///
/// ```
/// use halfskip::calibration::transfer::{Shot, Transfer};
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
/// assert!((transfer.slope().unwrap() - 0.025).abs() < 1e-7);
/// assert!((transfer.at(Millimetres::new(60.0).unwrap()).unwrap().get() - 3.5).abs() < 1e-5);
/// // One shot on each: 3 dB at every path, and no slope.
/// let one = Transfer::lines(&block[..1], &part[..1]).unwrap();
/// assert_eq!((one.surface().get(), one.slope()), (3.0, None));
/// assert!(Transfer::lines(&[], &part).is_err());
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Transfer {
    surface: Decibels,
    slope: Option<f32>,
    departure: Option<Decibels>,
}

impl Transfer {
    /// No correction: the part takes the same gain as the block.
    pub const NONE: Self = Self::fixed(Decibels::constant(0.0));

    /// The same correction at every path.
    ///
    /// ```
    /// use halfskip::calibration::transfer::Transfer;
    /// use halfskip::units::{Decibels, Millimetres};
    /// let transfer = Transfer::fixed(Decibels::new(2.5).unwrap());
    /// assert_eq!(transfer.at(Millimetres::new(80.0).unwrap()).unwrap().get(), 2.5);
    /// ```
    #[must_use]
    pub const fn fixed(gain: Decibels) -> Self {
        Self { surface: gain, slope: None, departure: None }
    }

    /// From shots on block and part, one or more each; more than two are fitted by least squares. A slope takes paths on
    /// both that lie 10 mm and a fifth of the longest apart.
    ///
    /// # Errors
    /// [`TransferError::NoShot`], [`TransferError::EqualPaths`], [`TransferError::Range`] for a path that is not above
    /// zero or a surface term outside the range of gains.
    pub fn lines(block: &[Shot], part: &[Shot]) -> Result<Self, TransferError> {
        check(block, Specimen::Block)?;
        check(part, Specimen::Part)?;
        let (Some(on_block), Some(on_part)) = (line(block), line(part)) else {
            return Self::without_slope(block, part);
        };
        // T(0) = part line(0) − block line(0), of G − 20 log10 s. It is not halved.
        let surface = Decibels::new((on_part.at(0.0) - on_block.at(0.0)) as f32)?;
        let slope = Some((on_part.slope() - on_block.slope()) as f32);
        let departure = match (block.len(), part.len()) {
            (2, 2) => None,
            _ => Some(Decibels::new(
                departures(on_block, block).chain(departures(on_part, part)).fold(0.0, math::larger),
            )?),
        };
        Ok(Self { surface, slope, departure })
    }

    fn without_slope(block: &[Shot], part: &[Shot]) -> Result<Self, TransferError> {
        let (on_block, on_part) = (mean(block), mean(part));
        // T = mean of (G − 20 log10 s) on the part − the same on the block
        let surface = Decibels::new((on_part - on_block) as f32)?;
        let off = |shots: &[Shot], mean: f64| {
            shots.iter().map(|shot| (spread_off(shot) - mean).abs() as f32).fold(0.0, math::larger)
        };
        let departure = match (block.len(), part.len()) {
            (1, 1) => None,
            _ => Some(Decibels::new(math::larger(off(block, on_block), off(part, on_part)))?),
        };
        Ok(Self { surface, slope: None, departure })
    }

    /// The correction at a path, `T(s) = T(0) + slope · s`.
    ///
    /// # Errors
    /// [`RangeError`] outside the range of gains.
    pub fn at(&self, path: Millimetres) -> Result<Decibels, RangeError> {
        // T(s) = T(0) + slope · s
        Decibels::new(self.surface.get() + self.slope.unwrap_or(0.0) * path.get())
    }

    /// The surface term T(0): what coupling and roughness take. Without a slope, the correction at every path.
    #[must_use]
    pub const fn surface(&self) -> Decibels {
        self.surface
    }

    /// The slope term, dB per mm of path: what the part attenuates more than the block. Negative when it attenuates
    /// less; `None` where no shots tell, and the correction is the same at every path.
    #[must_use]
    pub const fn slope(&self) -> Option<f32> {
        self.slope
    }

    /// The largest departure of a shot from its line, or without a slope from the mean; `None` where two shots each, or
    /// one, leave nothing to judge by.
    #[must_use]
    pub const fn largest_departure(&self) -> Option<Decibels> {
        self.departure
    }
}

fn check(shots: &[Shot], specimen: Specimen) -> Result<(), TransferError> {
    if shots.is_empty() {
        return Err(TransferError::NoShot { specimen });
    }
    for shot in shots {
        PATH.check(shot.path.get())?;
    }
    if let Some(path) = repeated(shots.iter().map(|shot| shot.path.get())) {
        let path = Millimetres::new(path)?;
        return Err(TransferError::EqualPaths { specimen, path });
    }
    Ok(())
}

/// The line of one specimen's shots; none where their paths lie too close together.
fn line(shots: &[Shot]) -> Option<Line> {
    let paths = || shots.iter().map(|shot| shot.path.get());
    let longest = paths().fold(0.0, math::larger);
    let span = longest - paths().fold(longest, math::smaller);
    if span < MIN_SPAN || span < MIN_SHARE * longest {
        return None;
    }
    Line::through(shots.iter().map(|shot| (f64::from(shot.path.get()), spread_off(shot))))
}

/// A shot's gain without the beam's own spreading, `G − 20 log10 s`; the path is above 0.
fn spread_off(shot: &Shot) -> f64 {
    let spread = math::log10(shot.path.get()).map_or(0.0, |log| 20.0 * f64::from(log));
    f64::from(shot.gain.get()) - spread
}

/// The mean of what the shots of one specimen, at least one, have without spreading.
fn mean(shots: &[Shot]) -> f64 {
    let (mut count, mut mean) = (0.0f64, 0.0f64);
    for shot in shots {
        count += 1.0;
        mean += (spread_off(shot) - mean) / count;
    }
    mean
}

/// How far each shot lies from its line, dB.
fn departures(line: Line, shots: &[Shot]) -> impl Iterator<Item = f32> + '_ {
    shots.iter().map(move |shot| (spread_off(shot) - line.at(f64::from(shot.path.get()))).abs() as f32)
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
        assert!(transfer.slope().unwrap().abs() < 1e-7);
        assert!((transfer.at(mm(25.0)).unwrap().get() - 4.0).abs() < 1e-5);
    }

    #[test]
    fn block_and_part_may_differ_in_thickness() {
        let block = shots([(40.0, 41.0), (80.0, 47.5)]);
        let part = shots([(36.0, 42.0), (72.0, 49.0)]);
        let transfer = Transfer::lines(&block, &part).unwrap();
        // By hand, less 20 log10 s: 8.95880 at 40 and 9.43820 at 80; 10.87395 at 36 and 11.85335 at 72. At 60 mm the lines
        // have 8.95880 + 0.47940 / 2 and 10.87395 + 0.97940 · 24 / 36.
        let by_hand = (10.87395 + 0.97940 * 24.0 / 36.0) - (8.95880 + 0.47940 / 2.0);
        assert!((transfer.at(mm(60.0)).unwrap().get() - by_hand).abs() < 2e-5);
        assert_eq!(transfer.largest_departure(), None);
    }

    #[test]
    fn the_same_metal_in_another_thickness_needs_nothing_at_any_path() {
        // Block 25 mm, part 10 mm, at 60 degrees: V and W shots of 50 and 100 mm, of 20 and 40 mm. A shot's gain is 10 dB,
        // 20 log10 s and the metal's own 0.03 dB/mm: 33.9794, 40, 26.0206 and 32.0412 dB of spreading.
        let block = shots([(50.0, 45.4794), (100.0, 53.0)]);
        let part = shots([(20.0, 36.6206), (40.0, 43.2412)]);
        let transfer = Transfer::lines(&block, &part).unwrap();
        assert!(transfer.slope().is_some());
        for path in [10.0, 50.0, 100.0, 200.0] {
            let needed = transfer.at(mm(path)).unwrap().get();
            // Lines through the gains themselves would ask for 10.1 dB at 100 mm.
            assert!(needed.abs() < 1e-3, "{path} {needed}");
        }
    }

    #[test]
    fn a_part_like_its_block_needs_nothing() {
        let same = shots([(40.0, 41.0), (80.0, 47.5), (120.0, 52.0)]);
        let transfer = Transfer::lines(&same, &same).unwrap();
        assert_eq!(transfer.at(mm(55.0)), Ok(Decibels::constant(0.0)));
        // Less 20 log10 s: 8.9588, 9.4382 and 10.4164. The middle shot lies 0.2494 dB below the chord of the other two, two
        // thirds of that below the fitted line.
        let departure = transfer.largest_departure().unwrap().get();
        assert!((departure - 0.1663).abs() < 1e-4, "{departure}");
    }

    #[test]
    fn one_shot_on_each_tells_the_surface_without_what_the_beam_spreads() {
        // Block 25 mm, part 10 mm, at 60 degrees, the same metal: V shots of 50 and 20 mm differ by 20 log10(50 / 20).
        let (block, part) = (shots([(50.0, 40.0)]), shots([(20.0, 40.0 - 7.9588 + 1.5)]));
        let transfer = Transfer::lines(&block, &part).unwrap();
        assert!((transfer.surface().get() - 1.5).abs() < 1e-4);
        assert_eq!((transfer.slope(), transfer.largest_departure()), (None, None));
        assert_eq!(transfer.at(mm(200.0)), Ok(transfer.surface()));
        // At one path on both nothing but the gains counts.
        let same = Transfer::lines(&shots([(40.0, 41.0)]), &shots([(40.0, 43.5)])).unwrap();
        assert_eq!(same.surface(), Decibels::constant(2.5));
    }

    #[test]
    fn paths_that_lie_close_give_no_slope_and_paths_at_the_limit_do() {
        let block = shots([(40.0, 41.0), (80.0, 47.5)]);
        let has_slope =
            |part: [(f32, f32); 2]| Transfer::lines(&block, &shots(part)).unwrap().slope().is_some();
        assert!(has_slope([(40.0, 42.0), (50.0, 44.0)]));
        assert!(!has_slope([(40.0, 42.0), (49.9, 44.0)]));
        // From 50 mm on, a fifth of the longer path is more than 10 mm.
        assert!(has_slope([(80.0, 42.0), (100.0, 44.0)]));
        assert!(!has_slope([(81.0, 42.0), (100.0, 44.0)]));
        // The block's paths count as the part's do.
        let close = shots([(40.0, 41.0), (47.0, 42.4)]);
        let transfer = Transfer::lines(&close, &block).unwrap();
        assert_eq!(transfer.slope(), None);
        // By hand: 41 and 47.5 less 32.0412 and 38.0618, mean 9.1985; 41 and 42.4 less 32.0412 and 33.4420, mean 8.9584.
        assert!((transfer.surface().get() - 0.2401).abs() < 1e-3, "{}", transfer.surface().get());
        let departure = transfer.largest_departure().unwrap().get();
        assert!((departure - 0.2397).abs() < 1e-3, "{departure}");
    }

    #[test]
    fn no_shot_one_path_twice_and_no_path_are_refused() {
        let good = shots([(40.0, 41.0), (80.0, 47.5)]);
        let twice = shots([(40.0, 41.0), (40.0, 41.5), (80.0, 47.0)]);
        let none = Transfer::lines(&good, &[]).unwrap_err();
        let equal = Transfer::lines(&twice, &good).unwrap_err();
        assert_eq!(none, TransferError::NoShot { specimen: Specimen::Part });
        assert_eq!(equal, TransferError::EqualPaths { specimen: Specimen::Block, path: mm(40.0) });
        let at_zero = shots([(0.0, 41.0), (80.0, 47.5)]);
        assert!(matches!(Transfer::lines(&at_zero, &good), Err(TransferError::Range(_))));
    }
}
