//! From a reading to its place.

use core::fmt;

use halfskip::decimal::{Fixed, fixed};
use halfskip::entry::{PointPeaked, Travel};
use halfskip::examination::{Facts, Pooled, ProbeState};
use halfskip::findings::ReadingFinding;
use halfskip::locate::{Budget, Partials, Place};
use halfskip::math;
use halfskip::side::Face;

use super::steps::{Source, Steps};
use crate::page::Lengths;

/// Steps to the place, or why there is none.
pub(super) fn answer(
    facts: &Facts<'_>,
    state: &ProbeState,
    found: &ReadingFinding<'_>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let lengths = steps.page.lengths;
    let path = match found.path {
        Ok(path) => path.get(),
        Err(reason) => return steps.given("s", format_args!("not known: {reason}")),
    };
    if let (Travel::Time(time), Some(fit)) = (found.reading.travel(), state.timebase()) {
        let (velocity, delay) = (Fixed(fit.base().velocity.get(), 3), Fixed(fit.base().delay.get(), 3));
        let time = fixed(time.quantity().get());
        steps.step(
            "s",
            format_args!(
                "c (time - delay) / 2 = {velocity} mm/us ({time} - {delay}) us / 2 = {}",
                lengths.finely(path)
            ),
            Source::Practice,
        )?;
    }
    let place = match found.place {
        Ok(place) => place,
        Err(reason) => return steps.given("y, z", format_args!("not known: {reason}")),
    };
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.thickness());
    let Some(thickness) = found.reading.thickness().or(joint) else { return Ok(()) };
    let how = Derivation { lengths, state, reading: found.reading, path, thickness: thickness.get(), place };
    match found.reading.point() {
        PointPeaked::Corner => how.corner(steps)?,
        PointPeaked::UpperTip | PointPeaked::LowerTip if found.reading.together() > 0 => {
            how.tied(facts, steps)?;
        }
        _ => how.on_the_axis(steps)?,
    }
    how.across(steps)?;
    expanded("U(y)", &place.y_partials, &found.budget, steps)?;
    expanded("U(z)", &place.z_partials, &found.budget, steps)
}

/// What the steps of one reading are written from.
struct Derivation<'a> {
    lengths: Lengths,
    state: &'a ProbeState,
    reading: &'a Pooled,
    path: f32,
    thickness: f32,
    place: Place,
}

