//! Does it break a face: corners, echoes at a face, and echoes from inside beside them.
//!
//! A flaw that breaks a face answers there with a corner that returns the beam whole, and from its edge with a tip echo
//! that is weaker by far: 18 to 30 dB in simulated notches. A buried reflector answers directly, and by way of the face
//! about as strongly. So echoes at a face beside others from inside are a corner only where they stand far above.

use super::case::{Case, Notes, largest, smallest};
use super::echo::{AtFace, Echo};
use super::evidence::{Fact, Says};
use super::group::Group;
use crate::math;
use crate::part::side::Face;
use crate::record::entry::PointPeaked;

/// From this margin over everything inside an echo at a face is a corner, dB. Common practice, no source.
const CORNER: f32 = 14.0;
/// Beams up to this angle, deg, have a width that is known well enough; from this share of it an echo is too wide for a
/// corner. Common practice, no source.
const STEEP: f32 = 54.0;
const WIDE: f32 = 1.6;
/// Echoes at both faces within this of one another are by way of them, dB. Common practice, no source.
const ALIKE: f32 = 10.0;
/// How far across the edge of a flaw may lie from its corner, mm. Common practice, no source.
const LEANS: f32 = 2.0;
/// How far across echoes at both faces may lie apart, either of them from what lies between them, mm. Common practice,
/// no source.
const OPPOSITE: f32 = 4.0;
/// An echo at a face so far under the strongest of its stand does not count, dB. Common practice, no source.
const LOST: f32 = 14.0;
/// Under this level over the reference an echo at a face is weak for a corner, dB. Common practice, no source; simulated
/// corners of notches 3 mm high give 6 to 12 dB over a 3 mm side-drilled hole, buried slots 3 dB under it at most.
const LIKELY: f32 = 4.0;
/// Up to this margin it is none, dB. Common practice, no source.
const NO_CORNER: f32 = 11.0;

/// What a face was found to answer with.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum AtTheFace {
    /// A corner.
    Corner,
    /// Echoes by way of it.
    ByWayOf,
    /// An echo too wide for a corner: by way of it, or of its reinforcement.
    Wide,
    /// Echoes of stands that see nothing inside, though others do.
    Alone,
    /// Echoes of which nobody can say.
    Untold,
}

/// Notes what tells of the faces; returns what each face answers with, the near one first.
#[inline(never)]
pub(super) fn note(case: &Case<'_>, notes: &mut Notes) -> [Option<AtTheFace>; 2] {
    let tip = |point| matches!(point, PointPeaked::UpperTip | PointPeaked::LowerTip);
    let (tips, corners) = (case.peaked(tip), case.peaked(|point| point == PointPeaked::Corner));
    let mut faces = Face::both().map(|face| at_face(case, face, notes));
    if let Some(apart) = at_both(case).filter(|_| !faces.contains(&Some(AtTheFace::Corner))) {
        notes.add(Fact::AtBothFaces { apart }, Says { far: -1, near: -1, ..Says::buried(1) });
        faces = [Some(AtTheFace::ByWayOf); 2];
    }
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
    inside(case, corner, faces.contains(&Some(AtTheFace::Alone)), notes);
    faces
}

fn at_face(case: &Case<'_>, face: Face, notes: &mut Notes) -> Option<AtTheFace> {
    let peaked = case.at(face).filter(|echo| echo.reading.point() == PointPeaked::Corner).count() as u32;
    if peaked > 0 {
        notes.add(Fact::CornerPeaked { face, readings: peaked }, Says::breaks(face, 3).and_planar(1));
        return Some(AtTheFace::Corner);
    }
    let views = best(case, face).count() as u32;
    if views == 0 {
        return case.past(face).next().map(|_| AtTheFace::Untold);
    }
    let confirmed = case.confirmed().is_some();
    let first = best(case, face).next().map(|echo| echo.probe());
    let paired = best(case, face).all(|echo| Some(echo.probe()) == first);
    let says = Says::breaks(
        face,
        match (confirmed, views) {
            (false, 1) => 1,
            // Two by different probes may each be by way of the face.
            (false, 2) if !paired => 1,
            (false, _) => 2,
            (true, 1) => 0,
            (true, _) => 1,
        },
    );
    notes.add(Fact::AtFace { face, views }, says);
    weak(case, face, notes);
    let wide = wide(case, face, notes);
    let untold = Some(if wide { AtTheFace::Wide } else { AtTheFace::Untold });
    if !confirmed {
        // One stand alone may have taken the flank of a corner for something inside.
        return untold;
    }
    let margins = || best(case, face).filter_map(|echo| margin(case, echo));
    let beside = margins().count() as u32;
    let (least, most) = (smallest(margins()), largest(margins()));
    if let Some(margin) = most.filter(|most| *most <= NO_CORNER && 2 * beside >= views) {
        notes.add(Fact::ByWayOf { face, margin }, Says::breaks(face, -2).and_buried(1));
        return Some(AtTheFace::ByWayOf);
    }
    if wide || views < 2 || least.is_some_and(|least| least < CORNER) {
        return untold;
    }
    if let Some(margin) = least {
        notes.add(Fact::OverInside { face, margin }, Says::breaks(face, 2).and_buried(-2));
        return Some(AtTheFace::Corner);
    }
    if case.confirmed().is_some_and(|inside| inside.stands > views) {
        return untold;
    }
    notes.add(Fact::NothingInside { face, views }, Says::breaks(face, 1));
    Some(AtTheFace::Alone)
}

