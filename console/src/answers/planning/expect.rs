//! `expect NAME side=a`: where the shape of the joint itself will echo.

use core::fmt::{self, Write};

use halfskip::findings::{NEAR, scans};
use halfskip::part::side::Side;
use halfskip::planning::geometry_echoes::{Echo, expect};
use halfskip::record::examination::{Facts, ProbeState};
use halfskip::units::Millimetres;
use halfskip::units::decimal::Fixed;

use crate::answers::page::{Left, Page, Right, tell_each};

/// Answers `expect NAME side=a`.
#[inline(never)]
pub(in crate::answers) fn answer(
    facts: &Facts<'_>,
    name: &str,
    side: Side,
    legs: u32,
    page: &mut Page<'_>,
) -> fmt::Result {
    let found = (0u8..).zip(facts.probes()).find(|(_, state)| *state.name() == *name);
    let Some((place, state)) = found.filter(|(_, state)| state.probe().is_some()) else {
        return page.heading(format_args!("no probe {name} is in force"));
    };
    let Some((_, joint)) = facts.common().joint.as_ref() else {
        return page.heading(format_args!("no joint is recorded: nothing is known of its shape"));
    };
    let scan = scans(facts, NEAR, legs).find(|one| (one.probe, one.side) == (place, side));
    let scan = match scan.map(|one| one.scan) {
        Some(Ok(scan)) => scan,
        Some(Err(error)) => return page.heading(format_args!("{name} from side {}: {error}", side.letter())),
        None => return page.heading(format_args!("no probe {name} is in force")),
    };
    let lengths = page.lengths;
    page.heading(format_args!(
        "Echoes that geometry gives to {name} from side {}, legs 1 to {legs}; lengths in {}",
        side.letter(),
        lengths.word()
    ))?;
    let basis = time(facts, state, 1.0).map(|(_, basis)| basis);
    writeln!(page, "  {} leg stand-off    path   shown as      time us", Left(20, &"reflector"))?;
    let (mut count, mut unfused) = (0u32, false);
    tell_each(
        |tell| expect(joint, &scan, tell),
        |echo: Echo| {
            count = count.saturating_add(1);
            unfused |= !echo.reflector.kind.feature().is_sound();
            line(facts, state, &echo, page)
        },
    )?;
    if count == 0 {
        return page.heading(format_args!("none: the joint as recorded has no cap, bead, backing or edge"));
    }
    if unfused {
        page.remark(format_args!(
            "* an edge of the preparation: it echoes only where it is not fused, and never explains a reading away"
        ))?;
    }
    match basis {
        Some(basis) => page.remark(format_args!("times{basis}")),
        None => page.remark(format_args!("no time: neither a time base nor a material is recorded")),
    }
}

fn line(facts: &Facts<'_>, state: &ProbeState, echo: &Echo, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    let (kind, mark) = (echo.reflector.kind, if echo.reflector.kind.feature().is_sound() { "" } else { "*" });
    let letter = echo.reflector.side.map_or("", Side::letter);
    write!(
        page,
        "  {} {} {} {}  {} leg {} ",
        Left(20, &format_args!("{kind}{mark} {letter}")),
        Right(3, &echo.aim.leg),
        Right(9, &lengths.bare(echo.aim.standoff)),
        Right(7, &lengths.bare(echo.aim.path)),
        Right(6, &lengths.bare(echo.depth_shown)),
        echo.leg_shown
    )?;
    match time(facts, state, echo.aim.path) {
        Some((time, _)) => write!(page, " {}", Right(8, &Fixed(time, 2)))?,
        None => write!(page, " {}", Right(8, &"-"))?,
    }
    match echo.barrier {
        None => writeln!(page),
        Some(barrier) => {
            let mut kept = halfskip::planning::coverage::Reasons::default();
            kept.add(&barrier);
            writeln!(page, "  {kept}")
        }
    }
}

/// The time of an echo, us, and what it rests on: the probe's time base, or the material's shear velocity without any
/// delay.
pub(super) fn time(facts: &Facts<'_>, state: &ProbeState, path: f32) -> Option<(f32, &'static str)> {
    if let Some(fit) = state.timebase() {
        let path = Millimetres::new(path).ok()?;
        let path = match state.velocities() {
            Some(velocities) => velocities.shown(path).ok()?,
            None => path,
        };
        return Some((fit.base().time(path).ok()?.get(), " by the probe's time base"));
    }
    let (_, material) = facts.common().material.as_ref()?;
    // t = 2 s / c
    Some((
        2.0 * path / material.shear().get(),
        " by the material's shear velocity, without the probe's delay",
    ))
}
