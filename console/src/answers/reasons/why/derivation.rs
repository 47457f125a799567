//! What the steps to a place are written from, and those that a plate and a pipe share.

use core::fmt;

use halfskip::findings::corner_with;
use halfskip::part::locate::{Budget, Contributions, Partials, Place};
use halfskip::part::side::Face;
use halfskip::record::entry::PointPeaked;
use halfskip::record::examination::{Facts, Pooled, ProbeState};
use halfskip::units::decimal::fixed;

use super::steps::{Source, Steps};
use crate::answers::page::{Lengths, joined};

/// What the steps of one reading are written from.
pub(super) struct Derivation<'a> {
    pub lengths: Lengths,
    pub state: &'a ProbeState,
    pub reading: Pooled<'a>,
    pub path: f32,
    pub thickness: f32,
    pub place: Place,
}

impl Derivation<'_> {
    /// The beam's angle, degrees.
    pub fn angle(&self) -> f32 {
        self.state.axis().map_or(0.0, |axis| axis.angle().get())
    }

    /// Whether its depth and distance hang on a corner or another view rather than on the axis.
    pub fn is_tied(&self) -> bool {
        matches!(self.reading.point(), PointPeaked::UpperTip | PointPeaked::LowerTip)
            && self.reading.together() > 0
    }

    /// The depth below the face that the probe stands on.
    pub fn depth(&self) -> f32 {
        match self.reading.face() {
            Face::Near => self.place.z.get(),
            Face::Far => self.thickness - self.place.z.get(),
        }
    }

    /// A probe on the far face counts depth from there.
    pub fn below_near_face(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
        if self.reading.face() == Face::Near {
            return Ok(());
        }
        let (t, depth) = (self.lengths.fine(self.thickness), self.lengths.fine(self.depth()));
        let z = self.lengths.fine(self.place.z.get());
        steps.step("z", format_args!("from the near face t - z = {t} - {depth} = {z}"), Source::Welds)
    }

    /// The surface distance of a tip seen together: of the corner seen with it, or of another view.
    pub fn known_distance(&self, facts: &Facts<'_>, steps: &mut Steps<'_, '_>) -> fmt::Result {
        let shown = self.lengths.fine(self.place.distance.get());
        match corner_with(facts, self.reading).ok().flatten() {
            Some(corner) => steps.step(
                "d",
                format_args!("{shown}, of the corner seen together with it, entry {}", corner.number()),
                Source::Geometry,
            ),
            None => steps.step(
                "d",
                format_args!("{shown}, of the place that another view of it was peaked at"),
                Source::Geometry,
            ),
        }
    }

    /// A corner's depth is that of its face.
    pub fn corner_depth(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
        let (z, odd) = (self.lengths.fine(self.place.z.get()), self.place.leg % 2 == 1);
        let face = match (self.reading.face(), odd) {
            (Face::Near, true) | (Face::Far, false) => "the far face, t",
            (Face::Near, false) | (Face::Far, true) => "the near face, 0",
        };
        steps.step("z", format_args!("that of {face} = {z}"), Source::Geometry)
    }

    /// y = g (−p + e + d cos k), x = x_probe + d sin k.
    pub fn across(&self, steps: &mut Steps<'_, '_>) -> fmt::Result {
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
    let parts = parts(lengths, partials.contributions(budget));
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
fn parts(lengths: Lengths, contributions: Contributions) -> impl fmt::Display {
    let names = ["angle", "index", "velocity", "thickness", "stand-off", "path"];
    let parts = names.into_iter().zip(contributions).filter(|(_, part)| *part != 0.0);
    let part = move |(name, part): (&'static str, f32)| {
        fmt::from_fn(move |f| write!(f, "{name} {}", lengths.fine(part.abs())))
    };
    fmt::from_fn(move |f| match parts.clone().next() {
        Some(_) => write!(f, "{}", joined(", ", parts.clone().map(part))),
        None => f.write_str("nothing"),
    })
}
