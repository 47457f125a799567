//! What keeps a probe off the weld, and how far off.

use crate::units::Millimetres;

/// What a probe at a face must stay clear of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Obstacle {
    /// The cap that stands above the scanned face.
    Cap,
    /// The bead that stands below the far face.
    Bead,
    /// The backing bar at the far face.
    Backing,
    /// The opening of the groove at a face for which neither cap nor bead is known.
    Groove,
}

/// From where on a probe clears the weld on one side of a face. Made by [`Section::clearance`].
///
/// [`Section::clearance`]: super::Section::clearance
///
/// ```
/// use halfskip::joint::{Joint, JointSpec, Obstacle, Preparation};
/// use halfskip::side::{Face, Side};
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Some(Millimetres::new(value).unwrap());
/// let spec = JointSpec {
///     bevel: Some(Degrees::new(45.0).unwrap()),
///     gap: mm(3.0),
///     land: mm(2.0),
///     cap: mm(28.0),
///     crown: mm(2.0),
///     ..JointSpec::new(Millimetres::new(20.0).unwrap(), Preparation::SingleBevel)
/// };
/// // The groove opens from y −1.5 to 19.5: the cap's middle is 9, its edge on side B 9 + 14.
/// let section = Joint::new(spec).unwrap().section();
/// let clear = section.clearance(Side::B, Face::Near).unwrap();
/// assert_eq!((clear.of, clear.edge), (Obstacle::Cap, 23.0));
/// // With a nose of 11 mm, and of the index point alone.
/// assert_eq!((clear.least(mm(11.0)), clear.least(None)), (34.0, 23.0));
/// // Dressed flush, nothing is in the way.
/// let flush = Joint::new(JointSpec { crown: None, ..spec }).unwrap();
/// assert_eq!(flush.section().clearance(Side::B, Face::Near), None);
/// ```
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Clearance {
    /// What is in the way.
    pub of: Obstacle,
    /// How far it reaches from the centreline on that side, mm; negative where it ends before the centreline.
    pub edge: f32,
}

impl Clearance {
    /// The least stand-off that clears it, mm: its edge and the nose, p = edge + front.
    ///
    /// `front` is the index point to the nose; without it this is where the index point alone is clear. Positive on its
    /// own side, negative past the centreline.
    #[must_use]
    pub fn least(&self, front: Option<Millimetres>) -> f32 {
        self.edge + front.map_or(0.0, Millimetres::get)
    }
}
