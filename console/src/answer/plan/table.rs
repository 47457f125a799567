//! What each leg does with each target, a line each; and by which beam each fusion face is met squarest.

use core::fmt::{self, Write};

use halfskip::coverage::Reasons;
use halfskip::decimal::Fixed;
use halfskip::examination::Facts;
use halfskip::findings::scans;
use halfskip::joint::{FaceKind, Section};
use halfskip::plan::{LegReach, Scan, Target, TargetKind, targets};
use halfskip::units::Degrees;

use crate::page::{Left, Lengths, Page, Right};

const TARGET: usize = 23;

/// The table of one probe and side.
pub(super) fn answer(scan: &Scan, section: &Section, page: &mut Page<'_>) -> fmt::Result {
    writeln!(
        page,
        "    {} leg  {} {} crossed   off",
        Left(TARGET, &"target"),
        Left(15, &"stand-off"),
        Left(15, &"path")
    )?;
    let mut result = Ok(());
    targets(section, |target| {
        if result.is_ok() {
            result = scan.allowed().try_for_each(|leg| line(scan, leg, &target, page));
        }
    });
    result
}

fn line(scan: &Scan, leg: u32, target: &Target, page: &mut Page<'_>) -> fmt::Result {
    let lengths = page.lengths;
    let name = Named(target, lengths);
    write!(page, "    {} {}  ", Left(TARGET, &name), Right(3, &leg))?;
    let mut kept = Reasons::default();
    let LegReach { from, to, shortest, longest, share, barrier, off_square, .. } =
        match scan.reach(leg, target) {
            Ok(reach) => reach,
            Err(barrier) => {
                kept.add(&barrier);
                return writeln!(page, "none: {kept}");
            }
        };
    write!(
        page,
        "{} {} {}",
        Left(15, &Span(lengths, from, to)),
        Left(15, &Span(lengths, shortest.0, longest)),
        Right(5, &Share(share))
    )?;
    match off_square {
        Some(off) => write!(page, "  {} deg", Right(4, &Fixed(off.get(), 0)))?,
        None if barrier.is_some() => page.write_str("          ")?,
        None => {}
    }
    if let Some(barrier) = barrier {
        kept.add(&barrier);
        write!(page, "  {kept}")?;
    }
    writeln!(page)
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

/// For each fusion face the probe, side and leg that meet it nearest to square.
pub(super) fn squarest(facts: &Facts<'_>, legs: u32, section: &Section, page: &mut Page<'_>) -> fmt::Result {
    page.heading(format_args!("Fusion faces, by the beam that meets them nearest to square"))?;
    let (lengths, mut result) = (page.lengths, Ok(()));
    targets(section, |target| {
        if !matches!(target.kind, TargetKind::Face(_) | TargetKind::Radius) || result.is_err() {
            return;
        }
        let mut best: Option<(Degrees, u8, &'static str, u32)> = None;
        for one in scans(facts, legs) {
            let Ok(scan) = one.scan else { continue };
            for leg in scan.allowed() {
                let off = scan.reach(leg, &target).ok().and_then(|reach| reach.off_square);
                if let Some(off) = off
                    && best.is_none_or(|(held, ..)| off < held)
                {
                    best = Some((off, one.probe, one.side.letter(), leg));
                }
            }
        }
        let name = Named(&target, lengths);
        result = match best {
            None => writeln!(page, "    {}  met by none", Left(TARGET, &name)),
            Some((off, probe, side, leg)) => {
                let probe = facts.probe(probe).map_or("", |state| state.name().as_str());
                let off = Fixed(off.get(), 0);
                writeln!(
                    page,
                    "    {}  {probe} from side {side}, leg {leg}: {off} deg off square",
                    Left(TARGET, &name)
                )
            }
        };
    });
    result
}
