//! From the views of an indication to its one point.

use core::fmt;

use halfskip::evaluate::fusion::{Body, FREE_FROM, quantile_95};
use halfskip::findings::{Basis, Indication, Point};
use halfskip::record::examination::Pooled;
use halfskip::units::decimal::Fixed;

use super::steps::{Source, Steps};
use crate::answers::indication::shape_of_joint;
use crate::answers::page::{Page, freedom, joined};

/// Steps to the point.
#[inline(never)]
pub(super) fn answer(
    indication: Indication<'_>,
    point: Option<&Point>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    steps.page.heading(format_args!("Place"))?;
    let lengths = steps.page.lengths;
    let Some(point) = point else {
        return steps.given("y, z", format_args!("not known: no reading has a place"));
    };
    views(indication, steps.page)?;
    let middle = if point.basis == Basis::Tips && point.views > 1 {
        ", the middle between upper and lower tip"
    } else {
        ""
    };
    steps.step(
        "y, z",
        format_args!(
            "least squares over these views, an error of the angle, index or velocity shared by a probe's views, \
             one of the thickness by all: y {}, z {}{middle}",
            lengths.within(point.y, point.u_y),
            lengths.within(point.z, point.u_z)
        ),
        Source::Gum,
    )?;
    match point.body {
        Body::Point => {}
        Body::UpTo(across) => steps.given(
            "size",
            format_args!(
                "fewer than {FREE_FROM} echoes tell none: a radius of {r} +/- {r} is taken; each lies so much short of the \
                 centre along its beam",
                r = lengths.of(across / 2.0)
            ),
        )?,
        Body::Across { across, uncertainty } => steps.given(
            "size",
            format_args!(
                "{} across, by the same fit: each echo lies half of it short of the centre along its beam",
                lengths.within(across, uncertainty)
            ),
        )?,
    }
    steps.given("x", format_args!("{}, of the strongest view", lengths.of(point.x)))?;
    match point.consistent {
        _ if point.off_tips > 0 => steps.given(
            "echoes",
            format_args!(
                "{} lie off what the tips mark, beyond their uncertainty: the views DISAGREE",
                point.off_tips
            ),
        )?,
        None => {}
        Some(agree) => steps.step(
            "chi^2",
            format_args!(
                "sum of the squared misfits = {}, {} the 95 % limit {} at {}: the views {}",
                Fixed(point.chi_squared, 2),
                if agree { "within" } else { "beyond" },
                Fixed(quantile_95(point.degrees_of_freedom), 2),
                freedom(point.degrees_of_freedom),
                if agree { "agree" } else { "DISAGREE" }
            ),
            Source::Gum,
        )?,
    }
    let Some(found) = indication.geometry() else { return Ok(()) };
    steps.step(
        "shape",
        format_args!(
            "{}: distance across the weld from where the joint as recorded has it, by path and depth, over its \
             expanded uncertainty; within 1 the shape of the joint explains it. Advice",
            shape_of_joint(found)
        ),
        Source::Practice,
    )
}

/// The entries of the views.
fn views(indication: Indication<'_>, page: &mut Page<'_>) -> fmt::Result {
    let views = indication.views();
    page.step("views", format_args!("{} (the best reading of each probe, side and leg)", entries(&views)))
}

fn entries<'a>(views: &'a [Pooled<'a>]) -> impl fmt::Display {
    let word = if views.len() == 1 { "entry" } else { "entries" };
    fmt::from_fn(move |f| write!(f, "{word} {}", joined(", ", views.iter().map(|view| view.number()))))
}
