//! The weld's cross-section: outlines to draw and to ask, fusion faces and root edges to aim at.
//!
//! Everything is as prepared: the parent metal that melts away beside a prepared face is not known, and not drawn.

use super::profile::{PROFILE, Profile};
use super::reinforcement::Reinforcement;
use super::{CAP_CORNERS, Clearance, FusionFace, Joint, Obstacle, Point, RootEdge};
use crate::math;
use crate::part::side::{Face, Side};
use crate::units::Millimetres;

/// Corners of the groove's outline: two of the longest profiles.
pub const BODY_CORNERS: usize = 2 * PROFILE;
/// The cross-section of a joint, its trigonometry done once. Built by [`Joint::section`].
///
/// ```
/// use halfskip::part::joint::{Joint, JointSpec, Point, Preparation};
/// use halfskip::part::side::Side;
/// use halfskip::units::{Degrees, Millimetres};
/// let mm = |value| Some(Millimetres::new(value).unwrap());
/// let joint = Joint::new(JointSpec {
///     bevel: Some(Degrees::new(30.0).unwrap()),
///     gap: mm(3.0),
///     land: mm(2.0),
///     ..JointSpec::new(Millimetres::new(20.0).unwrap(), Preparation::SingleV)
/// })
/// .unwrap();
/// let section = joint.section();
/// assert_eq!(section.body().len(), 6);
/// // g t + d² tan b
/// assert!((section.area() - 247.06).abs() < 0.01);
/// assert!(section.contains(Point { y: 5.0, z: 10.0 }));
/// assert!(!section.contains(Point { y: 5.0, z: 15.0 }));
/// assert_eq!(section.half_width(Side::B, 20.0), Some(1.5));
/// ```
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Section {
    side_a: Profile,
    side_b: Profile,
    thickness: f32,
    cap: Reinforcement,
    bead: Reinforcement,
    backing: Option<(f32, f32)>,
    haz: Option<f32>,
    widest_a: f32,
    widest_b: f32,
}

impl Section {
    pub(super) fn new(joint: &Joint) -> Self {
        let spec = joint.spec();
        let side_a = Profile::new(spec, Side::A);
        let side_b = Profile::new(spec, Side::B);
        let thickness = spec.thickness.get();
        // The opening of the groove runs from −a to b.
        let opening = |z| {
            let [a, b] = [&side_a, &side_b].map(|profile| profile.half_width(z).unwrap_or(0.0));
            0.5 * (b - a)
        };
        let centre = spec.centre.map_or_else(|| opening(0.0), Millimetres::get);
        let cap = Reinforcement::new(spec.cap, spec.crown, centre);
        // Of a single preparation the far face has the gap, and the gap's middle is the centreline.
        let root = if spec.preparation.is_double() { opening(thickness) } else { 0.0 };
        let bead = Reinforcement::new(spec.bead, spec.excess, root);
        let widest = |side, profile: &Profile| {
            let [cap, bead] = [&cap, &bead].map(|metal| metal.edge(side).unwrap_or(0.0));
            profile.points().fold(math::larger(cap, bead), |widest, point| math::larger(widest, point.y))
        };
        Self {
            widest_a: widest(Side::A, &side_a),
            widest_b: widest(Side::B, &side_b),
            side_a,
            side_b,
            thickness,
            cap,
            bead,
            backing: spec.backing.map(|bar| (0.5 * bar.width.get(), bar.height.get())),
            haz: spec.haz.map(Millimetres::get),
        }
    }

    fn profile(&self, side: Side) -> &Profile {
        match side {
            Side::A => &self.side_a,
            Side::B => &self.side_b,
        }
    }

    /// The groove's outline between the faces, as a closed polygon: down side B, up side A.
    ///
    /// With no gap the two lands coincide.
    #[must_use]
    pub fn body(&self) -> heapless::Vec<Point, BODY_CORNERS> {
        let down = self.side_b.points().map(|point| on(Side::B, point));
        let up = self.side_a.points().rev().map(|point| on(Side::A, point));
        let mut outline = heapless::Vec::new();
        for point in down.chain(up) {
            // The capacity is that of two of the longest profiles.
            let _ = outline.push(point);
        }
        outline
    }

