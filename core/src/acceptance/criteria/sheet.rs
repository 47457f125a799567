//! The sheet: what it is, what it measures, how it counts length, and its rows.

use core::fmt;
use core::mem::discriminant;

use heapless::Vec;
use heapless::vec::{OwnedVecStorage, VecInner, VecStorage, ViewVecStorage};

use super::error::{RowFault, SheetError};
use super::limit::{LengthLimit, Multiple};
use super::row::Row;
use super::span::thousandths;
use crate::acceptance::rating::{Rounding, Weighted};
use crate::math;
use crate::units::error::Range;
use crate::units::{Decibels, Millimetres};

/// Rows that a device holds; the host program takes longer sheets.
pub const DEFAULT_ROWS: usize = 24;

/// A text of a sheet's head: up to 120 bytes.
pub type SheetText = heapless::String<120>;

/// What the sheet measures an indication by.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Measure {
    /// Level over the reference curve; higher is worse.
    Level,
    /// Weighted rating d = a − b − c; lower is worse.
    Weighted(Weighted),
}

/// How the sheet finds the ends of an indication along the weld.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum LengthBy {
    /// Where the echo has fallen so far below its peak.
    Drop(Decibels),
    /// Where the echo crosses this level over the reference.
    Level(Decibels),
}

/// When two neighbouring indications count as one length.
#[derive(Clone, Copy, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub enum Group {
    /// Never.
    None,
    /// When the gap is at most this multiple of the longer one's length, as in "2L".
    Times(Multiple),
    /// When the gap is at most this.
    Gap(Millimetres),
}

impl Group {
    /// Whether two lengths with this gap between them count as one. A gap at the very limit joins: the longer length
    /// is the stricter reading.
    ///
    /// ```
    /// use halfskip::acceptance::criteria::{Group, Multiple};
    /// use halfskip::units::Millimetres;
    /// let mm = Millimetres::constant;
    /// let rule = Group::Times(Multiple::new(2, 1).unwrap());
    /// assert!(rule.joins(mm(20.0), mm(10.0), mm(4.0)));
    /// assert!(!rule.joins(mm(20.1), mm(10.0), mm(4.0)));
    /// assert!(rule.joins(mm(20.0), mm(4.0), mm(10.0)));
    /// ```
    #[must_use]
    pub fn joins(self, gap: Millimetres, length: Millimetres, other: Millimetres) -> bool {
        let longer = math::larger(length.get(), other.get());
        let gap = thousandths(gap.get());
        match self {
            Self::None => false,
            Self::Times(multiple) => gap <= multiple.of(thousandths(longer)),
            Self::Gap(limit) => gap <= thousandths(limit.get()),
        }
    }
}

/// All of a sheet but its rows.
#[derive(Clone, PartialEq, Debug)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize, serde::Deserialize))]
pub struct Head {
    /// What the report calls it.
    pub title: SheetText,
    /// Document, edition, table.
    pub source: SheetText,
    /// Who held it against its source; empty when nobody has.
    pub checked_by: SheetText,
    /// What it measures.
    pub measure: Measure,
    /// How it counts length.
    pub length_by: LengthBy,
    /// How it joins neighbours.
    pub group: Group,
}

impl Head {
    /// The head of a level sheet that nobody has checked and that joins no neighbours. Texts beyond 120 bytes are left
    /// empty, which a sheet then refuses.
    #[must_use]
    pub fn level(title: &str, source: &str, length_by: LengthBy) -> Self {
        Self {
            title: title.try_into().unwrap_or_default(),
            source: source.try_into().unwrap_or_default(),
            checked_by: SheetText::new(),
            measure: Measure::Level,
            length_by,
            group: Group::None,
        }
    }
}

