//! From a path to depth and surface distance where the beam runs around a pipe.

use core::fmt;

use halfskip::math;
use halfskip::part::curved::{Course, Pipe};
use halfskip::part::joint::ScannedFrom;
use halfskip::part::side::Face;
use halfskip::record::entry::PointPeaked;
use halfskip::record::examination::Facts;
use halfskip::units::decimal::{Fixed, fixed};

use super::derivation::Derivation;
use super::steps::{Source, Steps};

/// Steps to z, d and y. The pipe is the one of the joint; a probe on the far face meets it turned.
pub(super) fn answer(
    facts: &Facts<'_>,
    how: &Derivation<'_>,
    pipe: &Pipe,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let Some(axis) = how.state.axis() else { return Ok(()) };
    let met = if how.reading.face() == Face::Near { *pipe } else { pipe.turned() };
    let course = Course::new(axis, &met);
    radii(&met, steps)?;
    if how.reading.point() == PointPeaked::Corner {
        corner(how, &met, steps)?;
    } else if how.is_tied() {
        how.known_distance(facts, steps)?;
        let z = how.lengths.fine(how.depth());
        steps.step("z", format_args!("{z}, where a ray with that d has the path s"), Source::Geometry)?;
        how.below_near_face(steps)?;
    } else {
        on_the_axis(how, &course, steps)?;
    }
    across(how, pipe, steps)
}

fn radii(met: &Pipe, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let lengths = steps.page.lengths;
    let (scanned, other) = (met.scanned_radius(), met.turned().scanned_radius());
    steps.given(
        "q, o",
        format_args!(
            "radii of the scanned face and of the opposite one, {} and {}",
            lengths.fine(scanned),
            lengths.fine(other)
        ),
    )
}

fn on_the_axis(how: &Derivation<'_>, course: &Course, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let (lengths, leg, met) = (how.lengths, how.place.leg, course.pipe());
    let (angle, length) = (Fixed(how.angle(), 2), course.leg_length());
    let sign = if met.from() == ScannedFrom::Outside { "-" } else { "+" };
    let formula = match (course.misses_bore(), met.from()) {
        (true, _) => "half the chord, the bore is missed: q cos a",
        (false, ScannedFrom::Outside) => "q cos a - sqrt(o^2 - q^2 sin^2 a)",
        (false, ScannedFrom::Inside) => "sqrt(o^2 - q^2 sin^2 a) - q cos a",
    };
    steps.step(
        "leg",
        format_args!("{formula} = {}, a {angle} deg", lengths.fine(length)),
        Source::Geometry,
    )?;
    let s = lengths.fine(how.path);
    steps.step(
        "n",
        format_args!("s / leg = {s} / {} = {}, rounded up: {leg}", lengths.fine(length), {
            Fixed(how.path / length, 3)
        }),
        Source::Welds,
    )?;
    if how.reading.skew().is_some() {
        let (z, d) = (lengths.fine(how.depth()), lengths.fine(how.place.distance.get()));
        steps.step(
            "z, d",
            format_args!(
                "{z}, {d}: as of an unskewed beam in the cross-section, with the path s f, \
                 f = sqrt(1 - sin^2 a sin^2 k), and the sine sin a cos k / f"
            ),
            Source::Geometry,
        )?;
        return how.below_near_face(steps);
    }
    let odd = leg % 2 == 1;
    let folded =
        if odd { how.path - leg.saturating_sub(1) as f32 * length } else { leg as f32 * length - how.path };
    let within = lengths.fine(folded);
    steps.given(
        "s'",
        format_args!(
            "{} = {within}, the path folded into leg 1",
            if odd { "s - (n - 1) leg" } else { "n leg - s" }
        ),
    )?;
    let depth = how.depth();
    let rho = match met.from() {
        ScannedFrom::Outside => met.scanned_radius() - depth,
        ScannedFrom::Inside => met.scanned_radius() + depth,
    };
    steps.step(
        "rho",
        format_args!("sqrt(q^2 + s'^2 {sign} 2 q s' cos a) = {}", lengths.fine(rho)),
        Source::Geometry,
    )?;
    steps.step(
        "z",
        format_args!("the distance of rho from q = {}", lengths.fine(depth)),
        Source::Geometry,
    )?;
    how.below_near_face(steps)?;
    let folds = if odd { "(n - 1) half skips + q phi" } else { "n half skips - q phi" };
    steps.step(
        "d",
        format_args!(
            "{folds}, phi = atan2(s' sin a, q {sign} s' cos a), half skip {}: {}",
            lengths.fine(course.half_skip()),
            lengths.fine(how.place.distance.get())
        ),
        Source::Geometry,
    )
}

fn corner(how: &Derivation<'_>, met: &Pipe, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let (lengths, leg) = (how.lengths, how.place.leg);
    steps.step("n", format_args!("a corner lies at a face: {leg}, nearest to s / leg"), Source::Geometry)?;
    how.corner_depth(steps)?;
    let (q, o) = (lengths.fine(met.scanned_radius()), lengths.fine(met.turned().scanned_radius()));
    let one = lengths.fine(how.path / leg as f32);
    steps.step(
        "d",
        format_args!(
            "n q acos((q^2 + o^2 - (s / n)^2) / (2 q o)) with q {q}, o {o}, s / n {one}: {}; the angle drops out",
            lengths.fine(how.place.distance.get())
        ),
        Source::Geometry,
    )
}

/// y = g κ (−p + e + d cos k), κ the ratio of the radii for a probe on the far face.
fn across(how: &Derivation<'_>, pipe: &Pipe, steps: &mut Steps<'_, '_>) -> fmt::Result {
    let lengths = how.lengths;
    let Some(skew) = how.reading.skew() else {
        if how.reading.face() == Face::Near {
            return how.across(steps);
        }
        let scale = pipe.scanned_radius() / pipe.turned().scanned_radius();
        let y = lengths.fine(how.place.y.get());
        return steps.step(
            "y",
            format_args!("g (-p + e + d) times {}, near by far radius, = {y}", Fixed(scale, 4)),
            Source::Welds,
        );
    };
    let (y, x) = (lengths.fine(how.place.y.get()), lengths.fine(how.place.x.get()));
    let sin = math::sin_cos(how.angle()).0;
    steps.step("y", format_args!("{y}, by the arc in the cross-section"), Source::Welds)?;
    steps.step(
        "x",
        format_args!(
            "x_probe + s sin a sin k = {} + {} x {} sin {} deg = {x}",
            lengths.fine(how.reading.x().get()),
            lengths.fine(how.path),
            Fixed(sin, 4),
            fixed(skew.get())
        ),
        Source::Welds,
    )
}
