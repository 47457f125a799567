//! The readings of all indications, packed to 36 bytes each.

use heapless::Vec;

use super::Refusal;
use crate::decimal::Entered;
use crate::entry::{EnteredHeight, Face, Name, PointPeaked, ReadingEntry, Side, Sweep, Travel};
use crate::units::{Decibels, Degrees, Millimetres};

/// The largest entry number: the top bits of its word are flags.
pub(super) const MAX_NUMBER: u32 = (1 << 28) - 1;
const VOID: u32 = 1 << 31;
const TIME: u32 = 1 << 30;
/// No height was read: [`height`](Pooled::height) then holds 0 for under the noise and 1 for over the screen.
const UNREAD: u32 = 1 << 29;
const OVER: u32 = 1;

/// One reading as it is kept.
#[derive(Clone, Copy)]
pub struct Pooled {
    number: u32,
    x: Entered<Millimetres>,
    standoff: Entered<Millimetres>,
    travel: u32,
    height: u32,
    gain: Entered<Decibels>,
    skew: Option<Entered<Degrees>>,
    thickness: Option<Entered<Millimetres>>,
    indication: u8,
    probe: u8,
    together: u8,
    /// side 1 bit, face 1, point 2, sweep 3.
    flags: u8,
}

impl Pooled {
    pub(super) fn pack(number: u32, indication: u8, probe: u8, reading: &ReadingEntry) -> Self {
        let (travel, time) = match reading.travel {
            Travel::Path(path) => (path.bits(), 0),
            Travel::Time(time) => (time.bits(), TIME),
        };
        let (height, unread) = match reading.height {
            EnteredHeight::Shown(height) => (height.bits(), 0),
            EnteredHeight::Under => (0, UNREAD),
            EnteredHeight::Over => (OVER, UNREAD),
        };
        let side = u8::from(reading.side == Side::B);
        let face = u8::from(reading.face == Face::Far) << 1;
        let point = match reading.point {
            PointPeaked::Echo => 0,
            PointPeaked::Corner => 1 << 2,
            PointPeaked::UpperTip => 2 << 2,
            PointPeaked::LowerTip => 3 << 2,
        };
        let sweep = match reading.sweep {
            None => 0,
            Some(Sweep::Along) => 1 << 4,
            Some(Sweep::Across) => 2 << 4,
            Some(Sweep::Swivel) => 3 << 4,
            Some(Sweep::Orbit) => 4 << 4,
        };
        Self {
            number: number | time | unread,
            x: reading.x,
            standoff: reading.standoff,
            travel,
            height,
            gain: reading.gain,
            skew: reading.skew,
            thickness: reading.thickness,
            indication,
            probe,
            together: reading.together.unwrap_or(0),
            flags: side | face | point | sweep,
        }
    }

    pub(super) fn unpack(&self, indication: Name, probe: Name) -> ReadingEntry {
        ReadingEntry {
            indication,
            probe,
            side: self.side(),
            x: self.x,
            standoff: self.standoff,
            travel: self.travel(),
            height: self.height(),
            gain: self.gain,
            skew: self.skew,
            face: self.face(),
            thickness: self.thickness,
            sweep: self.sweep(),
            point: self.point(),
            together: (self.together > 0).then_some(self.together),
        }
    }

    /// The entry's number.
    #[must_use]
    pub const fn number(&self) -> u32 {
        self.number & MAX_NUMBER
    }

    /// Whether it was voided.
    #[must_use]
    pub const fn is_void(&self) -> bool {
        self.number & VOID != 0
    }

    /// The indication, by its place in the list of indications.
    #[must_use]
    pub const fn indication(&self) -> u8 {
        self.indication
    }

    /// The probe, by its place in the list of probes.
    #[must_use]
    pub const fn probe(&self) -> u8 {
        self.probe
    }

