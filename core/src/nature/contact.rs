//! Does it break a face: corners, echoes at a face, and echoes from inside beside them.
//!
//! A flaw that breaks a face answers there with a corner that returns the beam whole, and from its edge with a tip echo
//! that is weaker by far: 18 to 30 dB in simulated notches. A buried reflector answers directly, and by way of the face
//! about as strongly. So echoes at a face beside others from inside are a corner only where they stand far above.

use super::case::{Case, Notes, largest, smallest};
use super::echo::Echo;
use super::evidence::{Fact, Says};
use super::group::{Group, stands};
use crate::entry::PointPeaked;
use crate::math;
use crate::side::Face;

/// From this margin over everything inside an echo at a face is a corner, dB. Common practice, no source.
const CORNER: f32 = 14.0;
/// Up to this margin it is none, dB. Common practice, no source.
const NO_CORNER: f32 = 11.0;

/// What a face was found to answer with.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum AtTheFace {
    /// A corner.
    Corner,
    /// Echoes by way of it.
    ByWayOf,
    /// Echoes of which nobody can say.
    Untold,
}

/// Notes what tells of the faces; returns what each face answers with, the near one first.
pub(super) fn note(case: &Case<'_>, notes: &mut Notes) -> [Option<AtTheFace>; 2] {
    let tip = |point| matches!(point, PointPeaked::UpperTip | PointPeaked::LowerTip);
    let (tips, corners) = (case.peaked(tip), case.peaked(|point| point == PointPeaked::Corner));
    let faces = Face::both().map(|face| at_face(case, face, notes));
    let corner = faces.contains(&Some(AtTheFace::Corner));
    if tips > 0 && corners > 0 {
        notes.add(Fact::TipPeaked { readings: tips }, Says { planar: 2, ..Says::flaw(2) });
    } else if let Some(apart) = both_tips(case) {
        notes.add(Fact::BothTipsPeaked { apart }, Says::planar(2).and_buried(2));
    }
    if let Some(seen) = case.observed.tip {
        let weight = if seen { 2 } else { -1 };
        notes
            .add(Fact::TipObserved { seen }, Says { planar: if seen { 1 } else { 0 }, ..Says::flaw(weight) });
    }
    inside(case, corner, notes);
    faces
}

fn at_face(case: &Case<'_>, face: Face, notes: &mut Notes) -> Option<AtTheFace> {
    let peaked = case.at(face).filter(|echo| echo.reading.point() == PointPeaked::Corner).count() as u32;
    if peaked > 0 {
        notes.add(Fact::CornerPeaked { face, readings: peaked }, Says::breaks(face, 2).and_planar(1));
        return Some(AtTheFace::Corner);
    }
    let views = stands(case.at(face));
    if views == 0 {
        return case.past(face).next().map(|_| AtTheFace::Untold);
    }
    let alone = case.confirmed().is_none();
    let margins = || case.at(face).filter_map(|echo| margin(case, echo));
    let says = Says::breaks(face, if alone && views > 1 { 2 } else { 1 });
    notes.add(Fact::AtFace { face, views }, says);
    let (Some(least), Some(most)) = (smallest(margins()), largest(best_of_stands(case, face))) else {
        return Some(AtTheFace::Untold);
    };
    if least >= CORNER {
        notes.add(Fact::OverInside { face, margin: least }, Says::breaks(face, 2).and_buried(-2));
        return Some(AtTheFace::Corner);
    }
    if most <= NO_CORNER {
        notes.add(Fact::ByWayOf { face, margin: most }, Says::breaks(face, -2).and_buried(1));
        return Some(AtTheFace::ByWayOf);
    }
    Some(AtTheFace::Untold)
}

/// How far an echo at a face stands over everything inside that the same stand saw, dB.
fn margin(case: &Case<'_>, echo: &Echo<'_>) -> Option<f32> {
    let inside = case.inside().filter(|other| other.same_stand(echo));
    largest(inside.map(|other| other.strength)).map(|inside| echo.strength - inside)
}

