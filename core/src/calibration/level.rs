//! Level over the reference: how much stronger an echo is than the reference reflector at the same path.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | h, G | height of the echo and the instrument's total gain at that reading | %, dB |
//! | H_ref | reference height | % |
//! | G_ref | gain that brings the reference reflector at this path to H_ref ([`curve`](crate::calibration::curve)) | dB |
//! | T | transfer correction: gain the part needs over the block ([`transfer`](crate::calibration::transfer)) | dB |
//! | L | level over the reference | dB |
//!
//! `L = 20 log10(h / H_ref) + G_ref + T − G` \[R2\]
//!
//! An echo higher than the screen can measure is at least as strong as one at the top of the screen; one that does
//! not rise above the noise is at most as strong as the noise. Such levels are bounds and say so.

use core::fmt;

use crate::calibration::curve::ReferenceGain;
use crate::part::locate::EXPANDED;
use crate::physics::decibels::{self, DECIBELS_PER_NEPER, DecibelsError};
use crate::units::decimal::fixed;
use crate::units::error::{RangeError, comes_from};
use crate::units::{Decibels, ScreenPercent};

/// What a screen can measure, and the height that references are brought to.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Screen {
    max: ScreenPercent,
    noise: ScreenPercent,
    reference: ScreenPercent,
}

impl Default for Screen {
    fn default() -> Self {
        Self::DEFAULT
    }
}

impl Screen {
    /// 100 % at most, noise 5 %, reference height 80 % (common practice, no source \[R7\]).
    pub const DEFAULT: Self = Self {
        max: ScreenPercent::constant(100.0),
        noise: ScreenPercent::constant(5.0),
        reference: ScreenPercent::constant(80.0),
    };

    /// A screen that measures up to `max`, shows `noise` without an echo, and brings references to `reference`.
    ///
    /// ```
    /// use halfskip::calibration::level::Screen;
    /// use halfskip::units::ScreenPercent;
    /// let [noise, reference, max] = [4.0, 60.0, 110.0].map(|h| ScreenPercent::new(h).unwrap());
    /// assert!(Screen::new(max, noise, reference).is_ok());
    /// assert!(Screen::new(reference, noise, max).is_err());
    /// ```
    ///
    /// # Errors
    /// [`LevelError::Range`] unless noise < reference ≤ max: of the noise when it is not below max, else of the reference.
    pub const fn new(
        max: ScreenPercent,
        noise: ScreenPercent,
        reference: ScreenPercent,
    ) -> Result<Self, LevelError> {
        if noise.get() >= max.get() {
            return Err(LevelError::Range(RangeError {
                quantity: "noise height",
                unit: "%",
                value: noise.get(),
                min: 0.0,
                max: max.get(),
            }));
        }
        if reference.get() > noise.get() && reference.get() <= max.get() {
            Ok(Self { max, noise, reference })
        } else {
            Err(LevelError::Range(RangeError {
                quantity: "reference height",
                unit: "%",
                value: reference.get(),
                min: noise.get(),
                max: max.get(),
            }))
        }
    }

    /// The highest echo it can measure.
    #[must_use]
    pub const fn max(&self) -> ScreenPercent {
        self.max
    }

    /// The height of its noise.
    #[must_use]
    pub const fn noise(&self) -> ScreenPercent {
        self.noise
    }

    /// The reference height H_ref.
    #[must_use]
    pub const fn reference(&self) -> ScreenPercent {
        self.reference
    }
}

/// The height of an echo as the examiner saw it.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum EchoHeight<H = ScreenPercent> {
    /// Read off the screen, % of its full height; 0 is an echo that was not seen.
    Shown(H),
    /// Above the screen.
    Over,
    /// Looked for and not seen above the noise.
    Under,
}

impl<H> EchoHeight<H> {
    /// The same height in another form.
    pub fn map<T>(self, shown: impl FnOnce(H) -> T) -> EchoHeight<T> {
        match self {
            Self::Shown(height) => EchoHeight::Shown(shown(height)),
            Self::Over => EchoHeight::Over,
            Self::Under => EchoHeight::Under,
        }
    }
}

