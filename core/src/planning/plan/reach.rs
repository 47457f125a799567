//! How much of a target one leg crosses, from which stand-offs, and how squarely.

use super::{Aim, Barrier, Scan, Target, TargetKind};
use crate::math;
use crate::part::joint::Point;
use crate::part::side::{Face, Side};
use crate::part::{Legs, Part};
use crate::units::Degrees;

/// What one leg does with a target.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub struct LegReach {
    /// The leg.
    pub leg: u32,
    /// The least stand-off in use, mm.
    pub from: f32,
    /// The greatest stand-off in use, mm.
    pub to: f32,
    /// The shortest path in use, mm, and the depth it ends at.
    pub shortest: (f32, f32),
    /// The longest path in use, mm.
    pub longest: f32,
    /// The part of the target's length that is crossed, 0 to 1.
    pub share: f32,
    /// What keeps the leg from the rest.
    pub barrier: Option<Barrier>,
    /// How far off square the leg meets the target at best, degrees; none of a point, a land or a zone's edge.
    pub off_square: Option<Degrees>,
}

/// Pieces that a line is cut into in a curved part, where stand-offs do not run straight with depth.
const CUTS: u8 = 16;

impl Scan {
    /// What a leg does with a target.
    ///
    /// # Errors
    /// [`Barrier`]: what keeps the leg from all of it.
    pub fn reach(&self, leg: u32, target: &Target) -> Result<LegReach, Barrier> {
        let mut tally = Tally { leg, used: None, length: 0.0, crossed: 0.0, barrier: None };
        let cuts = if matches!(self.legs(), Legs::Around(_)) { CUTS } else { 1 };
        let mut best: Option<Degrees> = None;
        for (from, to) in target.pieces() {
            let mut start = from;
            let before = tally.crossed;
            for cut in 1..=cuts {
                let end = between(from, to, f32::from(cut) / f32::from(cuts));
                self.cross(&mut tally, start, end);
                start = end;
            }
            let squares = matches!(target.kind, TargetKind::Face(_) | TargetKind::Radius);
            if let Some(off) = self.off_square(leg, from, to)
                && squares
                && tally.crossed > before
                && best.is_none_or(|best| off < best)
            {
                best = Some(off);
            }
        }
        if let ([point], true) = (target.points.as_slice(), tally.length == 0.0) {
            match self.aim(leg, *point) {
                Ok(aim) => {
                    tally.take(&aim, point.z);
                    (tally.length, tally.crossed) = (1.0, 1.0);
                }
                Err(barrier) => tally.barrier = Some(barrier),
            }
        }
        let Some(used) = tally.used else {
            // Something kept the leg away, or the target has no length.
            let nothing = Barrier::Range { path: 0.0, range: 0.0 };
            return Err(tally.barrier.unwrap_or(nothing));
        };
        let share = tally.crossed / tally.length;
        Ok(LegReach { share, barrier: tally.barrier, off_square: best, ..used })
    }