/// The margins of the strongest echoes at a face, stand by stand.
fn best_of_stands<'c>(case: &'c Case<'_>, face: Face) -> impl Iterator<Item = f32> + use<'c> {
    case.at(face).filter_map(move |echo| {
        let strongest =
            case.at(face).filter(|other| other.same_stand(echo)).all(|other| other.strength <= echo.strength);
        margin(case, echo).filter(|_| strongest)
    })
}

/// Depth between upper and lower tips that were peaked without a corner.
fn both_tips(case: &Case<'_>) -> Option<f32> {
    let mean = |wanted: PointPeaked| {
        let (mut sum, mut count) = (0.0f32, 0.0f32);
        for z in case
            .echoes
            .iter()
            .filter(|echo| echo.reading.point() == wanted)
            .filter_map(|echo| echo.site.inside())
        {
            (sum, count) = (sum + z, count + 1.0);
        }
        (count > 0.0).then(|| sum / count)
    };
    Some(mean(PointPeaked::LowerTip)? - mean(PointPeaked::UpperTip)?)
}

fn inside(case: &Case<'_>, corner: bool, notes: &mut Notes) {
    let Some(main) = case.main() else { return };
    let Group { y, u_y, z, u_z, stands: views, both_sides } = main;
    // Beside a corner the echo from inside is its tip.
    let says = match (corner, views) {
        (true, _) => Says::NOTHING,
        (false, 1) => Says::buried(1),
        (false, _) => Says::buried(2),
    };
    notes.add(Fact::Inside { views, y, u_y, z, u_z, both_sides }, says);
    if let Some((upper, lower)) = ends(case) {
        let tilt = math::atan2(f64::from(upper.y - lower.y), f64::from(lower.z - upper.z)).abs();
        let says = if corner { Says::planar(1) } else { Says::planar(2).and_buried(2) };
        notes.add(Fact::TwoEnds { upper: upper.z, lower: lower.z, tilt }, says);
    } else if let Some((above, below)) = body(case) {
        notes.add(Fact::Body { above, below }, Says::planar(-1));
    }
}

/// Two places, one above the other, that some stand saw both of in one leg, and each of which two stands saw: the ends of one reflector. A
/// body shows a leg only the side that is turned to it.
pub(super) fn ends(case: &Case<'_>) -> Option<(Group, Group)> {
    for (first, one) in case.groups.iter().enumerate() {
        for (second, other) in case.groups.iter().enumerate().skip(first.saturating_add(1)) {
            let (y, z) = (one.y - other.y, one.z - other.z);
            let apart = z * z > one.u_z * one.u_z + other.u_z * other.u_z;
            // Ends that lie farther apart across than in depth are two reflectors as well as one.
            let above = y.abs() <= z.abs();
            let member =
                |number: usize| case.echoes.iter().filter(move |echo| echo.group == Some(number as u8));
            let seen_both = member(first)
                .any(|echo| member(second).any(|twin| twin.same_stand(echo) && twin.leg == echo.leg));
            if apart && above && seen_both && one.stands > 1 && other.stands > 1 {
                return Some(if one.z < other.z { (*one, *other) } else { (*other, *one) });
            }
        }
    }
    None
}

/// Depths that odd legs and even legs see, where they differ by more than their uncertainty: what each leg sees is the
/// side of a body that is turned to it.
fn body(case: &Case<'_>) -> Option<(f32, f32)> {
    let main = case.main()?;
    let of = |odd: bool| {
        let near = case.inside().filter(|echo| (echo.y - main.y).abs() <= main.u_y + echo.u_y);
        let members = near.filter(move |echo| (echo.leg % 2 == 1) == odd);
        let (mut sum, mut count, mut u) = (0.0f32, 0.0f32, f32::INFINITY);
        for echo in members {
            if let Some(z) = echo.site.inside() {
                (sum, count, u) = (sum + z, count + 1.0, math::smaller(u, echo.u_depth));
            }
        }
        (count > 1.0).then(|| (sum / count, u))
    };
    let ((above, u_1), (below, u_2)) = (of(true)?, of(false)?);
    let off = below - above;
    (off > 0.0 && off * off > u_1 * u_1 + u_2 * u_2).then_some((above, below))
}