/// Which way a level is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Bound {
    /// The level itself.
    Exact,
    /// The true level is this or higher: the echo left the screen.
    AtLeast,
    /// The true level is this or lower: the echo did not rise above the noise.
    AtMost,
}

/// A level over the reference.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Level {
    /// Decibels over the reference.
    pub db: Decibels,
    /// Which way it is known.
    pub bound: Bound,
}

impl Level {
    /// Whether an echo was seen that may be as strong as so many decibels.
    pub(crate) fn may_reach(self, db: f32) -> bool {
        match self.bound {
            Bound::AtMost => false,
            Bound::Exact => self.db.get() >= db,
            Bound::AtLeast => true,
        }
    }
}

/// Why a reading has no level.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum LevelError {
    /// Nothing was seen, and a noise height of zero gives no bound.
    NoNoiseHeight,
    /// The tolerance of a height reaches down to no echo at all.
    Tolerance {
        /// The height.
        height: ScreenPercent,
        /// Its half width.
        half_width: ScreenPercent,
    },
    /// A height or a level outside its range.
    Range(RangeError),
}

impl fmt::Display for LevelError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoNoiseHeight => {
                f.write_str("no echo was seen and the screen's noise height is 0 %, so there is no bound")
            }
            Self::Tolerance { height, half_width } => write!(
                f,
                "height {} % is not above its tolerance of {} %",
                fixed(height.get()),
                fixed(half_width.get())
            ),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(LevelError: Range(RangeError));

impl From<DecibelsError> for LevelError {
    fn from(error: DecibelsError) -> Self {
        match error {
            DecibelsError::Range(error) => Self::Range(error),
            _ => Self::NoNoiseHeight,
        }
    }
}

/// The level of an echo over the reference, `20 log10(h / H_ref) + G_ref + T − G`.
///
/// A height above the screen's maximum counts as the maximum and gives a level of [`Bound::AtLeast`]; a height below
/// its noise counts as the noise and gives [`Bound::AtMost`]. Heights equal to either are exact.
///
/// ```
/// use halfskip::calibration::curve::{How, ReferenceGain};
/// use halfskip::calibration::level::{Bound, EchoHeight, Screen, level};
/// use halfskip::units::{Decibels, ScreenPercent};
/// let db = |value| Decibels::new(value).unwrap();
/// let reference = ReferenceGain { gain: db(42.0), how: How::Between };
/// let echo = EchoHeight::Shown(ScreenPercent::new(80.0).unwrap());
/// let found = level(echo, db(46.0), &reference, db(2.0), &Screen::default()).unwrap();
/// assert_eq!((found.db.get(), found.bound), (-2.0, Bound::Exact));
/// let over = level(EchoHeight::Over, db(46.0), &reference, db(2.0), &Screen::default()).unwrap();
/// assert_eq!(over.bound, Bound::AtLeast);
/// ```
///
/// # Errors
/// [`LevelError::NoNoiseHeight`] for no echo over a noise of zero, [`LevelError::Range`] beyond ±300 dB.
pub fn level(
    height: EchoHeight,
    gain: Decibels,
    reference: &ReferenceGain,
    transfer: Decibels,
    screen: &Screen,
) -> Result<Level, LevelError> {
    let (height, bound) = match height {
        EchoHeight::Over => (screen.max, Bound::AtLeast),
        EchoHeight::Under => (screen.noise, Bound::AtMost),
        EchoHeight::Shown(shown) if shown > screen.max => (screen.max, Bound::AtLeast),
        EchoHeight::Shown(shown) if shown < screen.noise => (screen.noise, Bound::AtMost),
        EchoHeight::Shown(shown) => (shown, Bound::Exact),
    };
    let lift = decibels::above(height, screen.reference)?;
    // L = 20 log10(h / H_ref) + G_ref + T − G; the two large gains are subtracted first, so that nothing is lost.
    let db = Decibels::new(lift.get() + ((reference.gain.get() - gain.get()) + transfer.get()))?;
    Ok(Level { db, bound })
}

