//! Invented entries for the unit tests of the crate, which each change as they need.

use super::{EnteredHeight, Face, Name, PointPeaked, ReadingEntry, Side, Travel};
use crate::units::Quantity;
use crate::units::decimal::{Decimal, Entered};

/// A number as it would be typed, of three decimals at the most.
pub(crate) fn entered<Q: Quantity>(number: f32) -> Entered<Q> {
    let typed = |places: u8| Decimal::nearest(number, places).unwrap();
    let fewest = (0..3).find(|places| typed(*places).value() == number).unwrap_or(3);
    Entered::new(typed(fewest)).unwrap()
}

pub(crate) fn name(name: &str) -> Name {
    Name::try_from(name).unwrap()
}

/// A reading by hand: 20 mm from the centreline, a path of 30 mm, 80 % of the screen at 40 dB.
pub(crate) fn seen(probe: &str, side: Side) -> ReadingEntry {
    ReadingEntry {
        indication: name("one"),
        probe: name(probe),
        side,
        x: entered(0.0),
        standoff: entered(20.0),
        travel: Travel::Path(entered(30.0)),
        height: EnteredHeight::Shown(entered(80.0)),
        gain: entered(40.0),
        skew: None,
        face: Face::Near,
        thickness: None,
        sweep: None,
        point: PointPeaked::Echo,
        together: None,
    }
}
