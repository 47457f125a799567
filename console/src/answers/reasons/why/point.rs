//! From the views of an indication to its one point.

use core::fmt;

use halfskip::evaluate::fusion::quantile_95;
use halfskip::findings::{Basis, Point, geometry, point_views};
use halfskip::record::examination::{Facts, Pooled};
use halfskip::units::decimal::Fixed;

use super::steps::{Source, Steps};
use crate::answers::indication::Shape;
use crate::answers::page::{Freedom, Page};

/// Steps to the point.
#[inline(never)]
pub(super) fn answer(
    facts: &Facts<'_>,
    indication: u8,
    point: Option<&Point>,
    steps: &mut Steps<'_, '_>,
) -> fmt::Result {
    steps.page.heading(format_args!("Place"))?;
    let lengths = steps.page.lengths;
    let Some(point) = point else {
        return steps.given("y, z", format_args!("not known: no reading has a place"));
    };
    views(facts, indication, steps.page)?;
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
    steps.given("x", format_args!("{}, of the strongest view", lengths.of(point.x)))?;
    match point.consistent {
        None => {}
        Some(agree) => steps.step(
            "chi^2",
            format_args!(
                "sum of the squared misfits = {}, {} the 95 % limit {} at {}: the views {}",
                Fixed(point.chi_squared, 2),
                if agree { "within" } else { "beyond" },
                Fixed(quantile_95(point.degrees_of_freedom), 2),
                Freedom(point.degrees_of_freedom),
                if agree { "agree" } else { "DISAGREE" }
            ),
            Source::Gum,
        )?,
    }
    let Some(found) = geometry(facts, indication) else { return Ok(()) };
    steps.step(
        "shape",
        format_args!(
            "{}: distance across the weld from where the joint as recorded has it, by path and depth, over its \
             expanded uncertainty; within 1 the shape of the joint explains it. Advice",
            Shape(found)
        ),
        Source::Practice,
    )
}

/// The entries of the views.
fn views(facts: &Facts<'_>, indication: u8, page: &mut Page<'_>) -> fmt::Result {
    let views = point_views(facts, indication);
    page.step("views", format_args!("{} (the best reading of each probe, side and leg)", Entries(&views)))
}

struct Entries<'a>(&'a [Pooled<'a>]);

impl fmt::Display for Entries<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut views = self.0.iter();
        if let Some(first) = views.next() {
            let word = if self.0.len() == 1 { "entry" } else { "entries" };
            write!(f, "{word} {}", first.number())?;
        }
        views.try_for_each(|view| write!(f, ", {}", view.number()))
    }
}
