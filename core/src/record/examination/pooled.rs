//! One reading, packed to 24 bytes where its numbers are as short as people read them off an instrument.

use crate::record::entry::{EnteredHeight, Face, Name, PointPeaked, ReadingEntry, Side, Sweep, Travel};
use crate::units::decimal::{Entered, Short};
use crate::units::{Decibels, Degrees, Millimetres};

/// The largest entry number: the top bits of its word are flags.
pub(super) const MAX_NUMBER: u32 = (1 << 28) - 1;
const VOID: u32 = 1 << 31;
const TIME: u32 = 1 << 30;
/// No height was read: the height then holds 0 for under the noise and 1 for over the screen.
const UNREAD: u32 = 1 << 29;
const OVER: u32 = 1;
/// The numbers are too long for one slot, and a second follows.
const LONG: u32 = 1 << 28;

const X: Short = Short::signed(24);
const STANDOFF: Short = Short::signed(20);
const TRAVEL: Short = Short::unsigned(21);
const HEIGHT: Short = Short::unsigned(14);
const GAIN: Short = Short::signed(18);
const THICKNESS: Short = Short::unsigned(18);
const SKEW: Short = Short::signed(14);

/// One place in the pool. Bits of a first slot, the lowest first:
///
/// ```text
/// number   entry 28, long 1, unread 1, time 1, void 1
/// a        indication 8, x 24
/// b        probe 8, point 2, side 1, face 1, stand-off 20
/// c        together 8, sweep 3, path or time 21
/// d        gain 18, height 14          of a long one its thickness, 0 of none
/// e        skew 14, thickness 18       of a long one its skew, 0 of none
/// ```
///
/// A second slot has the number again, then x, stand-off, path or time, height and gain as they were packed.
#[derive(Clone, Copy)]
pub(super) struct Slot {
    number: u32,
    a: u32,
    b: u32,
    c: u32,
    d: u32,
    e: u32,
}

impl Slot {
    /// The first slot of a reading, and the second if it takes one.
    pub fn pack(number: u32, indication: u8, probe: u8, reading: &ReadingEntry) -> (Self, Option<Self>) {
        let (travel, time) = match reading.travel {
            Travel::Path(path) => (path.bits(), 0),
            Travel::Time(time) => (time.bits(), TIME),
        };
        let (height, unread) = match reading.height {
            EnteredHeight::Shown(height) => (height.bits(), 0),
            EnteredHeight::Under => (0, UNREAD),
            EnteredHeight::Over => (OVER, UNREAD),
        };
        let side = u32::from(reading.side == Side::B);
        let face = u32::from(reading.face == Face::Far);
        // By their order in the enum; of the sweep 0 is none.
        let point = reading.point as u32;
        let sweep = reading.sweep.map_or(0, |sweep| sweep as u32 + 1);
        let first = Self {
            number: number | time | unread,
            a: u32::from(indication),
            b: u32::from(probe) | (point << 8) | (side << 10) | (face << 11),
            c: u32::from(reading.together.unwrap_or(0)) | (sweep << 8),
            d: 0,
            e: 0,
        };
        let long = Self {
            number,
            a: reading.x.bits(),
            b: reading.standoff.bits(),
            c: travel,
            d: height,
            e: reading.gain.bits(),
        };
        let skew = reading.skew.map_or(0, Entered::bits);
        let thickness = reading.thickness.map_or(0, Entered::bits);
        match first.filled(&long, skew, thickness) {
            Some(one) => (one, None),
            None => (Self { number: first.number | LONG, d: thickness, e: skew, ..first }, Some(long)),
        }
    }

    /// All numbers in their short forms; none when one has none.
    fn filled(&self, long: &Self, skew: u32, thickness: u32) -> Option<Self> {
        let height = if self.number & UNREAD == 0 { HEIGHT.of(long.d)? } else { long.d };
        let skew = if skew == 0 { SKEW.none() } else { SKEW.of(skew)? };
        // No part is without thickness: a short form of 0 is one that was not given.
        let thickness = if thickness == 0 { 0 } else { THICKNESS.of(thickness).filter(|code| *code > 0)? };
        Some(Self {
            number: self.number,
            a: self.a | (X.of(long.a)? << 8),
            b: self.b | (STANDOFF.of(long.b)? << 12),
            c: self.c | (TRAVEL.of(long.c)? << 11),
            d: GAIN.of(long.e)? | (height << 18),
            e: skew | (thickness << 14),
        })
    }