    /// Adds what the leg crosses of one straight piece. Along it the stand-off and the path run straight.
    fn cross(&self, tally: &mut Tally, from: Point, to: Point) {
        let length = length(from, to);
        tally.length += length;
        let (from, to, clipped) = match (self.standoff(tally.leg, from), self.standoff(tally.leg, to)) {
            (Ok(_), Ok(_)) => (from, to, 1.0),
            (Err(error), Err(_)) => return tally.bar(self.barrier(error)),
            // One end lies deeper than the beam gets: the piece ends there.
            (Ok(_), Err(error)) | (Err(error), Ok(_)) => {
                let barrier = self.barrier(error);
                tally.bar(barrier);
                let Barrier::BoreMissed { deepest } = barrier else { return };
                let (top, foot) = (self.own_depth(from.z), self.own_depth(to.z));
                let part = (deepest * (1.0 - 1e-5) - top) / (foot - top);
                let end = between(from, to, part);
                if top < foot { (from, end, part) } else { (end, to, 1.0 - part) }
            }
        };
        let (Ok(first), Ok(last)) = (self.standoff(tally.leg, from), self.standoff(tally.leg, to)) else {
            return;
        };
        let range = self.limits().range.map_or(f32::INFINITY, |range| range.get());
        let nearest = self.limits().nearest.map_or(f32::NEG_INFINITY, |nearest| nearest.get());
        // Where along the piece all bounds hold.
        let (mut low, mut high) = (0.0, 1.0);
        for (start, end) in [
            (first.standoff - self.least(), last.standoff - self.least()),
            (range - first.path, range - last.path),
            (first.path - nearest, last.path - nearest),
        ] {
            match (start >= 0.0, end >= 0.0) {
                (true, true) => {}
                (true, false) => high = math::smaller(high, start / (start - end)),
                (false, true) => low = math::larger(low, start / (start - end)),
                (false, false) => high = -1.0,
            }
        }
        for aim in [&first, &last] {
            if let Some(barrier) = self.bar(aim) {
                tally.bar(barrier);
            }
        }
        let kept_off = self.turned(tally.leg, (first.standoff, last.standoff), &mut low, &mut high);
        if kept_off > 0.0 {
            let middle = 0.5 * (first.standoff + last.standoff);
            let (from, to) = self.turned_off(tally.leg).next().unwrap_or((middle, middle));
            tally.bar(Barrier::Turn { standoff: middle, from, to });
        }
        if low > high {
            return;
        }
        tally.crossed += length * clipped * math::larger(high - low - kept_off, 0.0);
        for part in [low, high] {
            let along = |start: f32, end: f32| start + (end - start) * part;
            let aim = Aim {
                leg: tally.leg,
                standoff: along(first.standoff, last.standoff),
                path: along(first.path, last.path),
            };
            tally.take(&aim, along(from.z, to.z));
        }
    }

    /// Takes off the ends of a stretch where the leg met standing metal instead of turning; what that leaves out of its
    /// middle is given back, as a part of the piece.
    fn turned(&self, leg: u32, (first, last): (f32, f32), low: &mut f32, high: &mut f32) -> f32 {
        let mut inside = 0.0;
        for (from, to) in self.turned_off(leg) {
            // p runs straight from first to last
            let (one, other) = if first == last {
                if from < first && first < to { (0.0, 1.0) } else { continue }
            } else {
                let at = |standoff: f32| (standoff - first) / (last - first);
                (math::smaller(at(from), at(to)), math::larger(at(from), at(to)))
            };
            if other <= *low || one >= *high {
                continue;
            }
            match (one <= *low, other >= *high) {
                (true, true) => {
                    *high = *low - 1.0;
                    return 1.0;
                }
                (true, false) => *low = other,
                (false, true) => *high = one,
                (false, false) => inside += other - one,
            }
        }
        inside
    }

    /// [`off_square`] of one of its legs, from whichever face.
    fn off_square(&self, leg: u32, from: Point, to: Point) -> Option<Degrees> {
        match self.face() {
            Face::Near => off_square(self.legs(), self.side(), leg, from, to),
            Face::Far => {
                let own = |point: Point| Point { y: point.y / self.scale(), z: self.own_depth(point.z) };
                off_square(self.legs(), self.side(), leg, own(from), own(to))
            }
        }
    }
}

struct Tally {
    leg: u32,
    used: Option<LegReach>,
    length: f32,
    crossed: f32,
    barrier: Option<Barrier>,
}

impl Tally {
    fn bar(&mut self, barrier: Barrier) {
        self.barrier.get_or_insert(barrier);
    }

    fn take(&mut self, aim: &Aim, depth: f32) {
        let Aim { leg, standoff, path } = *aim;
        let one = LegReach {
            leg,
            from: standoff,
            to: standoff,
            shortest: (path, depth),
            longest: path,
            share: 0.0,
            barrier: None,
            off_square: None,
        };
        let used = self.used.get_or_insert(one);
        used.from = math::smaller(used.from, standoff);
        used.to = math::larger(used.to, standoff);
        used.longest = math::larger(used.longest, path);
        if path < used.shortest.0 {
            used.shortest = (path, depth);
        }
    }
}

