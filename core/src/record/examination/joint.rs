//! The joint as entered, checked into the joint that findings look at.

use super::Refusal;
use crate::part::joint::{Backing, Counterbore, Curvature, Joint, JointSpec, ScannedFrom};
use crate::record::entry::{CurvatureEntry, JointEntry};
use crate::units::decimal::Entered;

pub(super) fn build(entry: &JointEntry) -> Result<Joint, Refusal> {
    let from = |inside: bool| if inside { ScannedFrom::Inside } else { ScannedFrom::Outside };
    let spec = JointSpec {
        bevel: entry.bevel.map(Entered::quantity),
        gap: entry.gap.map(Entered::quantity),
        land: entry.land.map(Entered::quantity),
        radius: entry.radius.map(Entered::quantity),
        bevelled: entry.bevelled,
        cap: entry.cap.map(Entered::quantity),
        centre: entry.centre.map(Entered::quantity),
        crown: entry.crown.map(Entered::quantity),
        bead: entry.bead.map(Entered::quantity),
        excess: entry.excess.map(Entered::quantity),
        haz: entry.haz.map(Entered::quantity),
        backing: entry
            .backing
            .map(|(width, height)| Backing { width: width.quantity(), height: height.quantity() }),
        counterbore: entry.counterbore.map(|(distance, height)| Counterbore {
            distance: distance.quantity(),
            height: height.quantity(),
        }),
        curvature: match entry.curvature {
            None => Curvature::Flat,
            Some(CurvatureEntry::Around { od, inside }) => {
                Curvature::AroundPipe { od: od.quantity(), from: from(inside) }
            }
            Some(CurvatureEntry::Along { od, inside }) => {
                Curvature::AlongPipe { od: od.quantity(), from: from(inside) }
            }
        },
        reach: entry.reach.unwrap_or_default(),
        ..JointSpec::new(entry.thickness.quantity(), entry.prep)
    };
    Joint::new(spec).map_err(Refusal::Joint)
}