/// The strongest echo at a face of each stand that saw one stand out, where the reflector inside lies if one is
/// confirmed.
fn best<'c, 'a>(case: &'c Case<'a>, face: Face) -> impl Iterator<Item = &'c Echo<'a>> + Clone + use<'c, 'a> {
    case.at(face).filter(move |echo| {
        let outdone = |other: &&Echo<'_>| other.same_stand(echo) && other.strength > echo.strength;
        let same = case.echoes.iter().filter(|other| other.same_stand(echo));
        let lost = largest(same.map(|other| other.strength)).is_some_and(|most| echo.strength < most - LOST);
        let there = case
            .confirmed()
            .zip(echo.at_face)
            .is_none_or(|(inside, at)| above_or_beside(inside.y, inside.u_y, &at));
        there && !lost && !case.at(face).any(|other| outdone(&other))
    })
}

/// An echo at a face much wider than a point's, by a beam steep enough for its width to be known: no corner. A corner
/// answers where the axis points at it; what goes to a buried reflector by way of the face finds it over a wide travel,
/// and so does the hollow of a bead.
fn wide(case: &Case<'_>, face: Face, notes: &mut Notes) -> bool {
    let steep = || case.at(face).filter(|echo| echo.angle < STEEP);
    let ratio = |echo: &Echo<'_>| Some((echo.look?.width, echo.beam?.most()?));
    let narrow = steep().filter_map(ratio).any(|(width, beam)| width < WIDE * beam);
    let Some((width, beam)) = steep().find_map(ratio).filter(|_| !narrow) else { return false };
    // From one side alone a bead's hollow looks the same.
    let first = case.at(face).next().map(|echo| echo.side());
    let both = case.at(face).any(|echo| Some(echo.side()) != first);
    let says = Says::breaks(face, -2).and_buried(both.into());
    notes.add(Fact::WideAtFace { face, width, beam }, says);
    true
}

/// A corner returns the beam whole: of a flaw a wavelength high and more it stands over the echo of a reference hole.
/// What goes to a buried reflector by way of the face and comes back straight is weaker.
fn weak(case: &Case<'_>, face: Face, notes: &mut Notes) {
    // A corner that leans may plot beside its face: no echo at all is stronger.
    let levels = case.echoes.iter().filter(|echo| !echo.cut);
    if let Some(level) = largest(levels.filter_map(Echo::seen_level)).filter(|level| *level < LIKELY) {
        notes.add(Fact::WeakAtFace { face, level, limit: LIKELY }, Says::breaks(face, -1));
    }
}

/// Whether a place inside lies where the edge of a flaw may whose corner is at a face.
fn above_or_beside(y: f32, u_y: f32, at: &AtFace) -> bool {
    (y - at.y).abs() <= u_y + 2.0 * math::sqrt(at.own).unwrap_or(0.0) + LEANS
}

/// How far an echo at a face stands over everything inside that the same stand saw above or beside it, dB.
fn margin(case: &Case<'_>, echo: &Echo<'_>) -> Option<f32> {
    let at = echo.at_face?;
    let inside =
        case.inside().filter(|other| other.same_stand(echo) && above_or_beside(other.y, other.u_y, &at));
    largest(inside.map(|other| other.strength)).map(|inside| echo.strength - inside)
}

