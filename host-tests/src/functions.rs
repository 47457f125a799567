//! A digest of what each function of `math` gives over all sizes of number. The firmware compiles this same file: another
//! `libm`, compiler or processor that gives one other bit gives another digest.

use core::fmt::{Result, Write};

use halfskip::math;

/// Numbers that each function is tried on, of either sign.
const TRIED: u32 = 10_000;

/// FNV-1a, of 64 bits.
fn digest(results: impl Iterator<Item = u64>) -> u64 {
    let bytes = results.flat_map(u64::to_le_bytes);
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3))
}

/// Numbers of all sizes up to a largest, of either sign.
fn sizes(largest: f32) -> impl Iterator<Item = f32> {
    let step = largest.to_bits() / TRIED;
    (0..TRIED).map(move |place| f32::from_bits(place * step)).flat_map(|size| [size, -size])
}

/// Pairs of sides, with digits that single precision has not.
fn sides() -> impl Iterator<Item = (f64, f64)> {
    let one = |value: f32| f64::from(value) * 1.000_000_012_345;
    let ratios = sizes(1e4).map(move |side| (one(side), 1.0));
    ratios.chain(sizes(1e30).zip(sizes(1e20).skip(1_001)).map(move |(up, along)| (one(up), one(along))))
}

/// Writes a function and its digest a line.
///
/// # Errors
/// That `out` cannot be written.
pub fn write(out: &mut dyn Write) -> Result {
    let single = |value: f32| u64::from(value.to_bits());
    let mut line = |name, digest| writeln!(out, "{digest:016x} {name}");
    let turned = |sine_cosine: (f64, f64)| [sine_cosine.0.to_bits(), sine_cosine.1.to_bits()];
    line("sin_cos_f64", digest(sizes(1e6).map(math::sin_cos_f64).flat_map(turned)))?;
    let arcs = sizes(1e3).map(|arc| math::sin_cos_of_arc(f64::from(arc), 30.0));
    line("sin_cos_of_arc", digest(arcs.flat_map(turned)))?;
    // Of radius 1 the arc is the angle itself.
    line("arc", digest(sides().map(|(up, along)| math::arc(1.0, up, along).to_bits())))?;
    line("sqrt", digest(sizes(f32::MAX).filter_map(math::sqrt).map(single)))?;
    let roots = sides().filter_map(|(up, along)| math::sqrt_f64(up * along)).map(f64::to_bits);
    line("sqrt_f64", digest(roots))?;
    line("log10", digest(sizes(f32::MAX).filter_map(math::log10).map(single)))?;
    line("exp10", digest(sizes(46.0).map(math::exp10).map(single)))?;
    line("floor", digest(sizes(f32::MAX).map(math::floor).map(single)))?;
    line("ceil", digest(sizes(f32::MAX).map(math::ceil).map(single)))
}
