//! From tips to the height.

use core::fmt;

use halfskip::findings::{HeightMethod, HeightObservation, Point, evaluate, height_of};
use halfskip::part::side::Face;
use halfskip::record::examination::Facts;
use halfskip::units::decimal::fixed;

use super::derivation::expanded;
use super::steps::{Source, Steps};

/// Steps to the height.
#[inline(never)]
pub(super) fn answer(
    facts: &Facts<'_>,
    point: Option<&Point>,
    observations: &[HeightObservation<'_>],
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    steps.page.heading(format_args!("Height through the wall"))?;
    if observations.is_empty() {
        return steps.given("h", format_args!("not known: no tip tells it"));
    }
    for observation in observations {
        one(facts, point, observation, steps)?;
    }
    let Some(found) = height_of(facts, observations) else { return Ok(()) };
    let lengths = steps.page.lengths;
    if found.if_upright {
        let lean = fixed(facts.common().lean.get());
        let height = lengths.within(found.height, found.uncertainty);
        steps.given(
            "lean",
            format_args!(
                "up to {lean} deg either way, since one side alone does not tell: {height} if upright"
            ),
        )?;
    }
    if let Some(lean) = found.lean {
        steps.given(
            "lean",
            format_args!(
                "the tip as a point of its own, {} across from over the corner",
                lengths.within(lean.across, lean.uncertainty)
            ),
        )?;
    }
    if found.observations < 2 {
        return Ok(());
    }
    if found.disagrees() {
        return steps.given(
            "h",
            format_args!(
                "not known: the {} observations DISAGREE by more than their uncertainty, {} to {}",
                found.observations,
                lengths.of(found.lowest),
                lengths.of(found.highest)
            ),
        );
    }
    steps.step(
        "h",
        format_args!(
            "least squares over the {} observations{}: {}",
            found.observations,
            if found.consistent.is_some() { ", which agree" } else { "" },
            lengths.within(found.height, found.uncertainty)
        ),
        Source::Gum,
    )
}

fn one(
    facts: &Facts<'_>,
    point: Option<&Point>,
    observation: &HeightObservation<'_>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    let (lengths, tip) = (steps.page.lengths, observation.tip);
    let Ok(place) = evaluate(facts, tip).place else { return Ok(()) };
    let (z, h) = (lengths.fine(place.z.get()), lengths.fine(observation.height.height));
    let number = tip.number();
    match (&observation.lower, point.and_then(|point| point.corner_at)) {
        (Some(lower), _) => {
            let Ok(below) = evaluate(facts, *lower).place else { return Ok(()) };
            steps.step(
                "h",
                format_args!(
                    "z_lower - z_upper = {} - {z} = {h}, entries {} and {number}",
                    lengths.fine(below.z.get()),
                    lower.number()
                ),
                Source::Geometry,
            )?;
        }
        (None, Some(Face::Near)) => {
            steps.step(
                "h",
                format_args!("z_tip = {h}, entry {number}{}", way(observation)),
                Source::Geometry,
            )?;
        }
        (None, _) => {
            let joint = facts.common().joint.as_ref().map(|(_, joint)| joint.thickness());
            let thickness = tip.thickness().or(joint).map_or(0.0, |thickness| thickness.get());
            steps.step(
                "h",
                format_args!(
                    "t - z_tip = {} - {z} = {h}, entry {number}{}",
                    lengths.fine(thickness),
                    way(observation)
                ),
                Source::Geometry,
            )?;
        }
    }
    expanded("U(h)", &observation.height.partials, &observation.budget, steps)
}

/// How corner and tip were seen: the two ways have different geometry.
fn way<'a>(observation: &'a HeightObservation<'a>) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        f.write_str(match observation.method {
            HeightMethod::SeenTogether => ", corner and tip seen together",
            HeightMethod::PeakedApart => ", the tip peaked by itself",
            HeightMethod::BetweenTips => "",
        })
    })
}
