//! Sixteen readings abreast, each step a loop without a branch.
//!
//! Every figure is computed by the operations that [`locate`](crate::part::locate::locate), [`Dac::gain_at`] and
//! [`level`](crate::calibration::level::level) do on it, in their order. Terms that those leave out as nothing are added here as +0.
//! A row that cannot be told apart from one in range here is marked, and worked out by itself.

use super::{Evaluated, Readings, ScanSetUp};
use crate::calibration::curve::Dac;
use crate::calibration::level::{Bound, Level};
use crate::math::{self, RADIANS_PER_DEGREE};
use crate::part::locate::{Face, is_nothing};
use crate::part::path::leg_at;
use crate::units::error::Range;
use crate::units::limits::{PATH, STANDOFF};
use crate::units::{Decibels, Millimetres, ScreenPercent};

/// Readings abreast.
const LANES: usize = 16;
/// One figure of each.
type Lane<T = f32> = [T; LANES];

/// Place, the squares of its uncertainty, and whether all of it is in range.
struct Placed {
    leg: Lane<u32>,
    y: Lane,
    z: Lane,
    y_square: Lane,
    z_square: Lane,
    usable: Lane<u32>,
}

/// Bit 0 when a value is in a range, without a branch.
#[inline(always)]
fn within(range: Range, value: f32) -> u32 {
    u32::from(value >= range.min) & u32::from(value <= range.max)
}

#[inline(always)]
fn square(part: f32) -> f32 {
    part * part
}

pub(super) fn evaluate<const N: usize>(
    common: &ScanSetUp<'_, N>,
    readings: &Readings<'_>,
    found: &mut [Option<Evaluated>],
) {
    let (standoffs, standoff_rest) = readings.standoff.as_chunks::<LANES>();
    let (paths, path_rest) = readings.path.as_chunks::<LANES>();
    let (heights, height_rest) = readings.height.as_chunks::<LANES>();
    let (gains, gain_rest) = readings.gain.as_chunks::<LANES>();
    let (blocks, rest) = found.as_chunks_mut::<LANES>();
    let rows = standoffs.iter().zip(paths).zip(heights.iter().zip(gains));
    for (((standoff, path), (height, gain)), block) in rows.zip(blocks) {
        abreast(common, [standoff, path, height, gain], block);
    }
    let rows = standoff_rest.iter().zip(path_rest).zip(height_rest.iter().zip(gain_rest));
    for (((standoff, path), (height, gain)), out) in rows.zip(rest) {
        *out = common.one(*standoff, *path, *height, *gain).ok();
    }
}

#[inline(never)]
fn abreast<const N: usize>(
    common: &ScanSetUp<'_, N>,
    [standoff, path, height, gain]: [&Lane; 4],
    block: &mut [Option<Evaluated>; LANES],
) {
    let mut placed = place(common, standoff, path);
    let mut reference = [0.0; LANES];
    reference_gains(common.dac, path, &mut reference, &mut placed.usable);
    let mut ratio = [1.0; LANES];
    let mut bound = [0; LANES];
    ratios(common, height, &mut ratio, &mut bound, &mut placed.usable);
    let mut db = [0.0; LANES];
    logs(&ratio, &mut db);
    levels(common, &reference, gain, &mut db, &mut placed.usable);
    let rows = placed.leg.iter().zip(&placed.y).zip(placed.z.iter().zip(&placed.y_square));
    let rows = rows.zip(placed.z_square.iter().zip(&placed.usable)).zip(db.iter().zip(&bound));
    let inputs = standoff.iter().zip(path).zip(height.iter().zip(gain));
    for ((((((leg, y), (z, y_square)), (z_square, usable)), (db, bound)), input), out) in
        rows.zip(inputs).zip(block)
    {
        *out = if *usable == 1 {
            let bound = match bound {
                0 => Bound::Exact,
                1 => Bound::AtLeast,
                _ => Bound::AtMost,
            };
            Some(Evaluated {
                leg: *leg,
                y: Millimetres::computed(*y),
                z: Millimetres::computed(*z),
                u_y: math::sqrt(*y_square).unwrap_or(f32::INFINITY),
                u_z: math::sqrt(*z_square).unwrap_or(f32::INFINITY),
                level: Level { db: Decibels::computed(*db), bound },
            })
        } else {
            let ((standoff, path), (height, gain)) = input;
            common.one(*standoff, *path, *height, *gain).ok()
        };
    }
}

