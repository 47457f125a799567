//! What each leg does with each target, a line each; and by which beam each fusion face is met squarest.

use core::fmt::{self, Write};

use halfskip::findings::{ProbeScan, scans};
use halfskip::part::joint::{FaceKind, Section};
use halfskip::part::side::Face;
use halfskip::planning::plan::{Barrier, LegReach, Scan, Target, TargetKind, targets};
use halfskip::record::examination::Facts;
use halfskip::units::Degrees;
use halfskip::units::decimal::Fixed;

use super::super::of_face;
use crate::answers::page::{Left, Lengths, Page, Right, tell_each};

const TARGET: usize = 23;
const SPAN: usize = 14;

/// The table of one probe and side.
pub(super) fn answer(scan: &Scan, section: &Section, page: &mut Page<'_>) -> fmt::Result {
    let (target, standoff, path) = (Left(TARGET, &"target"), Left(SPAN, &"stand-off"), Left(SPAN, &"path"));
    writeln!(page, "  {target} leg  {standoff} {path}   part off by")?;
    tell_each(
        |tell| targets(section, tell),
        |target: Target| {
            // A leg that starts at the scanned face meets nothing there.
            let met = |leg: &u32| target.kind != TargetKind::CapEdge || !scan.runs_down(*leg);
            scan.allowed().filter(met).try_for_each(|leg| line(scan, leg, &target, page))
        },
    )
}

fn line(scan: &Scan, leg: u32, target: &Target, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    write!(page, "  {} {}  ", Left(TARGET, &named(target, lengths)), Right(3, &leg))?;
    let LegReach { from, to, shortest, longest, share, barrier, off_square, .. } =
        match scan.reach(leg, target) {
            Ok(reach) => reach,
            Err(barrier) => return writeln!(page, "none: {}", keeper(&barrier)),
        };
    write!(
        page,
        "{} {} {}",
        Left(SPAN, &span(lengths, from, to)),
        Left(SPAN, &span(lengths, shortest.0, longest)),
        Right(6, &share_of(share))
    )?;
    let keeper = barrier.as_ref().map_or("", keeper);
    match off_square {
        Some(off) => write!(page, " {}", Right(3, &Fixed(off.get(), 0)))?,
        None if keeper.is_empty() => {}
        None => write!(page, " {}", Right(3, &""))?,
    }
    if !keeper.is_empty() {
        write!(page, " {keeper}")?;
    }
    writeln!(page)
}

/// What keeps a leg from a target, in one word.
const fn keeper(barrier: &Barrier) -> &'static str {
    match barrier {
        Barrier::Cap { .. } => "cap",
        Barrier::Centreline => "line",
        Barrier::BoreMissed { .. } => "bore",
        Barrier::Turn { .. } => "turn",
        Barrier::Short { .. } => "near",
        _ => "range",
    }
}

/// A target's name: what it is, its side, and the depths of a face.
fn named(target: &Target, lengths: Lengths) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        let word = match target.kind {
            TargetKind::Root => "root",
            TargetKind::Face(FaceKind::Upright) => "upright face",
            TargetKind::Face(_) => "bevel",
            TargetKind::Radius => "radius",
            TargetKind::CapEdge => "cap edge",
            TargetKind::HeatAffected => "zone's edge",
        };
        write!(f, "{word} {}", target.side.letter())?;
        if let (TargetKind::Face(FaceKind::Bevel) | TargetKind::Radius, Some(first), Some(last)) =
            (target.kind, target.points.first(), target.points.last())
        {
            write!(f, ", {} to {}", lengths.bare(first.z), lengths.bare(last.z))?;
        }
        Ok(())
    })
}

fn span(lengths: Lengths, from: f32, to: f32) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        if to - from < 0.05 {
            return write!(f, "{}", lengths.bare(from));
        }
        write!(f, "{} to {}", lengths.bare(from), lengths.bare(to))
    })
}

/// A share in percent, never rounded up to all of it.
fn share_of(share: f32) -> impl fmt::Display {
    fmt::from_fn(move |f| {
        // A share is 0 to 1; what rounding leaves above counts as all.
        write!(f, "{} %", (share * 100.0 + 1e-3) as u32)
    })
}

/// What the short words of the tables mean.
pub(super) fn legend(page: &mut Page<'_>) -> fmt::Result {
    page.remark(format_args!(
        "off: degrees off square; by: what keeps the rest away - the cap, the centreline, the range, near: before the \
         first reference, turn: cap or bead where the beam turns, a missed bore"
    ))
}

/// For each fusion face the probe, side and leg that meet it nearest to square.
pub(super) fn squarest(
    facts: &Facts<'_>,
    (legs, faces): (u32, &'static [Face]),
    section: &Section,
    page: &mut Page<'_>,
) -> fmt::Result {
    page.heading(format_args!("Fusion faces, by the beam that meets them nearest to square"))?;
    let (lengths, fused) = (page.lengths, |tell: &mut dyn FnMut(Target)| {
        targets(section, |target| {
            if matches!(target.kind, TargetKind::Face(_) | TargetKind::Radius) {
                tell(target);
            }
        });
    });
    tell_each(fused, |target: Target| {
        let mut best: Option<(Degrees, ProbeScan, u32)> = None;
        for one in scans(facts, faces, legs) {
            let Ok(scan) = one.scan else { continue };
            for leg in scan.allowed() {
                let off = scan.reach(leg, &target).ok().and_then(|reach| reach.off_square);
                if let Some(off) = off
                    && best.is_none_or(|(held, ..)| off < held)
                {
                    best = Some((off, one, leg));
                }
            }
        }
        let name = named(&target, lengths);
        match best {
            None => writeln!(page, "    {}  met by none", Left(TARGET, &name)),
            Some((off, one, leg)) => {
                let probe = facts.probe(one.probe).map_or("", |state| state.name().as_str());
                let (off, side, face) = (Fixed(off.get(), 0), one.side.letter(), of_face(one.face));
                writeln!(
                    page,
                    "    {}  {probe} from side {side}{face}, leg {leg}: {off} deg off square",
                    Left(TARGET, &name)
                )
            }
        }
    })
}