/// A checked sheet of at most `ROWS` rows, which may be 128.
///
/// A frame of one is checked again when it is read:
///
/// ```
/// # #[cfg(feature = "record")] {
/// use halfskip::acceptance::criteria::{Head, LengthBy, Row, Sheet, Verdict};
/// use halfskip::units::Decibels;
/// let head = Head::level("invented", "no document", LengthBy::Drop(Decibels::constant(6.0)));
/// let mut rows = heapless::Vec::<Row, 24>::new();
/// assert!(Sheet::new(head.clone(), rows.clone()).is_err(), "an empty sheet decides nothing");
/// rows.push(Row::always(Verdict::Record)).ok();
/// let sheet = Sheet::new(head, rows).unwrap();
/// let mut frame = [0; 128];
/// let frame = postcard::to_slice(&sheet, &mut frame).unwrap();
/// assert_eq!(postcard::from_bytes::<Sheet>(frame).unwrap(), sheet);
/// # }
/// ```
pub struct SheetIn<S: VecStorage<Row> + ?Sized> {
    head: Head,
    /// A bit for each row that never decides, because earlier ones cover it.
    never: [u32; 4],
    rows: VecInner<Row, usize, S>,
}

/// A checked sheet of at most `ROWS` rows, which may be 128.
pub type Sheet<const ROWS: usize = DEFAULT_ROWS> = SheetIn<OwnedVecStorage<Row, ROWS>>;

/// A checked sheet of any capacity.
pub type Criteria = SheetIn<ViewVecStorage<Row>>;

impl<const ROWS: usize> Clone for Sheet<ROWS> {
    fn clone(&self) -> Self {
        Self { head: self.head.clone(), never: self.never, rows: self.rows.clone() }
    }
}

impl<S: VecStorage<Row> + ?Sized> PartialEq for SheetIn<S> {
    fn eq(&self, other: &Self) -> bool {
        self.head == other.head && self.rows() == other.rows()
    }
}

impl<S: VecStorage<Row> + ?Sized> fmt::Debug for SheetIn<S> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Sheet").field("head", &self.head).field("rows", &self.rows()).finish()
    }
}

#[cfg(feature = "defmt")]
impl<S: VecStorage<Row> + ?Sized> defmt::Format for SheetIn<S> {
    fn format(&self, f: defmt::Formatter<'_>) {
        defmt::write!(f, "Sheet {{ head: {}, rows: {=[?]} }}", self.head, self.rows());
    }
}

/// A sheet as it stands in a frame.
#[cfg(feature = "serde")]
#[derive(serde::Serialize, serde::Deserialize)]
#[serde(rename = "Sheet")]
struct Framed<H, R> {
    head: H,
    rows: R,
}

#[cfg(feature = "serde")]
impl<S: VecStorage<Row> + ?Sized> serde::Serialize for SheetIn<S> {
    fn serialize<W: serde::Serializer>(&self, to: W) -> Result<W::Ok, W::Error> {
        Framed { head: &self.head, rows: self.rows() }.serialize(to)
    }
}

#[cfg(feature = "serde")]
impl<'de, const ROWS: usize> serde::Deserialize<'de> for Sheet<ROWS> {
    fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let Framed { head, rows } = Framed::<Head, Vec<Row, ROWS>>::deserialize(from)?;
        Self::new(head, rows).map_err(serde::de::Error::custom)
    }
}

const ANGLE: Range = crate::units::limits::ANGLE;
const THICKNESS: Range = Range { quantity: "thickness limit", unit: "mm", min: 0.0, max: 10_000.0 };
const LENGTH: Range = Range { quantity: "length limit", unit: "mm", min: 0.0, max: 100_000.0 };
const DROP: Range = Range { quantity: "drop", unit: "dB", min: 0.1, max: 60.0 };
const GAP: Range = Range { quantity: "gap", unit: "mm", min: 0.0, max: 100_000.0 };

impl<const ROWS: usize> Sheet<ROWS> {
    /// A sheet, if it passes [`check`](Self::check).
    ///
    /// # Errors
    /// [`SheetError`]: see [`check`](Self::check).
    pub fn new(head: Head, rows: Vec<Row, ROWS>) -> Result<Self, SheetError> {
        let mut sheet = Self { head, never: [0; 4], rows };
        sheet.finish()?;
        Ok(sheet)
    }

    /// A sheet without rows, which is to be filled and checked in its place.
    #[cfg(feature = "record")]
    pub(super) fn begin(head: Head, place: &mut Option<Self>) {
        *place = Some(Self { head, never: [0; 4], rows: Vec::new() });
    }

    /// One row more; gives it back when there is no room.
    #[cfg(feature = "record")]
    pub(super) fn push(&mut self, row: Row) -> Result<(), Row> {
        self.rows.push(row)
    }

