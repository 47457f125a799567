//! A sheet out of its frame.

use super::row::Row;
use super::sheet::{Head, Sheet};

/// Reads the frame of a sheet into its place, checked; on a device it is too large to be handed over on the stack. On
/// failure the place is empty.
///
/// # Errors
/// When the frame is none, or the sheet has more rows than there is room for or does not pass [`Sheet::check`].
///
/// ```
/// use halfskip::acceptance::criteria::{Head, LengthBy, Row, Sheet, Verdict, read_frame};
/// use halfskip::units::Decibels;
/// let head = Head::level("invented", "no document", LengthBy::Drop(Decibels::constant(6.0)));
/// let rows = heapless::Vec::<Row, 24>::from_slice(&[Row::always(Verdict::Record)]).unwrap();
/// let sheet = Sheet::new(head, rows).unwrap();
/// let mut buffer = [0; 128];
/// let frame = postcard::to_slice(&sheet, &mut buffer).unwrap();
/// let mut place: Option<Sheet> = None;
/// read_frame(frame, &mut place).unwrap();
/// assert_eq!(place, Some(sheet));
/// assert!(read_frame(&frame[..9], &mut place).is_err() && place.is_none());
/// ```
pub fn read_frame<const ROWS: usize>(
    frame: &[u8],
    place: &mut Option<Sheet<ROWS>>,
) -> Result<(), postcard::Error> {
    let read = fill(frame, place);
    if read.is_err() {
        *place = None;
    }
    read
}

fn fill<const ROWS: usize>(frame: &[u8], place: &mut Option<Sheet<ROWS>>) -> Result<(), postcard::Error> {
    let mut rest = head(frame, place)?;
    let sheet = place.as_mut().ok_or(postcard::Error::DeserializeBadEncoding)?;
    let (rows, tail) = postcard::take_from_bytes::<u32>(rest)?;
    rest = tail;
    for _ in 0..rows {
        let (row, tail) = postcard::take_from_bytes::<Row>(rest)?;
        rest = tail;
        sheet.push(row).map_err(|_| postcard::Error::DeserializeBadEncoding)?;
    }
    sheet.finish().map_err(|_| postcard::Error::SerdeDeCustom)
}

#[inline(never)]
fn head<'f, const ROWS: usize>(
    frame: &'f [u8],
    place: &mut Option<Sheet<ROWS>>,
) -> Result<&'f [u8], postcard::Error> {
    let (head, rest) = postcard::take_from_bytes::<Head>(frame)?;
    Sheet::begin(head, place);
    Ok(rest)
}
