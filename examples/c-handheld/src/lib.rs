//! halfskip behind a C interface: a probe and its reference points are set up in memory of the caller's, readings are
//! evaluated, and rated by the weighted rule d = a - b - c.
//!
//! Every function returns a status and writes a result only when that is 0. A figure outside its range, a missing
//! reference or a null pointer is a status of its own: nothing is clamped, and nothing is guessed. Statuses are `int32_t`
//! and never C enums, whose size depends on how a program is compiled.
//!
//! This is the only place of the project with `unsafe` code besides the registers of the emulated board.
#![no_std]

use core::mem::MaybeUninit;
use core::panic::PanicInfo;

use halfskip::acceptance::rating::{Attenuation, PathUnit, Rounding, ShorterPath, Weighted};
use halfskip::calibration::curve::{Beyond, CurveError, Dac, DacPoint};
use halfskip::calibration::level::{Bound, EchoHeight, Level, Screen, level};
use halfskip::part::Part;
use halfskip::part::locate::{Budget, Peaked, Place, Position, Side, locate};
use halfskip::part::path::{Axis, Plate};
use halfskip::units::{Decibels, Degrees, Millimetres, Quantity, ScreenPercent};

/// Done.
pub const HS_OK: i32 = 0;
/// A pointer is null.
pub const HS_NULL: i32 = 1;
/// A figure is outside its range, or no number.
pub const HS_RANGE: i32 = 2;
/// The instrument was not set up with `hs_setup`.
pub const HS_NOT_SET_UP: i32 = 3;
/// There is no room for another reference point.
pub const HS_FULL: i32 = 4;
/// There is a reference point at that path already.
pub const HS_DUPLICATE: i32 = 5;
/// No reference point has been added.
pub const HS_NO_REFERENCE: i32 = 6;
/// The path is outside the reference points.
pub const HS_OUTSIDE: i32 = 7;
/// Anything else that the library refuses.
pub const HS_REFUSED: i32 = 8;

/// The level is as read.
pub const HS_EXACT: i32 = 0;
/// The echo is above the screen: the level is at least this.
pub const HS_AT_LEAST: i32 = 1;
/// The echo is not above the noise: the level is at most this.
pub const HS_AT_MOST: i32 = 2;

/// Words of 64 bits that an instrument takes.
pub const HS_WORDS: usize = 32;

/// An instrument in memory of the caller's, zeroed before its first use; only `hs_setup` makes one of it.
#[repr(C)]
pub struct hs_instrument {
    words: [u64; HS_WORDS],
}

/// One reading. Lengths in mm, height in percent of the screen, gain in dB.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct hs_reading {
    /// Side of the weld that the probe stands on: 0 is A, 1 is B.
    pub side: u8,
    /// Position along the weld.
    pub x: f32,
    /// Stand-off of the index point from the centreline.
    pub standoff: f32,
    /// Sound path.
    pub path: f32,
    /// Height of the echo.
    pub height: f32,
    /// Gain of the instrument.
    pub gain: f32,
}

/// What a reading says. Lengths in mm; uncertainties are expanded, k = 2.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct hs_found {
    /// The leg that reached the reflector.
    pub leg: u32,
    /// Along the weld.
    pub x: f32,
    /// Across the weld, positive toward side B.
    pub y: f32,
    /// Below the near face.
    pub z: f32,
    /// Uncertainty of y.
    pub u_y: f32,
    /// Uncertainty of z.
    pub u_z: f32,
    /// Level over the reference, dB.
    pub level: f32,
    /// `HS_EXACT`, `HS_AT_LEAST` or `HS_AT_MOST`.
    pub bound: i32,
}

/// A weighted rating with all that went into it, dB; lower is worse.
#[repr(C)]
#[derive(Clone, Copy)]
pub struct hs_rating {
    /// Gain that brings the echo to the reference height.
    pub a: f32,
    /// Gain that brings the reference to it.
    pub b: f32,
    /// Attenuation beyond the free part of the path.
    pub c: f32,
    /// a - b - c.
    pub d: f32,
}

/// What stands in the words of an [`hs_instrument`].
struct Instrument {
    mark: u32,
    axis: Axis,
    plate: Plate,
    dac: Dac<8>,
}

/// Tells memory that was set up from memory that was not.
const MARK: u32 = 0x6861_6C66;

const _: () = assert!(size_of::<Instrument>() <= size_of::<hs_instrument>());
const _: () = assert!(align_of::<Instrument>() <= align_of::<hs_instrument>());

type Status = Result<(), i32>;

fn status(result: Status) -> i32 {
    match result {
        Ok(()) => HS_OK,
        Err(status) => status,
    }
}

fn quantity<Q: Quantity>(number: f32) -> Result<Q, i32> {
    Q::checked(number).map_err(|_| HS_RANGE)
}

fn curve(error: CurveError) -> i32 {
    match error {
        CurveError::Full { .. } => HS_FULL,
        CurveError::Duplicate { .. } => HS_DUPLICATE,
        CurveError::Empty => HS_NO_REFERENCE,
        CurveError::Outside { .. } => HS_OUTSIDE,
        CurveError::Range(_) => HS_RANGE,
        _ => HS_REFUSED,
    }
}

/// Sets an instrument up for a probe of this refracted angle, degrees, on a plate of this thickness, mm. What the memory
/// held before does not matter.
///
/// # Safety
/// `instrument` is null, or points to memory of an `hs_instrument` that nothing else uses meanwhile.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn hs_setup(instrument: *mut hs_instrument, angle: f32, thickness: f32) -> i32 {
    if instrument.is_null() {
        return HS_NULL;
    }
    status((|| {
        let axis = Axis::new(quantity::<Degrees>(angle)?).map_err(|_| HS_RANGE)?;
        let plate = Plate::new(quantity::<Millimetres>(thickness)?).map_err(|_| HS_RANGE)?;
        let dac = Dac::new(Screen::default().reference());
        // SAFETY: not null, large enough and aligned as asserted above, and the caller's word for the rest.
        let place = unsafe { &mut *instrument.cast::<MaybeUninit<Instrument>>() };
        place.write(Instrument { mark: MARK, axis, plate, dac });
        Ok(())
    })())
}