/// The expanded uncertainty (k = 2) of a level from the reading of its height alone.
///
/// `U = 2 · (20 / ln 10) · (a / h) / √3`, with a the half width of a rectangular distribution: first-order
/// propagation \[R3\]. It grows as the echo gets small: half the height, twice the decibels.
///
/// ```
/// use halfskip::calibration::level::level_uncertainty;
/// use halfskip::units::ScreenPercent;
/// let height = |percent| ScreenPercent::new(percent).unwrap();
/// let at_80 = level_uncertainty(height(80.0), height(5.0)).unwrap().get();
/// let at_40 = level_uncertainty(height(40.0), height(5.0)).unwrap().get();
/// assert!((at_40 - 2.0 * at_80).abs() < 1e-6);
/// assert!(level_uncertainty(height(5.0), height(5.0)).is_err());
/// ```
///
/// # Errors
/// [`LevelError::Tolerance`] when the half width is not smaller than the height: the level has no lower end.
pub fn level_uncertainty(height: ScreenPercent, half_width: ScreenPercent) -> Result<Decibels, LevelError> {
    if half_width >= height {
        return Err(LevelError::Tolerance { height, half_width });
    }
    // U = 2 · (20 / ln 10) · (a / h) / √3
    let expanded = EXPANDED * DECIBELS_PER_NEPER * (half_width.get() / height.get());
    Ok(Decibels::new(expanded)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calibration::curve::How;

    const REFERENCE: ReferenceGain = ReferenceGain { gain: Decibels::constant(40.0), how: How::Between };

    fn found(height: EchoHeight, gain: f32, transfer: f32) -> Level {
        let [gain, transfer] = [gain, transfer].map(Decibels::constant);
        level(height, gain, &REFERENCE, transfer, &Screen::default()).unwrap()
    }

    fn shown(height: f32) -> EchoHeight {
        EchoHeight::Shown(ScreenPercent::constant(height))
    }

    #[test]
    fn the_reference_echo_itself_is_at_zero() {
        assert_eq!(found(shown(80.0), 40.0, 0.0).db.get(), 0.0);
    }

    #[test]
    fn more_gain_for_the_same_height_means_a_weaker_echo() {
        assert_eq!(found(shown(80.0), 46.0, 0.0).db.get(), -6.0);
    }

    #[test]
    fn a_part_that_needs_more_gain_than_the_block_raises_the_level() {
        assert_eq!(found(shown(80.0), 46.0, 2.5).db.get(), -3.5);
    }

    #[test]
    fn only_what_leaves_the_measurable_heights_is_a_bound() {
        for (height, like, bound) in [
            (shown(100.0), 100.0, Bound::Exact),
            (shown(100.5), 100.0, Bound::AtLeast),
            (EchoHeight::Over, 100.0, Bound::AtLeast),
            (shown(5.0), 5.0, Bound::Exact),
            (shown(4.5), 5.0, Bound::AtMost),
            (shown(0.0), 5.0, Bound::AtMost),
            (EchoHeight::Under, 5.0, Bound::AtMost),
        ] {
            let level = found(height, 40.0, 0.0);
            assert_eq!((level.db, level.bound), (found(shown(like), 40.0, 0.0).db, bound));
        }
    }

    #[test]
    fn no_echo_over_no_noise_has_no_level() {
        let [max, noise, reference] = [100.0, 0.0, 80.0].map(ScreenPercent::constant);
        let screen = Screen::new(max, noise, reference).unwrap();
        for height in [EchoHeight::Under, shown(0.0)] {
            let zero = Decibels::constant(0.0);
            let refused = level(height, zero, &REFERENCE, zero, &screen);
            assert_eq!(refused, Err(LevelError::NoNoiseHeight));
        }
    }

    #[test]
    fn noise_above_the_highest_echo_is_named_as_what_is_wrong() {
        let [max, noise, reference] = [50.0, 60.0, 80.0].map(ScreenPercent::constant);
        let told = std::format!("{}", Screen::new(max, noise, reference).unwrap_err());
        assert_eq!(told, "noise height 60 % is outside 0 to 50 %");
        let told = std::format!("{}", Screen::new(max, max, max).unwrap_err());
        assert_eq!(told, "noise height 50 % is outside 0 to 50 %");
    }
}