    /// The cap above the scanned face, from side A to side B; `None` when it is flush, or its size is not known.
    #[must_use]
    pub fn cap(&self) -> Option<heapless::Vec<Point, CAP_CORNERS>> {
        self.cap.outline(0.0, -1.0)
    }

    /// The bead below the far face, from side A to side B; `None` when its size is not known.
    #[must_use]
    pub fn bead(&self) -> Option<heapless::Vec<Point, CAP_CORNERS>> {
        self.bead.outline(self.thickness, 1.0)
    }

    /// The backing bar's outline.
    #[must_use]
    pub fn backing(&self) -> Option<[Point; 4]> {
        let (y, height) = self.backing?;
        let (top, bottom) = (self.thickness, self.thickness + height);
        Some([(-y, top), (y, top), (y, bottom), (-y, bottom)].map(|(y, z)| Point { y, z }))
    }

    /// Every piece of prepared face, side A first, top down.
    pub fn fusion_faces(&self) -> impl Iterator<Item = FusionFace> + '_ {
        [Side::A, Side::B].into_iter().flat_map(move |side| {
            self.profile(side).pieces().map(move |(from, to, kind)| FusionFace {
                side,
                kind,
                from: on(side, from),
                to: on(side, to),
            })
        })
    }

    /// The root's two edges, side A first.
    #[must_use]
    pub fn root_edges(&self) -> [RootEdge; 2] {
        // An upright face has its root opposite to the land of the bevelled one.
        let land = self.side_b.land().or(self.side_a.land());
        let (upper, lower) = land.unwrap_or((0.0, self.thickness));
        [Side::A, Side::B].map(|side| {
            let y = self.half_width(side, lower).unwrap_or(0.0);
            RootEdge { side, from: on(side, Point { y, z: upper }), to: on(side, Point { y, z: lower }) }
        })
    }

    /// Area of the groove between the faces, mm², without cap and bead.
    #[must_use]
    pub fn area(&self) -> f32 {
        // Σ (z₂ − z₁) (y₁ + y₂) / 2 over both sides, in f64 because wide thin strips are summed
        let side = |profile: &Profile| {
            profile.pieces().fold(0.0, |sum, (from, to, _)| {
                let height = f64::from(to.z) - f64::from(from.z);
                sum + 0.5 * height * (f64::from(from.y) + f64::from(to.y))
            })
        };
        (side(&self.side_a) + side(&self.side_b)) as f32
    }

    /// Distance of a side's prepared face from the centreline at a depth; `None` above or below the plate.
    #[must_use]
    pub fn half_width(&self, side: Side, z: f32) -> Option<f32> {
        self.profile(side).half_width(z)
    }

    /// Width of the groove at a face.
    #[must_use]
    pub fn groove_width(&self, face: Face) -> f32 {
        self.opening(Side::A, face) + self.opening(Side::B, face)
    }

    /// How far the groove is open at a face, from the centreline to a side.
    #[must_use]
    pub fn opening(&self, side: Side, face: Face) -> f32 {
        let z = match face {
            Face::Near => 0.0,
            Face::Far => self.thickness,
        };
        self.half_width(side, z).unwrap_or(0.0)
    }

    /// y of the middle of the cap at the near face, of the bead at the far one: that of the groove's opening there,
    /// unless the joint gives another for its cap.
    #[must_use]
    pub const fn middle(&self, face: Face) -> f32 {
        match face {
            Face::Near => self.cap.middle(),
            Face::Far => self.bead.middle(),
        }
    }

    /// What keeps a probe off the weld on one side of a face; `None` where it is dressed flush and the probe may stand on
    /// it.
    ///
    /// That is the cap or the bead, where it stands above its face, and a backing bar at the far face; the groove's opening
    /// where no cap or bead was given at all. A cap or bead of known width without a height counts as dressed flush, as in
    /// [`Joint::is_flush`].
    #[must_use]
    pub fn clearance(&self, side: Side, face: Face) -> Option<Clearance> {
        let (metal, of) = match face {
            Face::Near => (&self.cap, Obstacle::Cap),
            Face::Far => (&self.bead, Obstacle::Bead),
        };
        let metal = match metal.edge(side) {
            Some(edge) => metal.is_raised().then_some(Clearance { of, edge }),
            None => Some(Clearance { of: Obstacle::Groove, edge: self.opening(side, face) }),
        };
        let bar = self.backing.filter(|_| face == Face::Far);
        let bar = bar.map(|(edge, _)| Clearance { of: Obstacle::Backing, edge });
        match (metal, bar) {
            (Some(metal), Some(bar)) => Some(if bar.edge < metal.edge { metal } else { bar }),
            (metal, bar) => metal.or(bar),
        }
    }

    /// Whether a point lies in the groove, the cap or the bead, their outlines included; a backing bar is none of them.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        let Point { y, z } = point;
        let side = if y < 0.0 { Side::A } else { Side::B };
        self.half_width(side, z).is_some_and(|limit| y.abs() <= limit)
            || self.cap.contains(y, -z)
            || self.bead.contains(y, z - self.thickness)
    }

    /// Distance of the weld's edge at the scanned face from the centreline: the cap's, or the groove's where no cap is
    /// known. Negative of a cap that ends before the centreline.
    #[must_use]
    pub fn edge(&self, side: Side) -> f32 {
        self.cap.edge(side).unwrap_or_else(|| self.opening(side, Face::Near))
    }

    /// The heat-affected zone beside one prepared face at a depth, as two distances from the centreline; `None` when its
    /// width is not known, or off the plate.
    #[must_use]
    pub fn heat_affected(&self, side: Side, z: f32) -> Option<(f32, f32)> {
        let fusion = self.half_width(side, z)?;
        Some((fusion, fusion + self.haz?))
    }

    /// How far weld metal reaches from the centreline on a side, cap and bead included.
    #[must_use]
    pub const fn weld_extent(&self, side: Side) -> f32 {
        match side {
            Side::A => self.widest_a,
            Side::B => self.widest_b,
        }
    }

    /// The same with the heat-affected zone; `None` when its width is not known.
    #[must_use]
    pub fn heat_affected_extent(&self, side: Side) -> Option<f32> {
        Some(self.weld_extent(side) + self.haz?)
    }
}