/// The instrument in the caller's memory.
///
/// # Safety
/// As for `hs_dac_point`.
unsafe fn set_up<'i>(instrument: *mut hs_instrument) -> Result<&'i mut Instrument, i32> {
    if instrument.is_null() {
        return Err(HS_NULL);
    }
    // SAFETY: not null; the mark is a plain word, and by the caller's word the memory has been written.
    let mark = unsafe { (&raw const (*instrument.cast::<Instrument>()).mark).read() };
    if mark != MARK {
        return Err(HS_NOT_SET_UP);
    }
    // SAFETY: the mark is not in zeroed memory, so `hs_setup` has written the whole of it.
    Ok(unsafe { &mut *instrument.cast::<Instrument>() })
}

/// Adds a reference point: sound path, mm, height of its echo, percent, gain, dB.
///
/// # Safety
/// As for `hs_setup`, and the memory was zeroed or set up: memory that nobody wrote must not be read.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn hs_dac_point(
    instrument: *mut hs_instrument,
    path: f32,
    height: f32,
    gain: f32,
) -> i32 {
    status((|| {
        // SAFETY: the caller's word.
        let instrument = unsafe { set_up(instrument) }?;
        let point = DacPoint { path: quantity(path)?, height: quantity(height)?, gain: quantity(gain)? };
        instrument.dac.insert(point).map_err(curve)
    })())
}

/// Evaluates a reading: where the reflector is, with its uncertainty, and how strong it is.
///
/// # Safety
/// As for `hs_dac_point`; `reading` and `found` are null, or point to memory of their kinds.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn hs_evaluate(
    instrument: *mut hs_instrument,
    reading: *const hs_reading,
    found: *mut hs_found,
) -> i32 {
    if reading.is_null() || found.is_null() {
        return HS_NULL;
    }
    status((|| {
        // SAFETY: the caller's word.
        let (instrument, reading) = unsafe { (set_up(instrument)?, reading.read()) };
        let place = placed(instrument, &reading)?;
        let level = strength(instrument, &reading)?;
        let budget = Budget::default();
        // SAFETY: not null, and the caller's word for the rest.
        unsafe {
            found.write(hs_found {
                leg: place.leg,
                x: place.x.get(),
                y: place.y.get(),
                z: place.z.get(),
                u_y: place.u_y(&budget),
                u_z: place.u_z(&budget),
                level: level.db.get(),
                bound: match level.bound {
                    Bound::Exact => HS_EXACT,
                    Bound::AtLeast => HS_AT_LEAST,
                    Bound::AtMost => HS_AT_MOST,
                },
            });
        }
        Ok(())
    })())
}

fn placed(instrument: &Instrument, reading: &hs_reading) -> Result<Place, i32> {
    let side = match reading.side {
        0 => Side::A,
        1 => Side::B,
        _ => return Err(HS_RANGE),
    };
    let zero = Millimetres::constant(0.0);
    let position = Position::new(side, quantity(reading.x)?, quantity(reading.standoff)?, zero);
    let position = position.map_err(|_| HS_RANGE)?;
    locate(&instrument.axis, &Part::Flat(instrument.plate), &position, quantity(reading.path)?, Peaked::Axis)
        .map_err(|_| HS_RANGE)
}

fn strength(instrument: &Instrument, reading: &hs_reading) -> Result<Level, i32> {
    let reference = instrument.dac.gain_at(quantity(reading.path)?, Beyond::Refuse).map_err(curve)?;
    let echo = EchoHeight::Shown(quantity::<ScreenPercent>(reading.height)?);
    let transfer = Decibels::constant(0.0);
    level(echo, quantity(reading.gain)?, &reference, transfer, &Screen::default()).map_err(|_| HS_REFUSED)
}

/// Rates by d = a - b - c, with c of so many dB a mm beyond so many mm of path; nothing is rounded. The limits of d
/// stand in the governing code.
///
/// # Safety
/// `rating` is null, or points to memory of its kind.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn hs_rate(
    path: f32,
    a: f32,
    b: f32,
    per_mm: f32,
    beyond_mm: f32,
    rating: *mut hs_rating,
) -> i32 {
    if rating.is_null() {
        return HS_NULL;
    }
    status((|| {
        let attenuation = Attenuation::new(PathUnit::Millimetre, per_mm, beyond_mm).map_err(|_| HS_RANGE)?;
        let rule = Weighted {
            attenuation,
            round: Rounding::None,
            round_d: Rounding::None,
            shorter_path: ShorterPath::Zero,
        };
        let found = rule.rate(quantity(path)?, quantity(a)?, quantity(b)?).map_err(|_| HS_RANGE)?;
        // SAFETY: not null, and the caller's word for the rest.
        unsafe {
            rating.write(hs_rating {
                a: found.a.get(),
                b: found.b.get(),
                c: found.c.get(),
                d: found.d.get(),
            });
        }
        Ok(())
    })())
}

/// No panic can be reached: a program that could reach one does not link.
#[panic_handler]
fn panicked(_: &PanicInfo<'_>) -> ! {
    unsafe extern "C" {
        fn halfskip_can_panic() -> !;
    }
    // SAFETY: never called, since it does not link.
    unsafe { halfskip_can_panic() }
}
