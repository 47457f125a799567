//! Facts in words, with their figures.

use core::fmt;

use super::byface::CORNER;
use super::evidence::{Fact, Pattern, PatternSeen};
use super::told::{Counted, FaceWord, Over, SideWord};
use crate::record::entry::Steadiness;
use crate::units::decimal::Fixed;

impl fmt::Display for Fact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let one = |value: f32| Fixed(value, 1);
        let whole = |value: f32| Fixed(value, 0);
        match *self {
            Self::CornerPeaked { face, readings } => {
                write!(f, "a corner with the {} was peaked, {}", FaceWord(face), Counted(readings, "reading"))
            }
            Self::TipPeaked { readings } => write!(f, "a tip was peaked, {}", Counted(readings, "reading")),
            Self::BothTipsPeaked { apart } => {
                write!(
                    f,
                    "an upper and a lower tip were peaked {} mm apart in depth, and no corner",
                    one(apart)
                )
            }
            Self::TipObserved { seen: true } => f.write_str("a tip echo was seen"),
            Self::TipObserved { seen: false } => f.write_str("no tip echo was seen where one was looked for"),
            Self::AtFace { face, views } => {
                let lie = if views == 1 { "lies" } else { "lie" };
                write!(f, "{} {lie} at the {}", Counted(views, "view"), FaceWord(face))
            }
            Self::OverInside { face, margin } => write!(
                f,
                "the echo at the {} is {} dB over every one from inside, as only a corner is",
                FaceWord(face),
                one(margin)
            ),
            Self::ByWayOf { face, margin } => write!(
                f,
                "the echo at the {} is {} those from inside: an echo by way of the face, no corner",
                FaceWord(face),
                Over(margin)
            ),
            Self::NothingInside { face, views } => {
                write!(f, "the {views} views of the {} see nothing inside there", FaceWord(face))
            }
            Self::WideAtFace { face, width, beam } => write!(
                f,
                "the echo at the {} is {} mm wide where a corner's would be {} mm at most",
                FaceWord(face),
                one(width),
                one(beam)
            ),
            Self::WeakAtFace { face, level, limit } => write!(
                f,
                "no echo is stronger than {} dB, under the {} dB that a corner with the {} would be likely to give",
                one(level),
                one(limit),
                FaceWord(face)
            ),
            Self::AtBothFaces { apart } => write!(
                f,
                "both faces answer at one place, {} dB apart, as they do to something between them",
                one(apart)
            ),
            Self::Inside { views, y, u_y, z, u_z, both_sides } => write!(
                f,
                "{}{} {} it inside, y {} +/- {} and z {} +/- {} mm",
                Counted(views, "view"),
                if both_sides { " from both sides" } else { "" },
                if views == 1 { "places" } else { "place" },
                one(y),
                one(u_y),
                one(z),
                one(u_z)
            ),
            Self::Outshone { margin } => write!(
                f,
                "an echo from elsewhere is {} dB over every one from inside, which may be the tips of that",
                one(margin)
            ),
            Self::TwoEnds { upper, lower, tilt } => write!(
                f,
                "echoes from two ends, z {} and {} mm, {} deg off upright",
                one(upper),
                one(lower),
                whole(tilt)
            ),
            Self::Body { above, below } => write!(
                f,
                "odd legs see it at z {} mm, even ones at {} mm: each the near side of a body",
                one(above),
                one(below)
            ),
            Self::ByTheFace { angle, margin } => {
                let as_what =
                    if margin < CORNER { "an upright plane sends" } else { "a corner with it gives" };
                let (angle, over) = (whole(angle), Over(margin));
                write!(
                    f,
                    "{angle} deg: the echo at the opposite face is {over} the direct one, as {as_what} it"
                )
            }
            Self::NotByTheFace { angle, margin } => write!(
                f,
                "{} deg: any echo by way of the opposite face is {} the direct one, too weak for an upright plane",
                whole(angle),
                Over(margin)
            ),
            Self::PastFace { face, views, by, u } => {
                let lie = if views == 1 { "lies" } else { "lie" };
                let views = Counted(views, "view");
                write!(f, "{views} {lie} past the {}, by {} +/- {} mm", FaceWord(face), one(by), one(u))
            }
            Self::Crossed { face, by, u, pairs } => write!(
                f,
                "at the {} each side plots beyond the other, crossed over by {} +/- {} mm ({})",
                FaceWord(face),
                one(by),
                one(u),
                Counted(pairs, "pair")
            ),
            Self::SamePlace { face, by, u, pairs } => write!(
                f,
                "at the {} both sides plot at one place, {} +/- {} mm apart ({})",
                FaceWord(face),
                one(by.abs()),
                one(u),
                Counted(pairs, "pair")
            ),
            Self::Apart { face, by, u, pairs } => write!(
                f,
                "at the {} each side plots short of the other, {} +/- {} mm apart ({})",
                FaceWord(face),
                one(-by),
                one(u),
                Counted(pairs, "pair")
            ),
            Self::HoldsWithAngle { from, to, change, corner } => write!(
                f,
                "from {} to {} deg the level changes by {} dB, a corner's by {} dB",
                whole(from),
                whole(to),
                one(change),
                one(corner)
            ),
            Self::FallsWithAngle { from, to, change, corner } => write!(
                f,
                "from {} to {} deg the level changes by {} dB, far under a corner's {} dB",
                whole(from),
                whole(to),
                one(change),
                one(corner)
            ),
            Self::Directions { count, span, highest, lowest, at_most } => write!(
                f,
                "{} over {} deg: {} dB at best, {}{} dB at worst",
                Counted(count, "direction"),
                whole(span),
                one(highest),
                if at_most { "under " } else { "" },
                one(lowest)
            ),
            Self::LookedElsewhere { reading, by } => {
                write!(f, "reading {reading}, not seen, was looked for {} mm away", one(by))
            }
            Self::High { level, limit } => {
                write!(
                    f,
                    "level {} dB, at or over the {} dB that a plane is known by",
                    one(level),
                    one(limit)
                )
            }
            Self::Series(seen) => seen.fmt(f),
            Self::Turned { orbit, width, open, peaks } => write!(
                f,
                "{}: 6 dB down within {}{} deg, {}",
                if orbit { "led around" } else { "swivelled" },
                if open { "more than " } else { "" },
                one(width),
                Counted(peaks, "peak")
            ),
            Self::TurnObserved { orbit, seen } => write!(
                f,
                "{} the echo is {}",
                if orbit { "led around" } else { "swivelled" },
                match seen {
                    Steadiness::Ragged => "ragged",
                    Steadiness::Smooth => "smooth, rising and falling once",
                    Steadiness::Steady => "steady",
                }
            ),
            Self::Along { peaks, abrupt, deepest } => write!(
                f,
                "along the weld: {}, valleys to {} dB, {} ends",
                Counted(peaks, "peak"),
                one(deepest),
                if abrupt { "abrupt" } else { "gradual" }
            ),
            Self::Damped { fell: true } => f.write_str("the echo fell when the surface was damped"),
            Self::Damped { fell: false } => f.write_str("the echo stayed when the surface was damped"),
            Self::LikeCleanLength { like: true } => {
                f.write_str("a length known to be clean gives the same echo")
            }
            Self::LikeCleanLength { like: false } => {
                f.write_str("a length known to be clean gives no such echo")
            }
            Self::OneSided { side, over } => {
                write!(f, "from side {} {} dB stronger than from the other", SideWord(side), one(over))
            }
            Self::OnFusionFace { side, off, tilt } => write!(
                f,
                "{} mm from the prepared face of side {}, {} deg off upright, and strongest where that is met squarely",
                one(off),
                SideWord(side),
                whole(tilt)
            ),
            Self::CornerOfFlaw => {
                f.write_str("a flaw that makes a corner with the face stands upright on it")
            }
            Self::Elsewhere { face, y, half } => write!(
                f,
                "it lies {} mm from the centreline at the {}, whose reinforcement ends at {} mm",
                one(y),
                FaceWord(face),
                one(half)
            ),
            Self::ExpectedThere { feature, distance } => write!(
                f,
                "the joint's {} lies where every view does, {} of the uncertainty away",
                feature.word(),
                Fixed(distance, 2)
            ),
        }
    }
}