/// Steps of [`locate`](crate::part::locate::locate) and [`Budget::expanded`](crate::part::locate::Budget::expanded).
#[inline(never)]
fn place<const N: usize>(common: &ScanSetUp<'_, N>, standoff: &Lane, path: &Lane) -> Placed {
    let mut placed = Placed {
        leg: [0; LANES],
        y: [0.0; LANES],
        z: [0.0; LANES],
        y_square: [0.0; LANES],
        z_square: [0.0; LANES],
        usable: [0; LANES],
    };
    let (sin, cos, t) = (common.axis.sin(), common.axis.cos(), common.plate.thickness());
    let fall = common.axis.fall();
    let (side, index, budget) = (common.side, common.index.get(), &common.budget);
    let far = common.face == Face::Far;
    let of_velocity = if is_nothing(budget.velocity) { 0.0 } else { budget.velocity };
    let (of_index, of_standoff) = (square(budget.index.get()), square(budget.standoff.get()));
    let (y_path, z_path) = (square(sin * budget.path.get()), square(cos * budget.path.get()));
    let outs = placed.leg.iter_mut().zip(&mut placed.y).zip(placed.z.iter_mut().zip(&mut placed.y_square));
    let outs = outs.zip(placed.z_square.iter_mut().zip(&mut placed.usable));
    for ((standoff, path), (((leg_out, y_out), (z_out, y_square)), (z_square, usable))) in
        standoff.iter().zip(path).zip(outs)
    {
        let (u, distance) = (path * cos, path * sin);
        let (leg, depth) = leg_at(u, t);
        let y = side.signed(index - standoff + distance) + 0.0;
        // dz/dt = −(n − 1) on odd legs, n on even ones; from the far face z → t − z
        let odd = leg % 2 == 1;
        let of_t = if odd { -(leg.wrapping_sub(1).cast_signed() as f32) } else { leg.cast_signed() as f32 };
        let of_t = if far { 1.0 - of_t } else { of_t };
        let mut sum = square(u * RADIANS_PER_DEGREE * budget.angle.get());
        sum += of_index;
        sum += square(2.0 * distance * of_velocity);
        sum += of_standoff;
        *y_square = (sum + y_path) * (4.0 / 3.0);
        let mut sum = square(distance * RADIANS_PER_DEGREE * budget.angle.get());
        sum += square(path * fall * of_velocity);
        sum += square(of_t * budget.thickness.get());
        *z_square = (sum + z_path) * (4.0 / 3.0);
        (*leg_out, *y_out) = (leg, y);
        *z_out = if far { t - depth } else { depth };
        *usable = within(PATH, *path) & within(STANDOFF, *standoff) & within(Millimetres::RANGE, y);
    }
    placed
}

/// Steps of [`Dac::gain_at`] between its points; elsewhere a row is not usable.
#[inline(never)]
fn reference_gains<const N: usize>(dac: &Dac<N>, path: &Lane, reference: &mut Lane, usable: &mut Lane<u32>) {
    let (mut from_path, mut from, mut to_path, mut to) =
        ([0.0; LANES], [0.0; LANES], [0.0; LANES], [0.0; LANES]);
    let shortest = dac.points().next().map_or(f32::INFINITY, |first| first.path.get());
    let mut longest = f32::NEG_INFINITY;
    for point in dac.points() {
        let (at, gain) = (point.path.get(), point.gain.get());
        // From the last point that s has come to, to the one after the last that it has passed.
        nearer(&mut from_path, &mut from, (at, gain), path, |s| s >= at);
        nearer(&mut to_path, &mut to, (at, gain), path, |s| s > longest);
        longest = at;
    }
    let ends = from_path.iter().zip(&to_path).zip(from.iter().zip(&to));
    for ((s, ((from_path, to_path), (from, to))), (reference, usable)) in
        path.iter().zip(ends).zip(reference.iter_mut().zip(usable))
    {
        let share = (s - from_path) / (to_path - from_path);
        let gain = from + (to - from) * share;
        let passed = ((to >= from) & (gain > *to)) | ((to < from) & (gain < *to)) | (s == to_path);
        *reference = if passed { *to } else { gain };
        *usable &= u32::from(*s >= shortest) & u32::from(*s <= longest);
    }
}

/// Takes a point for the rows that it is meant for.
#[inline(always)]
fn nearer(
    paths: &mut Lane,
    gains: &mut Lane,
    (at, gain): (f32, f32),
    path: &Lane,
    meant: impl Fn(f32) -> bool,
) {
    for ((s, held), held_gain) in path.iter().zip(paths).zip(gains) {
        // All bits or none: a choice that leaves no branch.
        let taken = u32::from(meant(*s)).wrapping_neg();
        *held = f32::from_bits((at.to_bits() & taken) | (held.to_bits() & !taken));
        *held_gain = f32::from_bits((gain.to_bits() & taken) | (held_gain.to_bits() & !taken));
    }
}

/// The echo's height over the reference height, and which bound it is: 1 at least, 2 at most.
#[inline(never)]
fn ratios<const N: usize>(
    common: &ScanSetUp<'_, N>,
    height: &Lane,
    ratio: &mut Lane,
    bound: &mut Lane<u32>,
    usable: &mut Lane<u32>,
) {
    let screen = &common.screen;
    let (max, noise, reference) = (screen.max().get(), screen.noise().get(), screen.reference().get());
    for ((height, ratio), (bound, usable)) in height.iter().zip(ratio).zip(bound.iter_mut().zip(usable)) {
        let (over, under) = (*height > max, *height < noise);
        let measured = if over { max } else { *height };
        let measured = if under { noise } else { measured };
        *bound = u32::from(over) | (u32::from(under) << 1);
        let quotient = measured / reference;
        let positive = quotient > 0.0;
        *ratio = if positive { quotient } else { 1.0 };
        *usable &= within(ScreenPercent::RANGE, *height) & u32::from(positive);
    }
}

#[inline(never)]
fn logs(ratio: &Lane, db: &mut Lane) {
    for (ratio, db) in ratio.iter().zip(db) {
        // Not positive or not a number: marked as unusable already.
        *db = math::log10(*ratio).unwrap_or(0.0);
    }
}

/// L = 20 log10(h / H_ref) + G_ref + T − G, from the logarithm.
#[inline(never)]
fn levels<const N: usize>(
    common: &ScanSetUp<'_, N>,
    reference: &Lane,
    gain: &Lane,
    db: &mut Lane,
    usable: &mut Lane<u32>,
) {
    let transfer = common.transfer.get();
    for ((reference, gain), (db, usable)) in reference.iter().zip(gain).zip(db.iter_mut().zip(usable)) {
        let lift = 20.0 * *db;
        let level = lift + ((reference - gain) + transfer);
        *usable &= within(Decibels::RANGE, *gain)
            & within(Decibels::RANGE, *reference)
            & within(Decibels::RANGE, lift)
            & within(Decibels::RANGE, level);
        *db = level;
    }
}

#[cfg(test)]
mod tests;
