//! Acceptance sheets: an ordered table whose first row that holds decides.
//!
//! A sheet is data, never code. It is refused as a whole when it leaves part of its own range undecided, so that the
//! hole is found at the desk and not at the weld. What nobody knows is never guessed: a condition that the facts
//! cannot answer leaves the verdict undetermined and says which one, and no row matched never means "accept".
//!
//! Sheets are transcriptions. The governing code, its edition in force and the responsible authority decide; a report
//! names the sheet, its source and who checked it against that source.
//!
//! ```
//! use halfskip::acceptance::criteria::*;
//! use halfskip::units::{Decibels, Degrees, Millimetres};
//!
//! let mut rows = heapless::Vec::<Row, 24>::new();
//! let over = |at| Bounds { low: Some(Limit { at: Decibels::constant(at), included: false }), high: None };
//! let longer = Some(LengthLimit::Fixed(Millimetres::constant(10.0)));
//! let long = Row { measure: over(0.0), length_over: longer, ..Row::always(Verdict::Reject) };
//! rows.push(long).ok();
//! rows.push(Row::always(Verdict::Accept)).ok();
//! let sheet = Sheet::new(Head::level("invented", "no document", LengthBy::Level(Decibels::constant(-10.0))), rows)?;
//!
//! let mut facts = Asked {
//!     thickness: Millimetres::constant(20.0),
//!     angle: Degrees::constant(60.0),
//!     measure: Measured::Exact(Decibels::constant(3.2)),
//!     length: LengthAlong::Unknown(Missing::NoLength),
//!     depth: Depth::Unknown(Missing::NoDepth),
//!     planar: None,
//! };
//! let decision = decide(&sheet, &facts);
//! assert_eq!(decision.verdict, None);
//! assert_eq!(decision.because.to_string(), "row 1 needs the length: no length along the weld was found");
//!
//! facts.length = LengthAlong::Known { length: Millimetres::constant(12.0), open: true };
//! assert_eq!(decide(&sheet, &facts).verdict, Some(Verdict::Reject));
//! # Ok::<(), SheetError>(())
//! ```

mod decide;
mod error;
mod facts;
#[cfg(test)]
mod fixture;
#[cfg(feature = "record")]
mod frame;
mod holes;
mod limit;
mod margin;
mod measures;
mod row;
mod settle;
mod sheet;
mod span;

pub use decide::{Because, Decision, Need, decide};
pub use error::{RowFault, RowGap, SheetError};
pub use facts::{Asked, Depth, LengthAlong, Measured, Missing};
#[cfg(feature = "record")]
pub use frame::read_frame;
pub use limit::{Bounds, LengthLimit, Limit, Multiple};
pub use margin::{Change, Margin, margin, margin_of_rating};
pub use row::{Class, Row, RowShape, RowZone, Verdict};
pub use settle::open_after;
pub use sheet::{Criteria, DEFAULT_ROWS, Group, Head, LengthBy, Measure, Sheet, SheetIn, SheetText};
