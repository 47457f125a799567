//! `section`: the cross-section drawn to scale, with the legs of one beam and the indications.

mod canvas;

use core::fmt;

use halfskip::part::joint::{Joint, Point, Section};
use halfskip::part::side::Side;
use halfskip::planning::plan::{Limits, Scan};
use halfskip::record::entry::Name;
use halfskip::record::examination::Facts;
use halfskip::units::Millimetres;
use halfskip::units::decimal::{Entered, Fixed};

use crate::answers::Record;
use crate::answers::indication::around;
use crate::answers::mark::Mark;
use crate::answers::page::{Page, WIDTH};
use canvas::{Canvas, Window};

/// A beam to draw.
struct Beam<'a> {
    probe: &'a str,
    side: Side,
    standoff: Option<Entered<Millimetres>>,
}

/// A beam found: its scan and where it stands.
struct Drawn {
    scan: Scan,
    standoff: f32,
}

/// Answers `section`.
#[inline(never)]
pub(in crate::answers) fn answer(
    record: &Record<'_>,
    beam: Option<&(Name, Side)>,
    standoff: Option<Entered<Millimetres>>,
    legs: u32,
    page: &mut Page<'_>,
) -> fmt::Result {
    let facts = &record.facts;
    let beam = beam.map(|(probe, side)| Beam { probe, side: *side, standoff });
    let Some((_, joint)) = facts.common().joint.as_ref() else {
        return page.heading(format_args!("no joint is recorded: there is nothing to draw"));
    };
    let section = joint.section();
    let drawn = match &beam {
        None => None,
        Some(beam) => match found(facts, joint, &section, beam, legs) {
            Ok(drawn) => Some(drawn),
            Err(why) => {
                return page.heading(format_args!("{} from side {}: {why}", beam.probe, beam.side.letter()));
            }
        },
    };
    let window = window(joint, &section);
    title(joint, &window, page)?;
    let mut canvas = Canvas::new(window);
    if let Some(drawn) = &drawn {
        legs_of(&mut canvas, drawn, legs);
    }
    for indication in record.indications() {
        if let Some(point) = indication.place() {
            canvas.dot(Point { y: point.y, z: point.z }, Mark::Indication(indication.number()));
        }
    }
    for row in 0..canvas.rows() {
        canvas.clear();
        shape(&mut canvas, row, joint, &section);
        canvas.dots(row);
        canvas.write(page, record.utf8)?;
    }
    legend(record, &canvas, beam.zip(drawn), page)
}

/// The probe on its side; without a stand-off where leg 1 meets the far edge of the root, or as near as it gets.
fn found(
    facts: &Facts<'_>,
    joint: &Joint,
    section: &Section,
    beam: &Beam<'_>,
    legs: u32,
) -> Result<Drawn, &'static str> {
    let state = facts.probes().iter().find(|state| *state.name() == *beam.probe);
    let state = state.filter(|state| state.probe().is_some()).ok_or("no such probe is in force")?;
    let axis = state.axis().ok_or("the probe's beam does not exist in the part")?;
    let limits = Limits { legs, ..Limits::default() };
    let scan =
        Scan::anywhere(joint, axis, state.index(), beam.side, limits).map_err(|_| "the part cannot be")?;
    let root = section.root_edges().into_iter().find(|edge| edge.side != beam.side);
    let at_root = || root.and_then(|edge| scan.standoff(1, edge.to).ok()).map(|aim| aim.standoff);
    let told = beam.standoff.map(|standoff| standoff.quantity().get());
    let standoff = told.or_else(at_root).ok_or("leg 1 does not reach the root: give a standoff=")?;
    Ok(Drawn { scan, standoff })
}

/// Weld, zone, cap and bead with a margin beside them.
fn window(joint: &Joint, section: &Section) -> Window {
    let spec = joint.spec();
    let t = joint.thickness().get();
    let extent = |side| section.heat_affected_extent(side).unwrap_or(section.weld_extent(side));
    let (a, b) = (extent(Side::A), extent(Side::B));
    let backing = spec.backing.map_or(0.0, |bar| 0.5 * bar.width.get());
    let widest =
        [a, b, backing, 0.5 * t].into_iter().fold(0.0, |held, one| if one > held { one } else { held });
    let above = spec.crown.map_or(0.0, Millimetres::get);
    let excess = spec.excess.map_or(0.0, Millimetres::get);
    let bar = spec.backing.map_or(0.0, |bar| bar.height.get());
    let step = spec.counterbore.filter(|bore| bore.distance.get() < 1.1 * widest);
    let step = step.map_or(0.0, |bore| bore.height.get());
    let below = [bar, excess, step].into_iter().fold(0.0, |held, one| if one > held { one } else { held });
    Window::new(1.1 * widest, above, t + below)
}

