//! Linearity of the screen's heights and of the gain control, judged against a named window.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | h | height shown | % of full screen height |
//! | h_n | height that a linear instrument would show | % of full screen height |
//! | ΔG | change of gain between the two heights | dB |
//!
//! - Screen heights: two echoes, the smaller set to half of the larger at first. Whatever the gain, it stays half:
//!   `h_n = large / 2`.
//! - Gain control: an echo set to a height, then the gain changed: `h_n = set · 10^(ΔG / 20)`.
//!
//! The procedures are common practice, no source \[R7\]. The naval windows were seen in \[R6\], page 75, in part: see
//! [`Window`].

use core::fmt;

use crate::physics::decibels::height_after;
use crate::units::error::{RangeError, comes_from};
use crate::units::{Decibels, ScreenPercent};

/// What a height may deviate by.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
#[non_exhaustive]
pub enum Window {
    /// NAVSEA T9074-AS-GIB-010/271 revision 1, vertical linearity: ±10 % from 20 to 80 % of full screen height
    /// (figures seen). What the 10 % are of was not seen: read here as of the nominal height, which is the narrower
    /// reading. A pair is judged when its larger echo is at most 80 % and half of it at least 20 %. For [`screen`]
    /// alone.
    T9074Vertical,
    /// NAVSEA T9074-AS-GIB-010/271 revision 1, accuracy of the gain control: ±20 % (figure seen, the rest of the
    /// sentence cut off), read here as of the ratio of heights. For [`gain`] alone.
    T9074Gain,
    /// So many percent of full screen height either way, as the examiner's procedure says.
    Within(ScreenPercent),
}

/// One step of a gain-control check.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct GainStep {
    /// Height the echo was set to.
    pub set: ScreenPercent,
    /// What the gain was then changed by; negative for less gain.
    pub change: Decibels,
    /// Height shown after that.
    pub shown: ScreenPercent,
}

/// Why a check has no verdict.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum LinearityError {
    /// No step lies where the window judges.
    NothingJudged,
    /// An echo of height zero was to be compared with.
    NoHeight {
        /// Which step, from 0.
        step: usize,
    },
    /// The window belongs to the other check.
    WrongWindow,
    /// A nominal height outside its range.
    Range(RangeError),
}

impl fmt::Display for LinearityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NothingJudged => f.write_str("no step lies where the window judges"),
            Self::NoHeight { step } => {
                write!(f, "step {} compares with an echo of 0 %", step.saturating_add(1))
            }
            Self::WrongWindow => f.write_str("the window belongs to the other linearity check"),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(LinearityError: Range(RangeError));

/// The outcome of a check: its worst step, and whether that keeps within the window.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Linearity {
    worst: Deviation,
    within: bool,
    judged: usize,
    steps: usize,
}

/// How one step deviates.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct Deviation {
    /// Which step, from 0.
    pub step: usize,
    /// Height that a linear instrument would show, % of full screen height.
    pub nominal: f32,
    /// Shown less nominal, % of full screen height.
    pub deviation: f32,
    /// How large that may be, % of full screen height.
    pub allowed: f32,
}

impl Linearity {
    /// The step that uses up most of its window, or exceeds it most.
    #[must_use]
    pub const fn worst(&self) -> Deviation {
        self.worst
    }

    /// How many steps the window judges.
    #[must_use]
    pub const fn judged(&self) -> usize {
        self.judged
    }

    /// How many steps there were.
    #[must_use]
    pub const fn steps(&self) -> usize {
        self.steps
    }

    /// Whether every judged step keeps within the window.
    #[must_use]
    pub const fn within(&self) -> bool {
        self.within
    }
}

