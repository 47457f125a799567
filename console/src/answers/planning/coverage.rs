//! `coverage`: how much of weld and heat-affected zone the probes in force can cross, the holes, and what was scanned.

use core::fmt::{self, Write};

use halfskip::findings::{NotPlanned, coverage_from, scanned, suspicion};
use halfskip::part::joint::Joint;
use halfskip::part::side::Face;
use halfskip::planning::coverage::{Cell, Coverage, Grid, Holes, Share};
use halfskip::record::examination::Facts;
use halfskip::units::Millimetres;

use crate::answers::page::{Left, Lengths, Page, Right};

/// Scans held at once: twice the probes of the shell on each face.
pub(crate) const SCANS: usize = if cfg!(feature = "host") { 64 } else { 16 };
/// Holes that are listed.
const HOLES: usize = 16;

/// What of weld and heat-affected zone beams can cross: one survey of the volume for every writer.
pub(crate) struct Crossed<const HOLES: usize> {
    /// The places that no beam reaches.
    pub holes: Holes<HOLES>,
    /// The shares, or the probe for which they are not known.
    pub shares: Result<Coverage, NotPlanned>,
}

impl<const HOLES: usize> Crossed<HOLES> {
    /// The part of the volume that is crossed.
    #[cfg(feature = "host")]
    pub fn fraction(&self) -> Option<f32> {
        self.share().ok().flatten()
    }

    /// The same, or for which probe it is not known.
    #[cfg(feature = "host")]
    pub fn share(&self) -> Result<Option<f32>, &NotPlanned> {
        self.shares.as_ref().map(Coverage::fraction)
    }
}

/// From these faces, by all probes in force or by one; each cell is shown to `see`. None without a volume or a probe.
pub(crate) fn crossed<const HOLES: usize>(
    facts: &Facts<'_>,
    joint: &Joint,
    faces: &'static [Face],
    probe: Option<u8>,
    legs: u32,
    mut see: impl FnMut(&Cell),
) -> Option<Crossed<HOLES>> {
    let mut holes = Holes::new(&Grid::new(joint)?);
    let shares = coverage_from::<SCANS>(facts, faces, probe, legs, |cell| {
        holes.take(cell);
        see(cell);
    })?;
    Some(Crossed { holes, shares })
}

/// Answers `coverage`.
#[inline(never)]
pub(in crate::answers) fn answer(
    facts: &Facts<'_>,
    legs: u32,
    faces: &'static [Face],
    page: &mut Page<'_>,
) -> fmt::Result {
    let Some((_, joint)) = facts.common().joint.as_ref() else {
        return page.heading(format_args!("no joint is recorded: there is nothing to cover"));
    };
    if Grid::new(joint).is_none() {
        return page
            .heading(format_args!("the joint has no volume: no gap, no bevel, no heat-affected zone"));
    }
    let Some(all) = crossed::<HOLES>(facts, joint, faces, None, legs, |_| {}) else {
        return page.heading(format_args!("no probe is in force"));
    };
    let zone = zone(joint.spec().haz, page.lengths);
    page.heading(format_args!(
        "Coverage by the beam's axis, legs 1 to {legs}{}: the weld between the faces, {zone}",
        match faces {
            [Face::Near] => "",
            [Face::Far] => ", from the far face",
            _ => ", from both faces",
        }
    ))?;
    table_head(legs, page)?;
    for (place, state) in (0u8..).zip(facts.probes()).filter(|(_, state)| state.probe().is_some()) {
        match crossed::<0>(facts, joint, faces, Some(place), legs, |_| {}).map(|found| found.shares) {
            Some(Ok(found)) => line(state.name(), &found.whole(), legs, page)?,
            Some(Err(NotPlanned { error, .. })) => {
                page.hanging(4, format_args!("  {}: not known: {error}", state.name()))?;
            }
            None => {}
        }
    }
    match &all.shares {
        Ok(found) => whole(found, &all.holes, legs, page)?,
        Err(NotPlanned { probe, error }) => {
            let name = facts.probe(*probe).map_or("", |state| state.name().as_str());
            page.heading(format_args!("All probes together: not known, for {name}: {error}"))?;
        }
    }
    as_scanned(facts, legs, page)?;
    bore(joint, page)?;
    page.heading(format_args!(
        "What was not crossed is not known to be sound. Cap and bead are not in the volume."
    ))
}