fn title(joint: &Joint, window: &Window, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    let developed = match joint.spec().curvature {
        Some(halfskip::part::joint::Curvature::AroundPipe { .. }) => ", developed along the scanned surface",
        _ => "",
    };
    page.heading(format_args!(
        "Section{developed}: y {} to {}, side A on the left; one row is {}",
        lengths.of(0.0 - window.half()),
        lengths.of(window.half()),
        lengths.finely(window.row())
    ))
}

/// What every row shows of the joint itself; what comes later lies on top.
fn shape(canvas: &mut Canvas, row: u8, joint: &Joint, section: &Section) {
    let (t, half) = (joint.thickness().get(), canvas.window().half());
    for side in [Side::A, Side::B] {
        let outward = 0.0 - side.sign();
        for face in section.fusion_faces().filter(|face| face.side == side) {
            if section.zone(0.0).is_some() {
                let zone = |z| section.zone(z).unwrap_or(0.0);
                let out = |point: Point| Point { y: point.y + outward * zone(point.z), z: point.z };
                canvas.line(row, out(face.from), out(face.to), Mark::Edge);
            }
        }
    }
    let bore = joint.spec().counterbore.filter(|bore| bore.distance.get() < half);
    let (bored, deep) = bore.map_or((half, t), |bore| (bore.distance.get(), t + bore.height.get()));
    let mut face = |from, to, z| canvas.line(row, Point { y: from, z }, Point { y: to, z }, Mark::Level);
    face(0.0 - half, half, 0.0);
    face(0.0 - bored, bored, t);
    if bore.is_some() {
        face(0.0 - half, 0.0 - bored, deep);
        face(bored, half, deep);
        for y in [0.0 - bored, bored] {
            canvas.line(row, Point { y, z: t }, Point { y, z: deep }, Mark::Upright);
        }
    }
    for outline in [section.cap(), section.bead()].into_iter().flatten() {
        for (from, to) in outline.iter().zip(outline.iter().skip(1)) {
            canvas.line(row, *from, *to, Mark::Curve);
        }
    }
    if let Some([a, b, c, d]) = section.backing() {
        for (from, to) in [(b, c), (c, d), (d, a)] {
            canvas.line(row, from, to, Mark::Backing);
        }
    }
    for face in section.fusion_faces() {
        canvas.line(row, face.from, face.to, Mark::Upright);
    }
}

/// Points along the legs, close enough to leave no gap.
fn legs_of(canvas: &mut Canvas, drawn: &Drawn, legs: u32) {
    let Drawn { scan, standoff } = drawn;
    let longest = legs as f32 * scan.legs().length();
    let (g, step) = (scan.side().sign(), 0.9 * canvas.window().column());
    let mut path = 0.5 * step;
    while path < longest {
        let end = Millimetres::new(path).ok().and_then(|path| scan.legs().at(path).ok());
        if let Some(end) = end {
            let y = g * (scan.index() - standoff + end.distance);
            canvas.dot(Point { y, z: end.depth }, Mark::Leg(end.leg as u8));
        }
        path += step;
    }
}

fn legend(
    record: &Record<'_>,
    canvas: &Canvas,
    beam: Option<(Beam<'_>, Drawn)>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let lengths = page.lengths;
    let shown = |mark: Mark| mark.character(record.utf8);
    page.heading(format_args!(
        "{} faces, {} {} {} fusion faces, {} cap and bead, {} zone's edge",
        shown(Mark::Level),
        shown(Mark::Falling),
        shown(Mark::Upright),
        shown(Mark::Rising),
        shown(Mark::Curve),
        shown(Mark::Edge)
    ))?;
    if let Some((beam, Drawn { scan, standoff })) = beam {
        let letter = beam.side.letter();
        let angle = scan.legs().angle_at(0.0).map_or(0.0, halfskip::units::Degrees::get);
        page.heading(format_args!(
            "1, 2, 3: legs of {} at {} deg, side {letter}, stand-off {}",
            beam.probe,
            Fixed(angle, 1),
            lengths.of(standoff)
        ))?;
        if canvas.is_outside(standoff) {
            page.remark(format_args!("its index point lies outside the drawing"))?;
        }
    }
    for indication in record.indications() {
        let (name, mark) = (indication.name(), Mark::Indication(indication.number()).character(false));
        match indication.place() {
            Some(point) => {
                page.heading(format_args!(
                    "{mark}: indication {name}, y {}, z {}",
                    lengths.within(point.y, point.u_y),
                    lengths.within(point.z, point.u_z)
                ))?;
                if let Some(girth) = record.facts.girth() {
                    page.remark(format_args!("at x {}, {}", lengths.of(point.x), around(girth, point.x)))?;
                }
            }
            None => page.heading(format_args!("indication {name} has no place and is not drawn"))?,
        }
    }
    if canvas.is_full() {
        page.remark(format_args!("more points than can be drawn: some are left out"))?;
    }
    Ok(())
}

/// Characters in a row of the drawing.
const COLUMNS: usize = WIDTH;