    /// The side.
    #[must_use]
    pub const fn side(&self) -> Side {
        if self.flags & 1 == 0 { Side::A } else { Side::B }
    }

    /// The face.
    #[must_use]
    pub const fn face(&self) -> Face {
        if self.flags & 2 == 0 { Face::Near } else { Face::Far }
    }

    /// What was peaked.
    #[must_use]
    pub const fn point(&self) -> PointPeaked {
        match (self.flags >> 2) & 3 {
            1 => PointPeaked::Corner,
            2 => PointPeaked::UpperTip,
            3 => PointPeaked::LowerTip,
            _ => PointPeaked::Echo,
        }
    }

    /// The movement it belongs to.
    #[must_use]
    pub const fn sweep(&self) -> Option<Sweep> {
        match self.flags >> 4 {
            1 => Some(Sweep::Along),
            2 => Some(Sweep::Across),
            3 => Some(Sweep::Swivel),
            4 => Some(Sweep::Orbit),
            _ => None,
        }
    }

    /// The number that ties it to others of one probe position; 0 of none.
    #[must_use]
    pub const fn together(&self) -> u8 {
        self.together
    }

    /// Position of the probe along the weld.
    #[must_use]
    pub fn x(&self) -> Millimetres {
        self.x.quantity()
    }

    /// Stand-off.
    #[must_use]
    pub fn standoff(&self) -> Millimetres {
        self.standoff.quantity()
    }

    /// Path or time.
    #[must_use]
    pub fn travel(&self) -> Travel {
        if self.number & TIME == 0 {
            Travel::Path(Entered::packed(self.travel))
        } else {
            Travel::Time(Entered::packed(self.travel))
        }
    }

    /// Height.
    #[must_use]
    pub fn height(&self) -> EnteredHeight {
        match (self.number & UNREAD != 0, self.height) {
            (true, OVER) => EnteredHeight::Over,
            (true, _) => EnteredHeight::Under,
            (false, bits) => EnteredHeight::Shown(Entered::packed(bits)),
        }
    }

    /// Gain.
    #[must_use]
    pub fn gain(&self) -> Decibels {
        self.gain.quantity()
    }

    /// Skew, when it was given.
    #[must_use]
    pub fn skew(&self) -> Option<Degrees> {
        self.skew.map(Entered::quantity)
    }

    /// Thickness of its own, when it was given.
    #[must_use]
    pub fn thickness(&self) -> Option<Millimetres> {
        self.thickness.map(Entered::quantity)
    }
}

/// At most `READINGS` readings, in the order of their numbers.
#[derive(Clone)]
pub(super) struct Pool<const READINGS: usize> {
    readings: Vec<Pooled, READINGS>,
}

impl<const READINGS: usize> Pool<READINGS> {
    pub(super) const fn new() -> Self {
        Self { readings: Vec::new() }
    }

    pub(super) fn push(&mut self, reading: Pooled) -> Result<(), Refusal> {
        self.readings.push(reading).map_err(|_| Refusal::Full { what: "readings", capacity: READINGS as u32 })
    }

    pub(super) fn is_full(&self) -> bool {
        self.readings.is_full()
    }

    pub(super) fn clear(&mut self) {
        self.readings.clear();
    }

    pub(super) fn readings(&self) -> &[Pooled] {
        &self.readings
    }

    fn at(&self, number: u32) -> Option<usize> {
        self.readings.binary_search_by_key(&number, Pooled::number).ok()
    }

    pub(super) fn get(&self, number: u32) -> Option<&Pooled> {
        self.readings.get(self.at(number)?)
    }

    /// Marks a reading as void; false when there is no such reading.
    pub(super) fn void(&mut self, number: u32) -> bool {
        let Some(reading) = self.at(number).and_then(|at| self.readings.get_mut(at)) else { return false };
        reading.number |= VOID;
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_takes_36_bytes() {
        assert_eq!(size_of::<Pooled>(), 36);
    }
}