/// How far off square a leg meets a line of the cross-section, degrees: 0 is square, 90 runs along it.
///
/// sin(off) = |d · f|, d the beam's direction at mid-depth of the line and f the line's own. `None` deeper than the beam
/// gets, or of a line without length.
///
/// ```
/// use halfskip::part::joint::Point;
/// use halfskip::part::Part;
/// use halfskip::part::path::{Axis, Plate};
/// use halfskip::planning::plan::off_square;
/// use halfskip::part::side::Side;
/// use halfskip::units::{Degrees, Millimetres};
/// let axis = Axis::new(Degrees::new(60.0).unwrap()).unwrap();
/// let legs = Part::Flat(Plate::new(Millimetres::new(20.0).unwrap()).unwrap()).legs(&axis);
/// // A bevel of 30 degrees on side B: leg 1 of 60 degrees from side A meets it squarely, leg 2 from side B too.
/// let (top, foot) = (Point { y: 11.547, z: 0.0 }, Point { y: 0.0, z: 20.0 });
/// assert!(off_square(&legs, Side::A, 1, top, foot).unwrap().get() < 0.01);
/// assert!(off_square(&legs, Side::B, 2, top, foot).unwrap().get() < 0.01);
/// assert!((off_square(&legs, Side::B, 1, top, foot).unwrap().get() - 60.0).abs() < 0.01);
/// ```
#[must_use]
pub fn off_square(legs: &Legs, side: Side, leg: u32, from: Point, to: Point) -> Option<Degrees> {
    let depth = 0.5 * (from.z + to.z);
    let (sin, cos) = math::sin_cos(legs.angle_at(depth)?.get());
    let down = if leg % 2 == 1 { cos } else { -cos };
    // On a curved part a line's run along the surface shrinks or grows with depth.
    let stretch = match legs {
        Legs::Flat(..) => 1.0,
        Legs::Around(course) => Part::Around(*course.pipe()).stretch(depth),
    };
    let (across, below) = ((to.y - from.y) * stretch, to.z - from.z);
    let length = math::sqrt(across * across + below * below).filter(|length| *length > 0.0)?;
    let along = (side.sign() * sin * across + down * below) / length;
    // Rounding may leave a cosine just above 1.
    let along = math::smaller(along.abs(), 1.0);
    math::asin(f64::from(along)).and_then(|angle| Degrees::new(angle).ok())
}

fn between(from: Point, to: Point, part: f32) -> Point {
    Point { y: from.y + (to.y - from.y) * part, z: from.z + (to.z - from.z) * part }
}

fn length(from: Point, to: Point) -> f32 {
    let (across, below) = (to.y - from.y, to.z - from.z);
    math::sqrt(across * across + below * below).unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::super::Limits;
    use super::*;
    use crate::part::joint::{Curvature, Joint, JointSpec, Preparation, ScannedFrom};
    use crate::part::path::Axis;
    use crate::units::Millimetres;

    #[test]
    fn a_line_that_leaves_the_beam_below_is_reached_as_far_told_upward_as_downward() {
        let mm = Millimetres::constant;
        let curvature = Some(Curvature::AroundPipe { od: mm(100.0), from: ScannedFrom::Outside });
        let spec =
            JointSpec { gap: Some(mm(2.0)), curvature, ..JointSpec::new(mm(20.0), Preparation::Square) };
        let axis = Axis::new(Degrees::constant(45.0)).unwrap();
        let joint = Joint::new(spec).unwrap();
        let scan = Scan::anywhere(&joint, &axis, mm(0.0), Side::A, Limits::default()).unwrap();
        let reached = |points: &[Point]| {
            let mut target = Target { kind: TargetKind::Root, side: Side::A, points: heapless::Vec::new() };
            target.points.extend_from_slice(points).unwrap();
            scan.reach(1, &target).unwrap()
        };
        let (top, foot) = (Point { y: 0.0, z: 10.0 }, Point { y: 0.0, z: 20.0 });
        let (down, up) = (reached(&[top, foot]), reached(&[foot, top]));
        // It turns at 50 (1 − sin 45°) = 14.64.
        assert!((down.share - 0.464).abs() < 1e-3, "{down:?}");
        assert!((up.share - down.share).abs() < 1e-4 && (up.longest - down.longest).abs() < 0.1, "{up:?}");
    }

    #[test]
    fn of_two_paths_that_are_equally_short_the_first_tells_its_depth() {
        let mut tally = Tally { leg: 1, used: None, length: 0.0, crossed: 0.0, barrier: None };
        for (path, depth) in [(12.0, 4.0), (10.0, 5.0), (10.0, 6.0)] {
            tally.take(&Aim { leg: 1, standoff: 0.0, path }, depth);
        }
        assert_eq!(tally.used.unwrap().shortest, (10.0, 5.0));
    }
}
