//! The joint as entered, checked into the joint that findings look at.

use super::Refusal;
use crate::decimal::Entered;
use crate::entry::{CurvatureEntry, JointEntry, PrepWord, ReachWord};
use crate::joint::{Backing, Curvature, Joint, JointSpec, Preparation, Reach, ScannedFrom};

pub(super) fn build(entry: &JointEntry) -> Result<Joint, Refusal> {
    let from = |inside: bool| if inside { ScannedFrom::Inside } else { ScannedFrom::Outside };
    let spec = JointSpec {
        bevel: entry.bevel.map(Entered::quantity),
        gap: entry.gap.map(Entered::quantity),
        land: entry.land.map(Entered::quantity),
        radius: entry.radius.map(Entered::quantity),
        bevelled: None,
        cap: entry.cap.map(Entered::quantity),
        crown: entry.crown.map(Entered::quantity),
        bead: entry.bead.map(Entered::quantity),
        excess: entry.excess.map(Entered::quantity),
        haz: entry.haz.map(Entered::quantity),
        backing: entry
            .backing
            .map(|(width, height)| Backing { width: width.quantity(), height: height.quantity() }),
        curvature: match entry.curvature {
            None => Curvature::Flat,
            Some(CurvatureEntry::Around { od, inside }) => {
                Curvature::AroundPipe { od: od.quantity(), from: from(inside) }
            }
            Some(CurvatureEntry::Along { od, inside }) => {
                Curvature::AlongPipe { od: od.quantity(), from: from(inside) }
            }
        },
        reach: match entry.reach {
            Some(ReachWord::A) => Reach::A,
            Some(ReachWord::B) => Reach::B,
            Some(ReachWord::Ab) | None => Reach::Both,
        },
        ..JointSpec::new(entry.thickness.quantity(), preparation(entry.prep))
    };
    Joint::new(spec).map_err(Refusal::Joint)
}

const fn preparation(word: PrepWord) -> Preparation {
    match word {
        PrepWord::Square => Preparation::Square,
        PrepWord::SingleV => Preparation::SingleV,
        PrepWord::DoubleV => Preparation::DoubleV,
        PrepWord::SingleBevel => Preparation::SingleBevel,
        PrepWord::DoubleBevel => Preparation::DoubleBevel,
        PrepWord::SingleU => Preparation::SingleU,
        PrepWord::DoubleU => Preparation::DoubleU,
        PrepWord::SingleJ => Preparation::SingleJ,
        PrepWord::DoubleJ => Preparation::DoubleJ,
    }
}
