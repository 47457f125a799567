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
/// use halfskip::part::joint::{Joint, JointSpec, Obstacle, Preparation};
/// use halfskip::part::side::{Face, Side};
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint::{Backing, Joint, JointSpec, Point, Preparation, Section};
    use crate::part::side::{Face, Side};
    use crate::units::Degrees;

    fn mm(value: f32) -> Option<Millimetres> {
        Some(Millimetres::constant(value))
    }

    /// 20 mm, bevelled by 45 degrees on one side, 3 mm gap, 2 mm land. Open from −1.5 to 1.5 + 18 tan 45° = 19.5, and where
    /// prepared from both faces to 1.5 + 9 tan 45° = 10.5 at each. Cap 28 wide and 2 high, zone 10.
    fn spec(preparation: Preparation) -> JointSpec {
        JointSpec {
            bevel: Some(Degrees::constant(45.0)),
            gap: mm(3.0),
            land: mm(2.0),
            cap: mm(28.0),
            crown: mm(2.0),
            haz: mm(10.0),
            ..JointSpec::new(Millimetres::constant(20.0), preparation)
        }
    }

    fn section(spec: JointSpec) -> Section {
        Joint::new(spec).unwrap().section()
    }

    /// What is in the way on sides A and B of a face.
    fn edges(spec: JointSpec, face: Face) -> [Option<(Obstacle, f32)>; 2] {
        let section = section(spec);
        [Side::A, Side::B].map(|side| section.clearance(side, face).map(|clear| (clear.of, clear.edge)))
    }

    #[test]
    fn a_cap_lies_over_the_groove_of_a_one_sided_preparation() {
        let section = section(spec(Preparation::SingleBevel));
        // (19.5 − 1.5) / 2 = 9, ± 14
        assert_eq!(section.middle(Face::Near), 9.0);
        assert_eq!([Side::A, Side::B].map(|side| section.opening(side, Face::Near)), [1.5, 19.5]);
        assert_eq!([Side::A, Side::B].map(|side| section.edge(side)), [5.0, 23.0]);
        assert_eq!([Side::A, Side::B].map(|side| section.weld_extent(side)), [5.0, 23.0]);
        assert_eq!(section.heat_affected_extent(Side::B), Some(33.0));
        let cap = section.cap().unwrap();
        let ends = [cap.first().unwrap(), cap.last().unwrap()].map(|point| (point.y, point.z));
        assert_eq!(ends, [(-5.0, 0.0), (23.0, 0.0)]);
        assert!(cap.contains(&Point { y: 9.0, z: -2.0 }));
        let inside = |y, z| section.contains(Point { y, z });
        assert!(inside(9.0, -2.0) && !inside(9.0, -2.1) && inside(22.0, -0.1) && !inside(-5.1, 0.0));
        // 2 (1 − (9 / 14)²) = 1.17 over the centreline.
        assert!(inside(0.0, -1.17) && !inside(0.0, -1.18));
    }

    #[test]
    fn the_other_prepared_side_is_its_mirror_image() {
        let [b, a] = [Side::B, Side::A]
            .map(|side| JointSpec { bevelled: Some(side), ..spec(Preparation::SingleBevel) });
        assert_eq!(b.bevelled.map(|_| section(b)), Some(section(spec(Preparation::SingleBevel))));
        assert_eq!(section(a).middle(Face::Near), -9.0);
        let [of_a, of_b] = edges(b, Face::Near);
        assert_eq!(edges(a, Face::Near), [of_b, of_a]);
    }

    #[test]
    fn a_middle_that_was_given_is_where_the_cap_lies() {
        let at = |centre| JointSpec { centre: mm(centre), ..spec(Preparation::SingleBevel) };
        let cap = |edge| Some((Obstacle::Cap, edge));
        assert_eq!(edges(at(8.5), Face::Near), [cap(5.5), cap(22.5)]);
        assert_eq!(edges(at(-8.5), Face::Near), [cap(22.5), cap(5.5)]);
        assert_eq!(edges(at(0.0), Face::Near), [cap(14.0); 2]);
        // Past the centreline its edge is negative.
        assert_eq!(edges(at(20.0), Face::Near), [cap(-6.0), cap(34.0)]);
        assert_eq!(section(at(20.0)).weld_extent(Side::A), 1.5);
    }

    #[test]
    fn without_a_cap_the_groove_is_in_the_way_and_dressed_flush_nothing_is() {
        let bare = JointSpec { cap: None, crown: None, ..spec(Preparation::SingleBevel) };
        let open = |edge| Some((Obstacle::Groove, edge));
        assert_eq!(edges(bare, Face::Near), [open(1.5), open(19.5)]);
        // 19.5 and a nose of 11.
        assert_eq!(section(bare).clearance(Side::B, Face::Near).unwrap().least(mm(11.0)), 30.5);
        for crown in [None, mm(0.0)] {
            let flush = JointSpec { crown, ..spec(Preparation::SingleBevel) };
            assert_eq!(edges(flush, Face::Near), [None; 2]);
        }
    }

    #[test]
    fn at_the_far_face_bead_bar_or_gap_are_in_the_way() {
        let single = spec(Preparation::SingleBevel);
        let open = |edge| Some((Obstacle::Groove, edge));
        assert_eq!(edges(single, Face::Far), [open(1.5); 2]);
        let bead = JointSpec { bead: mm(8.0), excess: mm(1.0), ..single };
        assert_eq!(edges(bead, Face::Far), [Some((Obstacle::Bead, 4.0)); 2]);
        assert_eq!(edges(JointSpec { excess: None, ..bead }, Face::Far), [None; 2]);
        let bar = Backing { width: Millimetres::constant(25.0), height: Millimetres::constant(6.0) };
        for spec in [single, bead, JointSpec { excess: None, ..bead }] {
            let backed = JointSpec { backing: Some(bar), ..spec };
            assert_eq!(edges(backed, Face::Far), [Some((Obstacle::Backing, 12.5)); 2]);
        }
        let wide = JointSpec { bead: mm(30.0), backing: Some(bar), ..bead };
        assert_eq!(edges(wide, Face::Far), [Some((Obstacle::Bead, 15.0)); 2]);
    }

    #[test]
    fn prepared_from_both_faces_the_bead_lies_over_the_far_groove_and_centre_moves_the_cap_alone() {
        let double = JointSpec { bead: mm(16.0), excess: mm(2.0), ..spec(Preparation::DoubleBevel) };
        let middles = |spec: JointSpec| Face::both().map(|face| section(spec).middle(face));
        // (10.5 − 1.5) / 2
        assert_eq!(middles(double), [4.5, 4.5]);
        assert_eq!(middles(JointSpec { centre: mm(1.0), ..double }), [1.0, 4.5]);
        let bead = |edge| Some((Obstacle::Bead, edge));
        assert_eq!(edges(double, Face::Far), [bead(3.5), bead(12.5)]);
    }

    #[test]
    fn over_a_symmetric_groove_the_cap_lies_about_the_centreline() {
        for preparation in Preparation::ALL.into_iter().filter(|preparation| preparation.is_symmetric()) {
            let square = preparation == Preparation::Square;
            let (bevel, land) = (Some(Degrees::constant(37.0)), mm(2.3));
            let (bevel, land) = (bevel.filter(|_| !square), land.filter(|_| !square));
            let spec = JointSpec { bevel, land, radius: None, ..spec(preparation) };
            let middles = Face::both().map(|face| section(spec).middle(face).to_bits());
            assert_eq!(middles, [0; 2], "{preparation}");
        }
    }
}
