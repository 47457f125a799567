//! The weld's cross-section: outlines to draw and to ask, fusion faces and root edges to aim at.
//!
//! Everything is as prepared: the parent metal that melts away beside a prepared face is not known, and not drawn.
//!
//! Where the part is curved across the weld, y runs along the scanned face. Gap, bevel, bead and zone are as wide as they
//! are where they lie: a width w at the radius ρ is an arc of w q / ρ on the scanned face of radius q.

use super::profile::{PROFILE, Profile};
use super::reinforcement::Reinforcement;
use super::{CAP_CORNERS, Clearance, Curvature, FusionFace, Joint, Obstacle, Point, RootEdge, ScannedFrom};
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
    /// k / q of a part curved across the weld: k the sense of the depth, q the radius of the scanned face; 0 of any other.
    per_depth: f32,
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
        let per_depth = match spec.curvature {
            Some(Curvature::AroundPipe { od, from: ScannedFrom::Outside }) => -2.0 / od.get(),
            Some(Curvature::AroundPipe { od, from: ScannedFrom::Inside }) => {
                1.0 / (0.5 * od.get() - thickness)
            }
            _ => 0.0,
        };
        let widest = |side, profile: &Profile| {
            let [cap, bead] = [&cap, &bead].map(|metal| metal.edge(side).unwrap_or(0.0));
            let bead = bead / (1.0 + per_depth * thickness);
            let points = profile.points().map(|point| point.y / (1.0 + per_depth * point.z));
            points.fold(math::larger(cap, bead), math::larger)
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
            per_depth,
        }
    }

    /// ρ / q = 1 + k z / q, the length of an arc at a depth for each millimetre of it along the scanned face; 1 of a part
    /// that is not curved across the weld.
    #[must_use]
    pub fn stretch(&self, z: f32) -> f32 {
        1.0 + self.per_depth * z
    }

    /// A distance from the centreline at a depth, mm of the part, along the scanned face as y counts it: y q / ρ.
    #[must_use]
    pub fn developed(&self, across: f32, z: f32) -> f32 {
        across / self.stretch(z)
    }

    /// A profile's point as y counts it.
    fn on(&self, side: Side, point: Point) -> Point {
        on(side, Point { y: self.developed(point.y, point.z), z: point.z })
    }

    /// Weld metal below the far face, as y counts it.
    fn below<const N: usize>(&self, mut outline: heapless::Vec<Point, N>) -> heapless::Vec<Point, N> {
        outline.iter_mut().for_each(|point| point.y = self.developed(point.y, self.thickness));
        outline
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
        let down = self.side_b.points().map(|point| self.on(Side::B, point));
        let up = self.side_a.points().rev().map(|point| self.on(Side::A, point));
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
        self.bead.outline(self.thickness, 1.0).map(|outline| self.below(outline))
    }

    /// The backing bar's outline.
    #[must_use]
    pub fn backing(&self) -> Option<[Point; 4]> {
        let (half, height) = self.backing?;
        let y = self.developed(half, self.thickness);
        let (top, bottom) = (self.thickness, self.thickness + height);
        Some([(-y, top), (y, top), (y, bottom), (-y, bottom)].map(|(y, z)| Point { y, z }))
    }

    /// Every piece of prepared face, side A first, top down.
    pub fn fusion_faces(&self) -> impl Iterator<Item = FusionFace> + '_ {
        [Side::A, Side::B].into_iter().flat_map(move |side| {
            self.profile(side).pieces().map(move |(from, to, kind)| FusionFace {
                side,
                kind,
                from: self.on(side, from),
                to: self.on(side, to),
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
            let y = self.profile(side).half_width(lower).unwrap_or(0.0);
            let at = |z| self.on(side, Point { y, z });
            RootEdge { side, from: at(upper), to: at(lower) }
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

    /// Distance of a side's prepared face from the centreline at a depth, along the scanned face; `None` above or below
    /// the plate.
    #[must_use]
    pub fn half_width(&self, side: Side, z: f32) -> Option<f32> {
        self.profile(side).half_width(z).map(|across| self.developed(across, z))
    }

    /// Width of the groove at a face.
    #[must_use]
    pub fn groove_width(&self, face: Face) -> f32 {
        self.opening(Side::A, face) + self.opening(Side::B, face)
    }

    /// How far the groove is open at a face, from the centreline to a side, along that face.
    #[must_use]
    pub fn opening(&self, side: Side, face: Face) -> f32 {
        let z = match face {
            Face::Near => 0.0,
            Face::Far => self.thickness,
        };
        self.profile(side).half_width(z).unwrap_or(0.0)
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

    /// Where a face is no plain one for a beam that should turn there, from side A to side B: under a cap or a bead that
    /// stands above it, and at the far face where the weld is fused to a backing bar. `None` of a plain face, and where no
    /// cap, bead or bar is known.
    #[must_use]
    pub fn standing(&self, face: Face) -> Option<(f32, f32)> {
        let metal = match face {
            Face::Near => &self.cap,
            Face::Far => &self.bead,
        };
        let edges = metal.edge(Side::A).zip(metal.edge(Side::B)).filter(|_| metal.is_raised());
        let bar = || self.backing.filter(|_| face == Face::Far);
        let fused = || bar().map(|_| (self.opening(Side::A, face), self.opening(Side::B, face)));
        let z = if face == Face::Near { 0.0 } else { self.thickness };
        edges.or_else(fused).map(|(a, b)| (self.developed(0.0 - a, z), self.developed(b, z)))
    }

    /// Whether a point lies in the groove, the cap or the bead, their outlines included; a backing bar is none of them.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        let Point { y, z } = point;
        let side = if y < 0.0 { Side::A } else { Side::B };
        self.half_width(side, z).is_some_and(|limit| y.abs() <= limit)
            || self.cap.contains(y, -z)
            || self.bead.contains(y * self.stretch(self.thickness), z - self.thickness)
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
        Some((fusion, fusion + self.zone(z)?))
    }

    /// Width of the heat-affected zone at a depth, along the scanned face; `None` when it is not known.
    #[must_use]
    pub fn zone(&self, z: f32) -> Option<f32> {
        self.haz.map(|width| self.developed(width, z))
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
        let widest = self.weld_extent(side) + self.haz?;
        let at = |z| self.half_width(side, z).zip(self.zone(z)).map_or(0.0, |(face, zone)| face + zone);
        Some(if self.per_depth == 0.0 { widest } else { math::larger(widest, at(self.thickness)) })
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
mod tests;