/// A profile's point on its own side; adding zero keeps −0 out.
fn on(side: Side, point: Point) -> Point {
    match side {
        Side::A => Point { y: 0.0 - point.y, z: point.z },
        Side::B => point,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::part::joint::{Backing, FaceKind, JointSpec, Preparation};
    use crate::units::Degrees;

    fn mm(value: f32) -> Option<Millimetres> {
        Millimetres::new(value).ok()
    }

    /// 40 mm with 2 mm gap and land, 10 degrees of bevel and a radius of 6 mm, as far as the preparation has them.
    fn section(preparation: Preparation) -> Section {
        let prepared = preparation != Preparation::Square;
        let spec = JointSpec {
            bevel: Degrees::new(10.0).ok().filter(|_| prepared),
            gap: mm(2.0),
            land: mm(2.0).filter(|_| prepared),
            cap: mm(30.0),
            crown: mm(2.0),
            bead: mm(6.0),
            excess: mm(1.0),
            haz: mm(8.0),
            ..JointSpec::new(Millimetres::constant(40.0), preparation)
        };
        Joint::new(spec).unwrap().section()
    }

    #[test]
    fn symmetric_preparations_mirror_to_the_last_bit_and_the_others_do_not() {
        for preparation in Preparation::ALL {
            let body = section(preparation).body();
            let mirrored = body.iter().rev().map(|point| Point { y: 0.0 - point.y, z: point.z });
            assert_eq!(body.iter().copied().eq(mirrored), preparation.is_symmetric(), "{preparation}");
        }
    }

    /// Derived: the exact area of one curve and bevel beyond the half gap, d = 38 or 19, r = 6, b = 10 degrees.
    #[test]
    fn areas_agree_with_the_exact_formulas() {
        let (sin, cos, tan) = (0.173_648_18f32, 0.984_807_7f32, 0.176_326_98f32);
        let bevel = |depth: f32| 0.5 * depth * depth * tan;
        let curve = |depth: f32| {
            let straight = depth - 6.0 + 6.0 * sin;
            // Sector of 80 degrees less the triangle below the bevel's foot, then the bevel's trapezium.
            let sector = 0.5 * 36.0 * 80f32.to_radians() - 0.5 * 36.0 * sin * cos;
            sector + straight * 6.0 * cos + 0.5 * straight * straight * tan
        };
        for (preparation, beyond, tolerance) in [
            (Preparation::Square, 0.0, 1e-6),
            (Preparation::SingleV, 2.0 * bevel(38.0), 1e-6),
            (Preparation::DoubleV, 4.0 * bevel(19.0), 1e-6),
            (Preparation::SingleBevel, bevel(38.0), 1e-6),
            (Preparation::DoubleBevel, 2.0 * bevel(19.0), 1e-6),
            (Preparation::SingleU, 2.0 * curve(38.0), 1e-3),
            (Preparation::DoubleU, 4.0 * curve(19.0), 2e-3),
            (Preparation::SingleJ, curve(38.0), 1e-3),
            (Preparation::DoubleJ, 2.0 * curve(19.0), 2e-3),
        ] {
            let (area, exact) = (section(preparation).area(), 80.0 + beyond);
            // Chords lie inside the curve, so they can only take away.
            assert!(
                area <= exact * (1.0 + 1e-6) && area >= exact * (1.0 - tolerance),
                "{preparation} {area} {exact}"
            );
        }
    }

    #[test]
    fn the_upright_face_is_on_side_a_until_told_otherwise() {
        let section = section(Preparation::SingleBevel);
        assert_eq!(section.half_width(Side::A, 0.0), Some(1.0));
        assert!(section.half_width(Side::B, 0.0).unwrap() > 7.0);
        let [a, b] = section.root_edges();
        assert_eq!((a.from.y, a.from.z, a.to.z), (-1.0, 38.0, 40.0));
        assert_eq!((b.from.y, b.from.z, b.to.z), (1.0, 38.0, 40.0));
    }

    #[test]
    fn a_double_preparation_has_its_root_at_mid_thickness() {
        for edge in section(Preparation::DoubleU).root_edges() {
            assert_eq!((edge.from.z, edge.to.z, edge.to.y.abs()), (19.0, 21.0, 1.0));
        }
    }

    #[test]
    fn what_is_inside_follows_groove_cap_and_bead() {
        let section = section(Preparation::SingleV);
        let inside = |y, z| section.contains(Point { y, z });
        assert!(inside(0.0, 20.0) && inside(-1.0, 40.0) && inside(7.5, 0.5) && inside(-7.5, 0.5));
        assert!(!inside(1.1, 39.0) && !inside(8.0, 0.5));
        // Cap 30 wide and 2 high, bead 6 wide and 1 high.
        assert!(inside(0.0, -2.0) && !inside(0.0, -2.1) && !inside(14.9, -0.1) && inside(10.0, -1.0));
        assert!(inside(0.0, 41.0) && !inside(0.0, 41.1) && !inside(2.9, 40.9));
        assert_eq!(section.weld_extent(Side::A), 15.0);
        assert_eq!(section.heat_affected_extent(Side::B), Some(23.0));
        assert_eq!(section.heat_affected(Side::B, 39.0), Some((1.0, 9.0)));
        assert_eq!(section.heat_affected(Side::B, 41.0), None);
    }

    #[test]
    fn bevels_tilt_by_their_angle_toward_their_own_face() {
        for face in section(Preparation::DoubleV).fusion_faces() {
            let expected = match face.kind {
                FaceKind::Bevel if face.to.z < 20.0 => 10.0,
                FaceKind::Bevel => -10.0,
                _ => 0.0,
            };
            assert!((face.tilt().unwrap().get() - expected).abs() < 1e-4, "{face:?}");
        }
    }

    #[test]
    fn a_backing_bar_lies_below_the_far_face_about_the_centreline() {
        let backing =
            Some(Backing { width: Millimetres::constant(25.0), height: Millimetres::constant(5.0) });
        let spec = JointSpec { backing, ..JointSpec::new(Millimetres::constant(20.0), Preparation::Square) };
        let spec = JointSpec { gap: mm(6.0), ..spec };
        let corners = Joint::new(spec).unwrap().section().backing().unwrap().map(|Point { y, z }| (y, z));
        assert_eq!(corners, [(-12.5, 20.0), (12.5, 20.0), (12.5, 25.0), (-12.5, 25.0)]);
    }
}
