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
use crate::answers::page::{Left, Lengths, Page, Right};

const TARGET: usize = 23;
const SPAN: usize = 14;

/// The table of one probe and side.
pub(super) fn answer(scan: &Scan, section: &Section, page: &mut Page<'_>) -> fmt::Result {
    let (target, standoff, path) = (Left(TARGET, &"target"), Left(SPAN, &"stand-off"), Left(SPAN, &"path"));
    writeln!(page, "  {target} leg  {standoff} {path}   part off by")?;
    let mut result = Ok(());
    targets(section, |target| {
        // A leg that starts at the scanned face meets nothing there.
        let at_own = |leg: &u32| target.kind == TargetKind::CapEdge && scan.runs_down(*leg);
        let legs = scan.allowed().filter(|leg| !at_own(leg));
        for leg in legs {
            if result.is_ok() {
                result = line(scan, leg, &target, page);
            }
        }
    });
    result
}

fn line(scan: &Scan, leg: u32, target: &Target, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    write!(page, "  {} {}  ", Left(TARGET, &Named(target, lengths)), Right(3, &leg))?;
    let LegReach { from, to, shortest, longest, share, barrier, off_square, .. } =
        match scan.reach(leg, target) {
            Ok(reach) => reach,
            Err(barrier) => return writeln!(page, "none: {}", keeper(&barrier)),
        };
    write!(
        page,
        "{} {} {}",
        Left(SPAN, &Span(lengths, from, to)),
        Left(SPAN, &Span(lengths, shortest.0, longest)),
        Right(6, &Share(share))
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
pub(super) struct Named<'a>(pub &'a Target, pub Lengths);

impl fmt::Display for Named<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(target, lengths) = self;
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
    }
}

struct Span(Lengths, f32, f32);

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self(lengths, from, to) = *self;
        if to - from < 0.05 {
            return write!(f, "{}", lengths.bare(from));
        }
        write!(f, "{} to {}", lengths.bare(from), lengths.bare(to))
    }
}

/// A share in percent, never rounded up to all of it.
struct Share(f32);

impl fmt::Display for Share {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // A share is 0 to 1; what rounding leaves above counts as all.
        write!(f, "{} %", (self.0 * 100.0 + 1e-3) as u32)
    }
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
    let (lengths, mut result) = (page.lengths, Ok(()));
    targets(section, |target| {
        if !matches!(target.kind, TargetKind::Face(_) | TargetKind::Radius) || result.is_err() {
            return;
        }
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
        let name = Named(&target, lengths);
        result = match best {
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
        };
    });
    result
}