/// What is known of the heat-affected zone.
fn zone(width: Option<Millimetres>, lengths: Lengths) -> impl fmt::Display {
    fmt::from_fn(move |f| match width {
        Some(width) => write!(f, "and {} of heat-affected zone beside it", lengths.typed(width.get())),
        None => f.write_str("without its heat-affected zone, whose width is not recorded (haz=)"),
    })
}

const NAME: usize = 22;

fn table_head(legs: u32, page: &mut Page<'_>) -> fmt::Result {
    write!(page, "  {} crossed  two ways", Left(NAME, &""))?;
    (1..=legs).try_for_each(|leg| write!(page, "   leg {leg}"))?;
    writeln!(page)
}

fn line(name: &str, share: &Share, legs: u32, page: &mut Page<'_>) -> fmt::Result {
    let percent = |area: f32| percent(share.of(area));
    write!(
        page,
        "  {} {} {}",
        Left(NAME, &name),
        Right(7, &percent(share.crossed)),
        Right(9, &percent(share.twice))
    )?;
    for (area, _) in share.legs.into_iter().zip(0..legs) {
        write!(page, " {}", Right(7, &percent(area)))?;
    }
    writeln!(page)
}

/// A fraction in percent, never rounded up to all of it; "-" of a zone without area.
fn percent(fraction: Option<f32>) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let Some(fraction) = fraction else { return f.write_str("-") };
        // In tenths, cut off; what rounding of sums leaves short of all is not told as a hole.
        let tenths = (fraction * 1000.0 + 0.01) as u32;
        write!(f, "{}.{} %", tenths / 10, tenths % 10)
    })
}

fn whole<const N: usize>(found: &Coverage, holes: &Holes<N>, legs: u32, page: &mut Page<'_>) -> fmt::Result {
    line("all together", &found.whole(), legs, page)?;
    if found.heat_affected.area > 0.0 {
        line("  weld", &found.body, legs, page)?;
        line("  heat-affected zone", &found.heat_affected, legs, page)?;
    }
    let (lengths, whole) = (page.lengths, found.whole());
    let mut none = true;
    for hole in holes.iter() {
        if none {
            page.heading(format_args!("Not crossed by any of them (lengths in {})", lengths.word()))?;
        }
        none = false;
        let (from, to, share) = (hole.from, hole.to, percent(whole.of(hole.area)));
        page.marked(
            "  - ",
            format_args!(
                "y {} to {}, z {} to {}, {share} of all: {}",
                lengths.bare(from.y),
                lengths.bare(to.y),
                lengths.bare(from.z),
                lengths.bare(to.z),
                hole.reasons
            ),
        )?;
    }
    if holes.unlisted() > 0.0 {
        let share = percent(whole.of(holes.unlisted()));
        page.marked("  - ", format_args!("more of them, {share} of all, than are listed here"))?;
    }
    Ok(())
}

#[inline(never)]
fn as_scanned(facts: &Facts<'_>, legs: u32, page: &mut Page<'_>) -> fmt::Result {
    if facts.readings().next().is_none() {
        return Ok(());
    }
    let Some(found) = scanned::<SCANS>(facts, legs) else {
        let any = facts.readings().any(|reading| suspicion(facts, reading).is_some());
        return page.heading(format_args!(
            "As scanned: not known; no reading belongs to a movement along or across the weld (sweep=){}",
            if any { ", those left out that are suspect" } else { "" }
        ));
    };
    let (lengths, whole) = (page.lengths, found.coverage.whole());
    page.heading(format_args!(
        "As scanned, x {} to {}: {} crossed, {} two ways; {} readings of movements, {} others left out{}",
        lengths.of(found.from),
        lengths.of(found.to),
        percent(whole.of(whole.crossed)),
        percent(whole.of(whole.twice)),
        found.counted,
        found.left_out,
        suspect(found.suspect)
    ))?;
    if found.widest > 0.0 {
        page.hanging(
            4,
            format_args!(
                "  joined over steps of at most {} between recorded positions",
                lengths.of(found.widest)
            ),
        )?;
    }
    Ok(())
}

/// How many of the readings left out are suspect; nothing of none.
fn suspect(count: u32) -> impl fmt::Display {
    fmt::from_fn(move |f| if count == 0 { Ok(()) } else { write!(f, ", {count} of them suspect") })
}

/// What plan and coverage leave out of a bored joint.
pub(super) fn bore(joint: &Joint, page: &mut Page<'_>) -> fmt::Result {
    let Some(bore) = joint.spec().counterbore else { return Ok(()) };
    page.heading(format_args!(
        "The step of the counterbore is not in it: a beam that turns more than {} from the centreline meets a thicker wall.",
        page.lengths.typed(bore.distance.get())
    ))
}