    /// Whether a second slot follows.
    pub const fn is_long(&self) -> bool {
        self.number & LONG != 0
    }

    /// The entry's number; both slots of a reading have it.
    pub const fn number(&self) -> u32 {
        self.number & MAX_NUMBER
    }

    pub const fn void(&mut self) {
        self.number |= VOID;
    }
}

/// One reading as it is kept.
#[derive(Clone, Copy)]
pub struct Pooled<'a> {
    first: &'a Slot,
    second: Option<&'a Slot>,
}

// Its names are those of the examination: the number says which reading it is.
#[cfg(feature = "defmt")]
impl defmt::Format for Pooled<'_> {
    fn format(&self, f: defmt::Formatter<'_>) {
        defmt::write!(f, "reading {=u32}", self.number());
    }
}

impl<'a> Pooled<'a> {
    pub(super) const fn new(first: &'a Slot, second: Option<&'a Slot>) -> Self {
        Self { first, second }
    }

    pub(super) fn unpack(self, indication: Name, probe: Name) -> ReadingEntry {
        ReadingEntry {
            indication,
            probe,
            side: self.side(),
            x: self.entered_x(),
            standoff: self.entered_standoff(),
            travel: self.travel(),
            height: self.height(),
            gain: self.entered_gain(),
            skew: self.entered_skew(),
            face: self.face(),
            thickness: self.entered_thickness(),
            sweep: self.sweep(),
            point: self.point(),
            together: (self.together() > 0).then_some(self.together()),
        }
    }

    /// The entry's number.
    #[must_use]
    pub const fn number(self) -> u32 {
        self.first.number()
    }

    /// Whether it was voided.
    #[must_use]
    pub const fn is_void(self) -> bool {
        self.first.number & VOID != 0
    }

    /// The indication, by its place in the list of indications.
    #[must_use]
    pub const fn indication(self) -> u8 {
        self.first.a as u8
    }

    /// The probe, by its place in the list of probes.
    #[must_use]
    pub const fn probe(self) -> u8 {
        self.first.b as u8
    }

    /// The side.
    #[must_use]
    pub const fn side(self) -> Side {
        if self.first.b & (1 << 10) == 0 { Side::A } else { Side::B }
    }

    /// The face.
    #[must_use]
    pub const fn face(self) -> Face {
        if self.first.b & (1 << 11) == 0 { Face::Near } else { Face::Far }
    }

    /// What was peaked.
    #[must_use]
    pub const fn point(self) -> PointPeaked {
        match (self.first.b >> 8) & 3 {
            1 => PointPeaked::Corner,
            2 => PointPeaked::UpperTip,
            3 => PointPeaked::LowerTip,
            _ => PointPeaked::Echo,
        }
    }

    /// The movement it belongs to.
    #[must_use]
    pub const fn sweep(self) -> Option<Sweep> {
        match (self.first.c >> 8) & 7 {
            1 => Some(Sweep::Along),
            2 => Some(Sweep::Across),
            3 => Some(Sweep::Swivel),
            4 => Some(Sweep::Orbit),
            _ => None,
        }
    }

    /// The number that ties it to others of one probe position; 0 of none.
    #[must_use]
    pub const fn together(self) -> u8 {
        self.first.c as u8
    }

    fn entered_x(self) -> Entered<Millimetres> {
        Entered::packed(self.second.map_or_else(|| X.packed(self.first.a >> 8), |long| long.a))
    }

    fn entered_standoff(self) -> Entered<Millimetres> {
        Entered::packed(self.second.map_or_else(|| STANDOFF.packed(self.first.b >> 12), |long| long.b))
    }

    fn entered_gain(self) -> Entered<Decibels> {
        Entered::packed(self.second.map_or_else(|| GAIN.packed(self.first.d & 0x3_ffff), |long| long.e))
    }

