//! The element that makes and receives the sound.

use crate::units::Millimetres;
use crate::units::error::RangeError;
use crate::units::limits::ELEMENT;

/// Shape and size of a probe's element; 1 to 50 mm once it is part of a [`Probe`](super::Probe).
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Element<L = Millimetres> {
    /// A disc.
    Round {
        /// Its diameter.
        diameter: L,
    },
    /// A rectangle.
    Rectangular {
        /// Its dimension in the plane of incidence.
        in_plane: L,
        /// Its dimension across that plane.
        across: L,
    },
}

impl<L> Element<L> {
    /// The same element with its lengths in another form.
    pub fn map<M>(self, length: impl Fn(L) -> M) -> Element<M> {
        match self {
            Self::Round { diameter } => Element::Round { diameter: length(diameter) },
            Self::Rectangular { in_plane, across } => {
                Element::Rectangular { in_plane: length(in_plane), across: length(across) }
            }
        }
    }
}

impl Element {
    /// Dimension in the plane of incidence.
    ///
    /// ```
    /// use halfskip::physics::probe::Element;
    /// use halfskip::units::Millimetres;
    /// let element = Element::Rectangular {
    ///     in_plane: Millimetres::new(8.0).unwrap(),
    ///     across: Millimetres::new(9.0).unwrap(),
    /// };
    /// assert_eq!((element.in_plane().get(), element.across().get()), (8.0, 9.0));
    /// ```
    #[must_use]
    pub const fn in_plane(&self) -> Millimetres {
        match *self {
            Self::Round { diameter } => diameter,
            Self::Rectangular { in_plane, .. } => in_plane,
        }
    }

    /// Dimension across the plane of incidence.
    #[must_use]
    pub const fn across(&self) -> Millimetres {
        match *self {
            Self::Round { diameter } => diameter,
            Self::Rectangular { across, .. } => across,
        }
    }

    pub(super) fn check(&self) -> Result<(), RangeError> {
        ELEMENT.check(self.in_plane().get())?;
        ELEMENT.check(self.across().get())?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_sides_of_an_element_are_held_to_the_range() {
        let check = |in_plane, across| {
            let (in_plane, across) = (Millimetres::constant(in_plane), Millimetres::constant(across));
            Element::Rectangular { in_plane, across }.check().is_ok()
        };
        assert!(check(1.0, 50.0) && !check(0.9, 9.0) && !check(9.0, 50.1));
        assert!(Element::Round { diameter: Millimetres::constant(60.0) }.check().is_err());
    }
}