/// Screen-height linearity from pairs (large echo, small echo), the small one nominally half of the large.
///
/// ```
/// use halfskip::calibration::linearity::{Window, screen};
/// use halfskip::units::ScreenPercent;
/// let pair = |large, small| (ScreenPercent::new(large).unwrap(), ScreenPercent::new(small).unwrap());
/// let found = screen(&[pair(100.0, 52.0), pair(60.0, 26.0)], Window::Within(pair(5.0, 0.0).0)).unwrap();
/// assert_eq!((found.worst().step, found.worst().deviation, found.within()), (1, -4.0, true));
/// assert!(screen(&[], Window::T9074Vertical).is_err());
/// ```
///
/// # Errors
/// [`LinearityError::NothingJudged`], [`LinearityError::NoHeight`], [`LinearityError::WrongWindow`].
pub fn screen(pairs: &[(ScreenPercent, ScreenPercent)], window: Window) -> Result<Linearity, LinearityError> {
    if window == Window::T9074Gain {
        return Err(LinearityError::WrongWindow);
    }
    let mut steps = Steps::default();
    for (step, (large, small)) in pairs.iter().enumerate() {
        // h_n = large / 2
        let nominal = large.get() / 2.0;
        let covered = window != Window::T9074Vertical || (nominal >= 20.0 && large.get() <= 80.0);
        steps.take(step, large.get(), nominal, small.get(), covered, window)?;
    }
    steps.finish()
}

/// Gain-control linearity from steps of gain, each nominally `set · 10^(ΔG / 20)`.
///
/// ```
/// use halfskip::calibration::linearity::{GainStep, Window, gain};
/// use halfskip::units::{Decibels, ScreenPercent};
/// let height = |percent| ScreenPercent::new(percent).unwrap();
/// let change = Decibels::new(-20.0).unwrap();
/// let step = GainStep { set: height(80.0), change, shown: height(9.0) };
/// let found = gain(&[step], Window::T9074Gain).unwrap();
/// assert!((found.worst().nominal - 8.0).abs() < 1e-5 && found.within());
/// assert!(gain(&[step], Window::T9074Vertical).is_err());
/// ```
///
/// # Errors
/// [`LinearityError::NothingJudged`], [`LinearityError::NoHeight`], [`LinearityError::WrongWindow`],
/// [`LinearityError::Range`] for a nominal height that cannot be recorded.
pub fn gain(steps: &[GainStep], window: Window) -> Result<Linearity, LinearityError> {
    if window == Window::T9074Vertical {
        return Err(LinearityError::WrongWindow);
    }
    let mut taken = Steps::default();
    for (index, step) in steps.iter().enumerate() {
        // h_n = set · 10^(ΔG / 20)
        let nominal = height_after(step.set, step.change)?.get();
        taken.take(index, step.set.get(), nominal, step.shown.get(), true, window)?;
    }
    taken.finish()
}

/// The steps seen so far, of which only the worst is kept.
#[derive(Default)]
struct Steps {
    worst: Option<Deviation>,
    exceeded: bool,
    judged: usize,
    steps: usize,
}

impl Steps {
    fn take(
        &mut self,
        step: usize,
        set: f32,
        nominal: f32,
        shown: f32,
        covered: bool,
        window: Window,
    ) -> Result<(), LinearityError> {
        if set <= 0.0 {
            return Err(LinearityError::NoHeight { step });
        }
        self.steps = self.steps.saturating_add(1);
        if !covered {
            return Ok(());
        }
        self.judged = self.judged.saturating_add(1);
        let allowed = match window {
            Window::T9074Vertical => nominal * 0.1,
            Window::T9074Gain => nominal * 0.2,
            Window::Within(height) => height.get(),
        };
        let found = Deviation { step, nominal, deviation: shown - nominal, allowed };
        self.exceeded |= found.deviation.abs() > allowed;
        // Compared crosswise, so that a window of zero needs no case of its own.
        let worse = self.worst.is_none_or(|worst| {
            found.deviation.abs() * worst.allowed > worst.deviation.abs() * found.allowed
                || (allowed == 0.0 && found.deviation.abs() > worst.deviation.abs())
        });
        if worse {
            self.worst = Some(found);
        }
        Ok(())
    }