impl fmt::Display for PatternSeen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let class = match self.pattern {
            Pattern::Point => "1, a point",
            Pattern::SmoothExtended => "2, smooth and extended",
            Pattern::RoughNormal => "3a, rough and extended, met near square",
            Pattern::RoughTravelling => "3b, rough and extended, met obliquely",
            Pattern::Cluster => "4, a cluster",
        };
        let one = |value: f32| Fixed(value, 1);
        write!(f, "{} deg, side {}: pattern {class}; ", Fixed(self.angle, 0), SideWord(self.side))?;
        write!(
            f,
            "{} mm between the 6 dB points, a point gives {} mm at most; ",
            one(self.width),
            one(self.beam)
        )?;
        for (word, rate) in [("rises", self.rise), ("falls", self.fall)] {
            if let Some(rate) = rate {
                write!(f, "{word} {} dB/mm, ", one(rate))?;
            }
        }
        if let Some((slope, point)) = self.walk {
            write!(f, "path {} mm per mm of travel, a point's {}; ", Fixed(slope, 2), Fixed(point, 2))?;
        }
        let peaks = Counted(self.high_peaks, "peak");
        write!(f, "{peaks} of 6 dB in {} beam widths, ", one(self.width / self.beam))?;
        write!(f, "valleys to {} dB, {}", one(self.deepest), Counted(self.echoes, "echo"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::string::ToString;

    #[test]
    fn an_echo_by_way_of_the_face_may_be_a_corner_from_12_decibels_over_the_direct_one() {
        let said = |margin| Fact::ByTheFace { angle: 45.0, margin }.to_string();
        assert!(said(12.0).ends_with("12.0 dB over the direct one, as a corner with it gives it"));
        assert!(said(11.5).ends_with("11.5 dB over the direct one, as an upright plane sends it"));
    }
}
