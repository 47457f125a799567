//! `sides ID`: every view of an indication, what each side says alone, and whether they are of one reflector.

use core::fmt::{self, Write};

use halfskip::evaluate::fusion::{Fused, fuse, quantile_95};
use halfskip::findings::{Basis, Point, evaluate};
use halfskip::part::side::Side;
use halfskip::record::entry::PointPeaked;
use halfskip::record::examination::{Facts, Pooled};

use super::Record;
use super::locate::{short, side};
use crate::answers::page::{Left, Page, Right, freedom};
use halfskip::units::decimal::Fixed;

/// Sides closer than this, mm, lie at one place as far as anybody can read a ruler.
const MEET: f32 = 0.1;

/// Answers `sides ID`.
#[inline(never)]
pub(super) fn answer(record: &Record<'_>, name: &str, page: &mut Page<'_>) -> fmt::Result {
    let facts = &record.facts;
    let Some(indication) = super::indication(record, name, page)? else { return Ok(()) };
    let views = indication.views();
    let Some(point) = indication.place() else {
        return page.heading(format_args!("no reading of indication {name} has a place"));
    };
    page.heading(format_args!("Indication {name}, the best reading of each view"))?;
    table(facts, &views, page)?;
    let lengths = page.lengths;
    let one_side = |side| {
        let of_it = views.iter().filter(|reading| reading.side() == side);
        fuse(of_it.filter_map(|reading| evaluate(facts, *reading).view()))
    };
    let (a, b) = (one_side(Side::A), one_side(Side::B));
    if let (Some(a), Some(b), Basis::Echoes) = (&a, &b, point.basis) {
        for (label, fused) in [("from side A", a), ("from side B", b)] {
            page.item(label, format_args!("y {}", lengths.within(fused.y, fused.u_y)))?;
        }
    }
    page.item(
        "all together",
        format_args!("y {}, z {}", lengths.within(point.y, point.u_y), lengths.within(point.z, point.u_z)),
    )?;
    judgement(&point, page)?;
    match (a, b, point.basis) {
        (Some(a), Some(b), Basis::Echoes) => {
            let at_root = point.consistent == Some(false) && at_far_face(facts, &point);
            apart(&a, &b, at_root, page)
        }
        _ => Ok(()),
    }
}

fn table(facts: &Facts<'_>, views: &[Pooled<'_>], page: &mut Page<'_>) -> fmt::Result {
    let longest = facts.probes().iter().map(|state| state.name().chars().count()).max().unwrap_or(0);
    let (probe, lengths) = (longest.max(5), page.lengths);
    let unit = lengths.unit();
    writeln!(
        page,
        "entry {} side leg {} {}  +/- {}  +/-      dB",
        Left(probe, &"probe"),
        Left(9, &"point"),
        Right(7, &format_args!("y {unit}")),
        Right(7, &format_args!("z {unit}")),
    )?;
    for reading in views {
        let found = evaluate(facts, *reading);
        let Ok(place) = found.place else { continue };
        let name = facts.probe(reading.probe()).map_or("", |state| state.name().as_str());
        let point = match reading.point() {
            PointPeaked::Echo => "echo",
            PointPeaked::Corner => "corner",
            PointPeaked::UpperTip => "upper tip",
            PointPeaked::LowerTip => "lower tip",
        };
        write!(
            page,
            "{} {} {} {} {} {} {} {} {}",
            Right(5, &reading.number()),
            Left(probe, &name),
            Left(4, &side(reading.side(), reading.face())),
            Right(3, &place.leg),
            Left(9, &point),
            Right(7, &lengths.bare(place.y.get())),
            Right(4, &lengths.bare(place.u_y(&found.budget))),
            Right(7, &lengths.bare(place.z.get())),
            Right(4, &lengths.bare(place.u_z(&found.budget))),
        )?;
        match found.level {
            Ok(found) => writeln!(page, " {}", Right(7, &short(found.level)))?,
            Err(_) => writeln!(page, " {}", Right(7, &"-"))?,
        }
    }
    Ok(())
}

/// The chi-square test in words.
fn judgement(point: &Point, page: &mut Page<'_>) -> fmt::Result {
    let (chi_squared, freedom) = (Fixed(point.chi_squared, 1), freedom(point.degrees_of_freedom));
    let limit = Fixed(quantile_95(point.degrees_of_freedom), 1);
    match point.consistent {
        None => page.item("agreement", format_args!("one view alone agrees with nothing")),
        Some(true) => page.item(
            "agreement",
            format_args!(
                "the views can be of one reflector: chi-squared {chi_squared} does not exceed {limit}, the 95 % \
                 limit at {freedom}. That finds no fault; it proves nothing."
            ),
        ),
        Some(false) => page.item(
            "agreement",
            format_args!(
                "the views DISAGREE: chi-squared {chi_squared} exceeds {limit}, the 95 % limit at \
                 {freedom}. They may be of two reflectors, or one reading is wrong."
            ),
        ),
    }
}

/// Whether the point can lie at the far face.
fn at_far_face(facts: &Facts<'_>, point: &Point) -> bool {
    let joint = facts.common().joint.as_ref();
    joint.is_some_and(|(_, joint)| point.z + point.u_z >= joint.thickness().get())
}

/// How the two sides lie to each other across the weld, and what a disagreement of that kind can mean at the root.
fn apart(a: &Fused, b: &Fused, at_root: bool, page: &mut Page<'_>) -> fmt::Result {
    let apart = (a.y - b.y).abs();
    if apart < MEET {
        return page.item("across the weld", format_args!("the sides meet"));
    }
    let beyond = page.lengths.of(apart);
    let (how, like) = if a.y > b.y {
        ("cross over: each plots beyond the other, by", ", as an echo of the root bead does")
    } else {
        ("fall short of each other, by", ", as echoes of the two root edges do")
    };
    page.item("across the weld", format_args!("the sides {how} {beyond}{}", if at_root { like } else { "" }))
}