    fn finish(self) -> Result<Linearity, LinearityError> {
        Ok(Linearity {
            worst: self.worst.ok_or(LinearityError::NothingJudged)?,
            within: !self.exceeded,
            judged: self.judged,
            steps: self.steps,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pairs<const N: usize>(heights: [(f32, f32); N]) -> [(ScreenPercent, ScreenPercent); N] {
        heights.map(|(large, small)| (ScreenPercent::new(large).unwrap(), ScreenPercent::new(small).unwrap()))
    }

    fn step(set: f32, change: f32, shown: f32) -> GainStep {
        let [(set, shown)] = pairs([(set, shown)]);
        let change = Decibels::new(change).unwrap();
        GainStep { set, change, shown }
    }

    #[test]
    fn the_window_includes_its_edge() {
        let five = Window::Within(ScreenPercent::constant(5.0));
        assert!(screen(&pairs([(100.0, 55.0)]), five).unwrap().within());
        assert!(!screen(&pairs([(100.0, 55.1)]), five).unwrap().within());
        assert!(!screen(&pairs([(100.0, 44.9)]), five).unwrap().within());
        let none = Window::Within(ScreenPercent::constant(0.0));
        let found = screen(&pairs([(80.0, 41.0), (60.0, 28.0), (40.0, 20.5)]), none).unwrap();
        assert_eq!((found.worst().step, found.within()), (1, false));
    }

    #[test]
    fn the_naval_window_judges_only_from_20_to_80() {
        // The first pair is far off but above 80 %, the last has its half below 20 %.
        let heights = pairs([(100.0, 70.0), (80.0, 43.0), (40.0, 21.9), (30.0, 25.0)]);
        let found = screen(&heights, Window::T9074Vertical).unwrap();
        assert_eq!((found.judged(), found.steps()), (2, 4));
        assert_eq!((found.worst().step, found.within()), (2, true));
        let outside = screen(&pairs([(100.0, 50.0)]), Window::T9074Vertical);
        assert_eq!(outside, Err(LinearityError::NothingJudged));
    }

    #[test]
    fn the_gain_window_follows_the_nominal_height() {
        let nominal = step(80.0, -12.0, 20.1);
        assert!(gain(&[nominal], Window::T9074Gain).unwrap().within());
        for (shown, within) in [(24.0, true), (24.2, false), (16.2, true), (16.0, false)] {
            let found = gain(&[nominal, step(80.0, -12.0, shown)], Window::T9074Gain).unwrap();
            assert_eq!(found.within(), within, "{shown}");
        }
    }

    #[test]
    fn what_cannot_be_judged_is_refused() {
        let dark = screen(&pairs([(80.0, 40.0), (0.0, 0.0)]), Window::T9074Vertical);
        assert_eq!(dark, Err(LinearityError::NoHeight { step: 1 }));
        let mixed = gain(&[step(80.0, 0.0, 80.0)], Window::T9074Vertical);
        assert_eq!(mixed, Err(LinearityError::WrongWindow));
        assert!(matches!(gain(&[step(80.0, 60.0, 100.0)], Window::T9074Gain), Err(LinearityError::Range(_))));
    }

    #[test]
    fn the_worst_step_is_the_one_that_takes_most_of_its_own_window() {
        let worst = |heights: [(f32, f32); 2], window| screen(&pairs(heights), window).unwrap().worst().step;
        // 3.2 of 4 against 1.5 of 2, then 1.7 of 2.
        assert_eq!(worst([(80.0, 43.2), (40.0, 21.5)], Window::T9074Vertical), 0);
        assert_eq!(worst([(80.0, 43.2), (40.0, 21.7)], Window::T9074Vertical), 1);
        // Of two that are equally far off a window of nothing, the first.
        assert_eq!(worst([(80.0, 41.0), (60.0, 31.0)], Window::Within(ScreenPercent::constant(0.0))), 0);
    }
}