    fn entered_skew(self) -> Option<Entered<Degrees>> {
        let skew = self.first.e & 0x3fff;
        match self.second {
            Some(_) => (self.first.e > 0).then(|| Entered::packed(self.first.e)),
            None => (skew != SKEW.none()).then(|| Entered::packed(SKEW.packed(skew))),
        }
    }

    fn entered_thickness(self) -> Option<Entered<Millimetres>> {
        let thickness = self.first.e >> 14;
        match self.second {
            Some(_) => (self.first.d > 0).then(|| Entered::packed(self.first.d)),
            None => (thickness > 0).then(|| Entered::packed(THICKNESS.packed(thickness))),
        }
    }

    /// Position of the probe along the weld.
    #[must_use]
    pub fn x(self) -> Millimetres {
        self.entered_x().quantity()
    }

    /// Stand-off.
    #[must_use]
    pub fn standoff(self) -> Millimetres {
        self.entered_standoff().quantity()
    }

    /// Path or time.
    #[must_use]
    pub fn travel(self) -> Travel {
        let bits = self.second.map_or_else(|| TRAVEL.packed(self.first.c >> 11), |long| long.c);
        if self.first.number & TIME == 0 {
            Travel::Path(Entered::packed(bits))
        } else {
            Travel::Time(Entered::packed(bits))
        }
    }

    /// Height.
    #[must_use]
    pub fn height(self) -> EnteredHeight {
        let short = self.first.d >> 18;
        if self.first.number & UNREAD != 0 {
            let unread = self.second.map_or(short, |long| long.d);
            return if unread == OVER { EnteredHeight::Over } else { EnteredHeight::Under };
        }
        EnteredHeight::Shown(Entered::packed(self.second.map_or_else(|| HEIGHT.packed(short), |long| long.d)))
    }

    /// Gain.
    #[must_use]
    pub fn gain(self) -> Decibels {
        self.entered_gain().quantity()
    }

    /// Skew, when it was given.
    #[must_use]
    pub fn skew(self) -> Option<Degrees> {
        self.entered_skew().map(Entered::quantity)
    }

    /// Thickness of its own, when it was given.
    #[must_use]
    pub fn thickness(self) -> Option<Millimetres> {
        self.entered_thickness().map(Entered::quantity)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::decimal::Decimal;

    #[test]
    fn a_reading_takes_24_bytes() {
        assert_eq!(size_of::<Slot>(), 24);
    }

    /// A reading by itself, with that stand-off and thickness.
    fn reading(standoff: &str, thickness: Option<&str>) -> ReadingEntry {
        let number = |text: &str| Decimal::parse(text).unwrap();
        ReadingEntry {
            indication: Name::try_from("1").unwrap(),
            probe: Name::try_from("p").unwrap(),
            side: Side::B,
            x: Entered::new(number("-12.5")).unwrap(),
            standoff: Entered::new(number(standoff)).unwrap(),
            travel: Travel::Path(Entered::new(number("36.9")).unwrap()),
            height: EnteredHeight::Shown(Entered::new(number("76")).unwrap()),
            gain: Entered::new(number("44")).unwrap(),
            skew: Some(Entered::new(number("-3")).unwrap()),
            face: Face::Far,
            thickness: thickness.map(|text| Entered::new(number(text)).unwrap()),
            sweep: Some(Sweep::Orbit),
            point: PointPeaked::LowerTip,
            together: Some(255),
        }
    }

    #[test]
    fn what_was_packed_comes_back_long_or_short() {
        for (standoff, thickness, long) in [
            ("31", None, false),
            ("31", Some("20.1"), false),
            ("31", Some("20.1234"), true),
            ("31", Some("0"), true),
            ("-0.5", None, false),
            ("-65.535", None, false),
            ("65.536", None, true),
            ("-65.536", None, true),
        ] {
            let reading = reading(standoff, thickness);
            let (first, second) = Slot::pack(MAX_NUMBER, 255, 255, &reading);
            let pooled = Pooled::new(&first, second.as_ref());
            assert_eq!((pooled.number(), second.is_some()), (MAX_NUMBER, long), "{standoff} {thickness:?}");
            assert_eq!((pooled.indication(), pooled.probe()), (255, 255));
            assert_eq!(pooled.unpack(reading.indication.clone(), reading.probe.clone()), reading);
        }
    }
}