impl Derivation<'_> {
    fn angle(&self) -> f32 {
        self.state.axis().map_or(0.0, |axis| axis.angle().get())
    }

    fn unfolded(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
        let (fine, angle) = (self.lengths.fine(self.path), Fixed(self.angle(), 2));
        let unfolded = self.lengths.fine(self.place.unfolded.get());
        let from = if self.state.angle_check().is_some() { "measured" } else { "nominal" };
        steps.step(
            "u",
            format_args!("s cos a = {fine} cos {angle} deg = {unfolded}, a as {from}"),
            Source::Geometry,
        )
    }

    /// The leg of an unfolded depth, and the depth of its end below the scanned face.
    fn leg_and_depth(&self, unfolded: f32, steps: &mut Steps<'_, '_>) -> fmt::Result {
        let (lengths, leg) = (self.lengths, self.place.leg);
        let (u, t) = (lengths.fine(unfolded), lengths.fine(self.thickness));
        steps.step(
            "n",
            format_args!(
                "u / t = {u} / {t} = {}, rounded up; at a face the leg that ends there: {leg}",
                Fixed(unfolded / self.thickness, 3)
            ),
            Source::Welds,
        )?;
        let below = leg.saturating_sub(1);
        let depth = match self.reading.face() {
            Face::Near => self.place.z.get(),
            Face::Far => self.thickness - self.place.z.get(),
        };
        let depth = lengths.fine(depth);
        if leg % 2 == 1 {
            steps.step(
                "z",
                format_args!("u - (n - 1) t = {u} - {below} x {t} = {depth}"),
                Source::Geometry,
            )?;
        } else {
            steps.step("z", format_args!("n t - u = {leg} x {t} - {u} = {depth}"), Source::Geometry)?;
        }
        self.below_near_face(steps)
    }

    /// A probe on the far face counts depth from there.
    fn below_near_face(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
        if self.reading.face() == Face::Near {
            return Ok(());
        }
        let (t, z) = (self.lengths.fine(self.thickness), self.lengths.fine(self.place.z.get()));
        steps.step("z", format_args!("t - z = {z} from the near face, t = {t}"), Source::Welds)
    }

    fn on_the_axis(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
        self.unfolded(steps)?;
        self.leg_and_depth(self.place.unfolded.get(), steps)?;
        let (path, distance) = (self.lengths.fine(self.path), self.lengths.fine(self.place.distance.get()));
        steps.step(
            "d",
            format_args!("s sin a = {path} sin {} deg = {distance}", Fixed(self.angle(), 2)),
            Source::Geometry,
        )
    }

    fn corner(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
        self.unfolded(steps)?;
        let (lengths, leg) = (self.lengths, self.place.leg);
        let legs = Fixed(self.place.unfolded.get() / self.thickness, 3);
        steps.step(
            "n",
            format_args!(
                "a corner lies at a face: the whole number nearest u / t = {legs}, at least 1: {leg}"
            ),
            Source::Geometry,
        )?;
        let (z, depth) = (lengths.fine(self.place.z.get()), if leg % 2 == 1 { "t" } else { "0" });
        match self.reading.face() {
            Face::Near => steps.step("z", format_args!("{depth} = {z}"), Source::Geometry)?,
            Face::Far => {
                steps.step("z", format_args!("{depth} below the far face, so {z}"), Source::Geometry)?;
            }
        }
        let (path, face) = (lengths.fine(self.path), lengths.fine(leg as f32 * self.thickness));
        let distance = lengths.fine(self.place.distance.get());
        steps.step(
            "d",
            format_args!("sqrt(s^2 - (n t)^2) = sqrt({path}^2 - {face}^2) = {distance}; the angle drops out"),
            Source::Geometry,
        )
    }

    fn tied(&self, facts: &Facts<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
        let (lengths, distance) = (self.lengths, self.place.distance.get());
        let corner = facts.readings_of(self.reading.indication()).find(|other| {
            other.point() == PointPeaked::Corner
                && (other.probe(), other.side(), other.face(), other.together())
                    == (
                        self.reading.probe(),
                        self.reading.side(),
                        self.reading.face(),
                        self.reading.together(),
                    )
        });
        let shown = lengths.fine(distance);
        match corner {
            Some(corner) => steps.step(
                "d",
                format_args!("{shown}, of the corner seen together with it, entry {}", corner.number()),
                Source::Geometry,
            )?,
            None => steps.step(
                "d",
                format_args!("{shown}, of the place that another view of it was peaked at"),
                Source::Geometry,
            )?,
        }
        let squared = f64::from(self.path) * f64::from(self.path) - f64::from(distance) * f64::from(distance);
        let unfolded = math::sqrt_f64(squared).unwrap_or(0.0) as f32;
        let (path, u) = (lengths.fine(self.path), lengths.fine(unfolded));
        steps.step(
            "u",
            format_args!(
                "sqrt(s^2 - d^2) = sqrt({path}^2 - {shown}^2) = {u}: seen together, not on the axis"
            ),
            Source::Geometry,
        )?;
        self.leg_and_depth(unfolded, steps)
    }

    /// y = g (−p + e + d cos k), x = x_probe + d sin k.
    fn across(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
        let lengths = self.lengths;
        let (standoff, index) =
            (lengths.fine(self.reading.standoff().get()), lengths.fine(self.state.index().get()));
        let (distance, y) = (lengths.fine(self.place.distance.get()), lengths.fine(self.place.y.get()));
        let sign = if self.reading.side().sign() > 0.0 { "+1" } else { "-1" };
        let Some(skew) = self.reading.skew() else {
            return steps.step(
                "y",
                format_args!("g (-p + e + d) = {sign} (-{standoff} + {index} + {distance}) = {y}"),
                Source::Welds,
            );
        };
        let skew = fixed(skew.get());
        steps.step(
            "y",
            format_args!(
                "g (-p + e + d cos k) = {sign} (-{standoff} + {index} + {distance} cos {skew} deg) = {y}"
            ),
            Source::Welds,
        )?;
        let (probe, x) = (lengths.fine(self.reading.x().get()), lengths.fine(self.place.x.get()));
        let skew = fixed(self.reading.skew().map_or(0.0, |skew| skew.get()));
        steps.step(
            "x",
            format_args!("x_probe + d sin k = {probe} + {distance} sin {skew} deg = {x}"),
            Source::Welds,
        )
    }
}

/// U = 2 sqrt(Σ (∂/∂q · w)² / 3).
pub(super) fn expanded(
    symbol: &str,
    partials: &Partials,
    budget: &Budget,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let lengths = steps.page.lengths;
    let parts = Parts(lengths, partials.contributions(budget));
    steps.step(
        symbol,
        format_args!(
            "2 sqrt(sum / 3) of the squares of {parts} = {}",
            lengths.fine(budget.expanded(partials))
        ),
        Source::Gum,
    )
}

/// What each input's half width does, by name; those that do nothing are left out.
struct Parts(Lengths, [f32; 6]);

impl fmt::Display for Parts {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let names = ["angle", "index", "velocity", "thickness", "stand-off", "path"];
        let mut first = true;
        for (name, part) in names.iter().zip(self.1) {
            if part != 0.0 {
                write!(f, "{}{name} {}", if first { "" } else { ", " }, self.0.fine(part.abs()))?;
                first = false;
            }
        }
        if first { f.write_str("nothing") } else { Ok(()) }
    }
}