/// How far the strongest echoes at both faces lie apart, dB, where they lie at one place across and are about as strong.
fn at_both(case: &Case<'_>) -> Option<f32> {
    let strongest = |face: Face| {
        math::largest_by(best(case, face).filter(|echo| echo.at_face.is_some()), |echo| echo.strength)
    };
    let (near, far) = (strongest(Face::Near)?, strongest(Face::Far)?);
    let across = near.at_face?.y - far.at_face?.y;
    let apart = (near.strength - far.strength).abs();
    (across.abs() <= OPPOSITE && apart <= ALIKE).then_some(apart)
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

fn inside(case: &Case<'_>, corner: bool, doubted: bool, notes: &mut Notes) {
    let Some(main) = case.main() else { return };
    let Group { y, u_y, z, u_z, stands: views, both_sides, .. } = main;
    // Beside a corner the echo from inside is its tip, and what is far stronger elsewhere may be one.
    let outshone = outshone(case).filter(|_| !corner);
    if let Some(margin) = outshone {
        notes.add(Fact::Outshone { margin }, Says::NOTHING);
    }
    let says = match (corner || outshone.is_some(), case.confirmed().is_some()) {
        (true, _) => Says::NOTHING,
        // One stand alone beside echoes at a face may have taken the flank of a corner for something inside.
        (false, false) if Face::both().into_iter().any(|face| best(case, face).count() > 1) => Says::NOTHING,
        (false, false) => Says::buried(1),
        (false, true) => Says::buried(if doubted { 1 } else { 2 }),
    };
    notes.add(Fact::Inside { views, y, u_y, z, u_z, both_sides }, says);
    if let Some((upper, lower)) = ends(case) {
        let tilt = tilt(&upper, &lower);
        let says = if corner { Says::planar(1) } else { Says::planar(2).and_buried(2) };
        notes.add(Fact::TwoEnds { upper: upper.z, lower: lower.z, tilt }, says);
    } else if let Some((above, below)) = body(case) {
        notes.add(Fact::Body { above, below }, Says::planar(-1));
    }
}

/// How far the strongest echo of all stands over every one from inside, dB, where that is as far as a corner does; a
/// series that ends on it counts.
fn outshone(case: &Case<'_>) -> Option<f32> {
    let elsewhere = case.echoes.iter().filter(|echo| echo.site.inside().is_none());
    let over =
        largest(elsewhere.map(|echo| echo.strength))? - largest(case.inside().map(|echo| echo.strength))?;
    (over >= CORNER).then_some(over)
}

/// Angle of the line between two ends off upright, deg, 0 to 90 either way.
fn tilt(upper: &Group, lower: &Group) -> f32 {
    math::atan2(f64::from(upper.y - lower.y), f64::from(lower.z - upper.z)).abs()
}

/// Two places, one above the other, that some stand saw both of in one leg, and each of which two stands saw: the ends
/// of one reflector. A body shows a leg only the side that is turned to it.
pub(super) fn ends(case: &Case<'_>) -> Option<(Group, Group)> {
    for (first, one) in case.groups.iter().enumerate() {
        for (second, other) in case.groups.iter().enumerate().skip(first.saturating_add(1)) {
            let member =
                |number: usize| case.echoes.iter().filter(move |echo| echo.group == Some(number as u8));
            let seen_both = member(first)
                .any(|echo| member(second).any(|twin| twin.same_stand(echo) && twin.leg == echo.leg));
            if one_above_the_other(one, other) && seen_both {
                return Some(if one.z < other.z { (*one, *other) } else { (*other, *one) });
            }
        }
    }
    None
}

/// Whether two places, each seen by two stands and by a first leg, lie one above the other.
fn one_above_the_other(one: &Group, other: &Group) -> bool {
    let (y, z) = (one.y - other.y, one.z - other.z);
    let apart = z * z > one.u_z * one.u_z + other.u_z * other.u_z;
    // Ends that lie farther apart across than in depth are two reflectors as well as one.
    let above = y.abs() <= z.abs();
    apart && above && one.direct && other.direct && one.stands > 1 && other.stands > 1
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
    let (above, below) = (of(true)?, of(false)?);
    deeper(below, above).then_some((above.0, below.0))
}

/// Whether a depth lies below another by more than their uncertainties, which stand beside them.
fn deeper((below, u_1): (f32, f32), (above, u_2): (f32, f32)) -> bool {
    let off = math::larger(below - above, 0.0);
    off * off > u_1 * u_1 + u_2 * u_2
}

#[cfg(test)]
mod tests;