    /// Looks for what makes a sheet useless or dangerous.
    ///
    /// Its own range is, for each angle that a row names (any angle when none does), everything from the thinnest to
    /// the thickest limit of the rows that apply. In it every length above zero, every measure, both zones and both
    /// shapes must meet a row. With a rating that is rounded to whole decibels, whole decibels must.
    ///
    /// # Errors
    /// [`SheetError`] for a sheet without rows, a missing or unprintable text, a limit out of range, a row whose
    /// limits contradict each other, or the first case that no row decides.
    pub fn check(&self) -> Result<(), SheetError> {
        const { assert!(ROWS <= super::measures::MOST, "a set of rows has a bit for each") }
        if self.rows.is_empty() {
            return Err(SheetError::Empty);
        }
        self.head.check()?;
        for (row, number) in self.rows.iter().zip(1..) {
            row.check().map_err(|fault| SheetError::Row { row: number, fault })?;
        }
        match super::holes::find::<ROWS>(&self.rows, self.whole()) {
            Some(hole) => Err(SheetError::Hole(hole)),
            None => Ok(()),
        }
    }

    /// Checks it, and looks for rows that never decide.
    pub(super) fn finish(&mut self) -> Result<(), SheetError> {
        self.check()?;
        self.never = super::holes::unreachable::<ROWS>(&self.rows, self.whole());
        Ok(())
    }
}

impl<S: VecStorage<Row> + ?Sized> SheetIn<S> {
    /// The numbers of rows that never decide, because earlier ones cover them. Not a fault, but rarely meant.
    pub fn unreachable_rows(&self) -> impl Iterator<Item = usize> + '_ {
        let never =
            |index: usize| self.never.get(index / 32).is_some_and(|bits| bits & (1 << (index % 32)) != 0);
        (0..self.rows.len()).filter(move |index| never(*index)).map(|index| index.saturating_add(1))
    }

    /// What the sheet is and how it measures.
    #[must_use]
    pub const fn head(&self) -> &Head {
        &self.head
    }

    /// Its rows, in order.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// Whether somebody has held it against its source.
    #[must_use]
    pub fn is_checked(&self) -> bool {
        !self.head.checked_by.trim().is_empty()
    }

    /// Whether the measure comes in whole decibels only.
    pub(super) const fn whole(&self) -> bool {
        matches!(self.head.measure, Measure::Weighted(rule) if !matches!(rule.round_d, Rounding::None))
    }
}

impl Head {
    fn check(&self) -> Result<(), SheetError> {
        let texts = [
            ("title", &self.title, false),
            ("source", &self.source, false),
            ("checked-by", &self.checked_by, true),
        ];
        for (name, text, may_be_empty) in texts {
            if !may_be_empty && text.trim().is_empty() {
                return Err(SheetError::Missing(name));
            }
            if text.chars().any(char::is_control) {
                return Err(SheetError::Unprintable(name));
            }
        }
        if let LengthBy::Drop(drop) = self.length_by {
            DROP.check(drop.get()).map_err(SheetError::Range)?;
        }
        if let Group::Gap(gap) = self.group {
            GAP.check(gap.get()).map_err(SheetError::Range)?;
        }
        Ok(())
    }
}

impl Row {
    fn check(&self) -> Result<(), RowFault> {
        for limit in [self.thickness.low, self.thickness.high].into_iter().flatten() {
            THICKNESS.check(limit.at.get()).map_err(RowFault::Range)?;
        }
        if let Some(angle) = self.angle {
            ANGLE.check(angle.get()).map_err(RowFault::Range)?;
        }
        for limit in self.length_limits() {
            if let LengthLimit::Fixed(length) = limit {
                LENGTH.check(length.get()).map_err(RowFault::Range)?;
            }
        }
        if self.class.chars().any(char::is_control) {
            return Err(RowFault::Class);
        }
        if self.thickness.span().is_empty() || self.thickness.span().high < 1 {
            return Err(RowFault::Thickness);
        }
        if self.measure.span().is_empty() {
            return Err(RowFault::Measure);
        }
        // Two limits of one kind contradict each other on every thickness, mixed ones only on some. 1 m is one.
        if let (Some(over), Some(up_to)) = (self.length_over, self.length_up_to)
            && discriminant(&over) == discriminant(&up_to)
            && self.length_span(1_000_000).is_empty()
        {
            return Err(RowFault::Length);
        }
        Ok(())
    }
}
