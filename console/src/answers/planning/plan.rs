//! `plan`: for every probe and side where it must stand, what it reaches from there, and what keeps it from the rest.

mod angles;
mod movement;
mod table;

use core::fmt;

use halfskip::findings::{ProbeScan, scans};
use halfskip::part::joint::{Joint, Obstacle, Reach, Section};
use halfskip::part::side::{Face, Side};
use halfskip::physics::probe::Probe;
use halfskip::planning::plan::{PlanError, Scan};
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::decimal::Fixed;

use super::of_face;
use crate::answers::page::Page;

/// Answers `plan`.
#[inline(never)]
pub(in crate::answers) fn answer(
    facts: &Facts<'_>,
    (legs, faces): (u32, &'static [Face]),
    pulse_rate: Option<u32>,
    pulses: Option<u32>,
    page: &mut Page<'_>,
) -> fmt::Result {
    let Some((_, joint)) = facts.common().joint.as_ref() else {
        return page.heading(format_args!("no joint is recorded: there is nothing to plan for"));
    };
    let section = joint.section();
    let lengths = page.lengths;
    let (wall, prep) = (lengths.typed(joint.thickness().get()), joint.preparation());
    page.heading(format_args!(
        "Scan plan: {prep}, {wall}, legs 1 to {legs}; lengths in {}; said of the beam's axis",
        lengths.word()
    ))?;
    let mut planned = false;
    for (place, state) in (0u8..).zip(facts.probes()) {
        let Some(probe) = state.probe() else { continue };
        let own = scans(facts, faces, legs).filter(|scan| scan.probe == place);
        planned |= own.clone().any(|one| one.scan.is_ok());
        of_probe(state, probe, own, joint, &section, page)?;
        if let Some(scan) = own_first(scans(facts, faces, legs), place) {
            movement::answer(facts, state, probe, &scan, &section, pulse_rate.zip(Some(pulses)), page)?;
        }
    }
    if planned {
        table::legend(page)?;
        table::squarest(facts, (legs, faces), &section, page)?;
    } else if facts.probes().iter().all(|state| state.probe().is_none()) {
        page.heading(format_args!("No probe is in force."))?;
    } else {
        page.heading(format_args!("No reachable side: no probe in force can be planned for."))?;
    }
    angles::answer(facts, joint, legs, page)?;
    super::coverage::bore(joint, page)?;
    page.heading(format_args!(
        "A plan is advice: the written procedure and the governing code decide what is scanned."
    ))
}

fn own_first(mut scans: impl Iterator<Item = ProbeScan>, place: u8) -> Option<Scan> {
    scans.find_map(|one| one.scan.ok().filter(|_| one.probe == place))
}

fn of_probe(
    state: &ProbeState,
    probe: &Probe,
    scans: impl Iterator<Item = ProbeScan>,
    joint: &Joint,
    section: &Section,
    page: &mut Page<'_>,
) -> fmt::Result {
    let lengths = page.lengths;
    let angle = state.axis().map_or(probe.refracted(), |axis| axis.angle());
    page.heading(format_args!("Probe {}, {} deg", state.name(), Fixed(angle.get(), 1)))?;
    if let Some(why) = state.no_beam() {
        return page.remark(format_args!("its beam does not exist in the part: {why}"));
    }
    let mut first: Option<Scan> = None;
    for ProbeScan { side, face, scan, .. } in scans {
        let (letter, at) = (side.letter(), of_face(face));
        match scan {
            Ok(scan) => {
                let mirrored = joint.preparation().is_symmetric()
                    && matches!(joint.spec().reach, None | Some(Reach::Both));
                let told = first.is_some_and(|first| first.face() == face);
                if mirrored && told {
                    page.remark(format_args!("side {letter}{at}: the same, mirrored"))?;
                    continue;
                }
                if !told {
                    skips(&scan, page)?;
                    first = Some(scan);
                }
                of_side((side, face), &scan, joint, section, page)?;
            }
            // A side that the joint excludes needs no word.
            Err(PlanError::OutOfReach { .. }) => {}
            Err(error) => page.remark(format_args!("side {letter}{at}: {error}"))?,
        }
    }
    if first.is_some_and(|scan| scan.legs().misses_bore()) {
        page.remark(format_args!(
            "this beam MISSES the bore: leg 2 comes back without having been reflected"
        ))?;
    }
    let (nearest, range) = (halfskip::findings::nearest(state), halfskip::findings::range(state));
    if let (Some(nearest), true) = (nearest, first.is_some()) {
        page.item(
            "first reference",
            format_args!(
                "at {}; a shorter path has no reference and does not count",
                lengths.typed(nearest.get())
            ),
        )?;
    }
    let needed = first.map(|scan| scan.limits().legs as f32 * scan.legs().length());
    if let (Some(range), Some(needed)) = (range, needed)
        && range.get() < needed
    {
        page.item(
            "beyond range",
            format_args!(
                "the reference points end at {}; a longer path has no reference and counts as out of range",
                lengths.typed(range.get())
            ),
        )?;
    }
    Ok(())
}

fn skips(scan: &Scan, page: &mut Page<'_>) -> fmt::Result {
    let (lengths, legs) = (page.lengths, scan.legs());
    let (half, leg) = (legs.half_skip(), legs.length());
    page.item(
        "half, full skip",
        format_args!("{}, {}; leg {}", lengths.of(half), lengths.of(2.0 * half), lengths.of(leg)),
    )?;
    page.item(
        "scan width",
        format_args!(
            "{} on each side: 1.25 full skips, from memory of ISO 17640",
            lengths.of(halfskip::planning::plan::scan_width(legs))
        ),
    )
}

fn of_side(
    (side, face): (Side, Face),
    scan: &Scan,
    joint: &Joint,
    section: &Section,
    page: &mut Page<'_>,
) -> fmt::Result {
    let (lengths, letter, at) = (page.lengths, side.letter(), of_face(face));
    if scan.least() > 0.0 {
        let of = section.clearance(side, face).map_or(Obstacle::Cap, |clear| clear.of);
        let cap = match (of, section.middle(face) == 0.0) {
            (Obstacle::Bead, true) => "half the bead",
            (Obstacle::Bead, false) => "the bead's edge",
            (Obstacle::Backing, _) => "half the backing bar",
            (_, true) => "half the cap",
            (_, false) => "the cap's edge",
        };
        page.item(
            "nearest",
            format_args!("side {letter}{at}: stand-off {}, {cap} and the nose", lengths.of(scan.least())),
        )?;
    } else {
        let flush = match face {
            Face::Near if joint.spec().crown.is_some() => "flush",
            Face::Near => "no crown= is recorded, taken as flush",
            Face::Far if joint.spec().excess.is_some() => "flush",
            Face::Far => "no excess= is recorded, taken as flush",
        };
        page.item("nearest", format_args!("side {letter}{at}: {flush}, the probe may stand on the weld"))?;
    }
    table::answer(scan, section, page)
}
