//! What was peaked, and the surface distance that one echo of a reflector fixes for another.

use super::{Partials, Place, Position};
use crate::math;
use crate::units::Millimetres;

/// What was peaked for a reading: it says what fixes the place.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Peaked {
    /// The echo itself: it lies on the beam's axis.
    Axis,
    /// The corner of the reflector with a face: thickness and path fix it, the angle drops out.
    Corner,
    /// Another echo of the reflector, this one seen together with it: its ray is not parallel to the axis, so the
    /// distance comes from the other echo and only the depth from its own path.
    Together(SeenTogether),
}

/// The surface distance of an echo, known from another observation of the same reflector.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SeenTogether {
    pub(super) distance: f32,
    /// How the distance depends on the other observation.
    pub(super) partials: Partials,
    pub(super) y: Millimetres,
    pub(super) y_partials: Partials,
}

impl SeenTogether {
    /// From the corner echo seen at the very same probe position: stand-off and index drop out.
    #[must_use]
    pub fn from_corner(position: &Position, corner: &Place) -> Self {
        let apart = Partials { standoff: 0.0, index: 0.0, ..Self::of_y(position, corner) };
        Self { distance: corner.distance.get(), partials: apart, y: corner.y, y_partials: corner.y_partials }
    }

    /// From the reflector's place as peaked elsewhere: X = (g y + p − e) / cos s_k, with the two stand-offs read apart.
    ///
    /// Its index error is that of the same probe, or of another one and then independent.
    #[must_use]
    pub fn from_place(position: &Position, place: &Place, same_probe: bool) -> Self {
        let other = Self::of_y(position, place);
        let own = 1.0 / position.skew_cos;
        let apart = |part: f32| math::sqrt(part * part + own * own).unwrap_or(own);
        let index = if same_probe { other.index - own } else { apart(other.index) };
        let standoff = apart(other.standoff);
        let distance = position.distance_to(place.y) / position.skew_cos;
        Self {
            distance,
            partials: Partials { standoff, index, ..other },
            y: place.y,
            y_partials: place.y_partials,
        }
    }

    /// The same of a point so far across from there.
    #[must_use]
    pub fn moved(self, position: &Position, across: f32) -> Option<Self> {
        let distance = self.distance + position.side.sign() * across / position.skew_cos;
        Some(Self { distance, y: Millimetres::new(self.y.get() + across).ok()?, ..self })
    }

    /// y = g (−p + e + X cos s_k), so ∂X/∂q = g ∂y/∂q / cos s_k.
    fn of_y(position: &Position, place: &Place) -> Partials {
        let scale = position.side.sign() / position.skew_cos;
        place.y_partials.scaled(scale)
    }
}
