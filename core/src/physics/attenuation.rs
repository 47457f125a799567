//! Attenuation of the metal, from two echoes whose own spreading is known.
//!
//! | symbol | meaning | unit |
//! | --- | --- | --- |
//! | s1, s2 | sound paths of the nearer and the farther echo | mm |
//! | D | how far the farther echo lies below the nearer | dB |
//! | S | how much of that the beam's spreading explains ([`laws`](crate::physics::far_field)) | dB |
//! | α | attenuation | dB a mm of travel |
//!
//! `α = (D − S) / (2 (s2 − s1))`: an echo travels its path twice \[R4\]. For the m-th and the n-th back-wall echo
//! (m < n) of a plate of thickness T, `s1 = m T`, `s2 = n T` and `S = 20 log10(n / m)`.

use core::fmt;

use crate::units::error::{Range, RangeError, comes_from};
use crate::units::limits::PATH;
use crate::units::{Decibels, DecibelsPerMillimetre, Millimetres};

/// Why two echoes give no attenuation.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum AttenuationError {
    /// The farther echo does not lie farther than the nearer one.
    NotFarther,
    /// A path outside its range, or an attenuation that cannot be: spreading explains more than the whole drop.
    Range(RangeError),
}

impl fmt::Display for AttenuationError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFarther => f.write_str("the second echo's path is not longer than the first one's"),
            Self::Range(error) => error.fmt(f),
        }
    }
}

comes_from!(AttenuationError: Range(RangeError));

/// The attenuation that explains what spreading does not, `(D − S) / (2 (s2 − s1))`.
///
/// ```
/// use halfskip::physics::attenuation::attenuation;
/// use halfskip::physics::far_field::Reflector;
/// use halfskip::units::{Decibels, Millimetres};
/// let [one, two] = [25.0, 50.0].map(|path| Millimetres::new(path).unwrap());
/// let spreading = Reflector::BackWall.fall(one, two).unwrap();
/// let dropped = Decibels::new(spreading.get() + 1.0).unwrap();
/// let found = attenuation(one, two, dropped, spreading).unwrap();
/// assert!((found.get() - 0.02).abs() < 1e-6);
/// // Two echoes of the same height with 6 dB of spreading between them: something else is wrong.
/// assert!(attenuation(one, two, Decibels::new(0.0).unwrap(), spreading).is_err());
/// ```
///
/// # Errors
/// [`AttenuationError::NotFarther`] unless s2 > s1, [`AttenuationError::Range`] for a path outside [`PATH`] or an
/// attenuation below zero.
pub fn attenuation(
    nearer: Millimetres,
    farther: Millimetres,
    drop: Decibels,
    spreading: Decibels,
) -> Result<DecibelsPerMillimetre, AttenuationError> {
    let (s1, s2) = (PATH.check(nearer.get())?, PATH.check(farther.get())?);
    if s2 <= s1 {
        return Err(AttenuationError::NotFarther);
    }
    // α = (D − S) / (2 (s2 − s1))
    let alpha = (drop.get() - spreading.get()) / (2.0 * (s2 - s1));
    Ok(DecibelsPerMillimetre::new(alpha)?)
}

/// What attenuation takes over a length of travel, `α · travel`; an echo from path s travels 2 s.
///
/// ```
/// use halfskip::physics::attenuation::loss;
/// use halfskip::units::{DecibelsPerMillimetre, Millimetres};
/// let alpha = DecibelsPerMillimetre::new(0.01).unwrap();
/// assert_eq!(loss(alpha, Millimetres::new(200.0).unwrap()).unwrap().get(), 2.0);
/// assert!(loss(alpha, Millimetres::new(-1.0).unwrap()).is_err());
/// ```
///
/// # Errors
/// [`RangeError`] for a negative travel or more than 300 dB.
pub fn loss(attenuation: DecibelsPerMillimetre, travel: Millimetres) -> Result<Decibels, RangeError> {
    let travel = Range { quantity: "travel", min: 0.0, ..Millimetres::RANGE }.check(travel.get())?;
    // D = α · travel
    Decibels::new(attenuation.get() * travel)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_lost_on_the_way_is_found_again() {
        let alpha = DecibelsPerMillimetre::constant(0.03);
        let [near, far] = [20.0, 100.0].map(Millimetres::constant);
        let [there, here] = [200.0, 40.0].map(|travel| loss(alpha, Millimetres::constant(travel)).unwrap());
        let drop = Decibels::new(there.get() - here.get()).unwrap();
        let found = attenuation(near, far, drop, Decibels::constant(0.0)).unwrap();
        assert!((found.get() - 0.03).abs() < 1e-7);
    }

    #[test]
    fn echoes_in_the_wrong_order_are_refused() {
        let [near, far] = [20.0, 100.0].map(Millimetres::constant);
        let [drop, none] = [6.0, 0.0].map(Decibels::constant);
        for (first, second) in [(far, near), (near, near)] {
            let refused = attenuation(first, second, drop, none);
            assert_eq!(refused, Err(AttenuationError::NotFarther));
        }
    }
}
