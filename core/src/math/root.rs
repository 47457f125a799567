//! The square root by whole numbers: correctly rounded, so that it is the same number that hardware gives, at the cost
//! of half a dozen multiplications where there is none.
//!
//! With x = M 4^k, 1 ≤ M < 4: a tabled 1/√M, one step of Newton, r = r (3 − M r²) / 2, and the root s = M r carried on
//! by its remainder, s + (M − s²) r / 2, twice. A remainder is small, so that its lowest 32 bits are all of it.

/// 256 / √M for every sixteenth of M, from 1 to 4.
const START: [u8; 48] = [
    252, 245, 238, 232, 226, 221, 216, 211, 207, 203, 199, 195, 192, 189, 185, 182, 180, 177, 174, 172, 169,
    167, 165, 163, 161, 159, 157, 155, 154, 152, 150, 149, 147, 146, 144, 143, 141, 140, 139, 137, 136, 135,
    134, 133, 132, 131, 130, 129,
];

/// The root of a number that is not negative; an infinite one is its own.
#[inline(never)]
pub(super) fn sqrt(value: f32) -> f32 {
    let bits = value.to_bits();
    let (bits, lifted) = match bits {
        0x80_0000..0x7f80_0000 => (bits, 0),
        // A subnormal number is made a normal one by 4^12.
        1..0x80_0000 => ((value * 16_777_216.0).to_bits(), 12),
        // Zeros and infinity.
        _ => return value,
    };
    let exponent = (bits >> 23) as i32 - 127;
    // M in parts of 2^23.
    let m = ((bits & 0x7f_ffff) | 0x80_0000) << (exponent & 1);
    let start = START.get((m >> 19).wrapping_sub(16) as usize).copied().unwrap_or(128);
    let r = u32::from(start);
    // M r² in parts of 2^30, 3 − it to 14 bits, r in parts of 2^16
    let short = m >> 9;
    let left = (3u32 << 30).wrapping_sub(short.wrapping_mul(r.wrapping_mul(r))) >> 16;
    let r = r.wrapping_mul(left) >> 7;
    // s in parts of 2^15, its remainder in parts of 2^30
    let s = short.wrapping_mul(r) >> 15;
    let left = (m << 7).wrapping_sub(s.wrapping_mul(s)) >> 8;
    // s in parts of 2^24, its remainder in parts of 2^48
    let s = (s << 9).wrapping_add(left.wrapping_mul(r) >> 15);
    let left = (m << 25).wrapping_sub(s.wrapping_mul(s)) as i32 >> 16;
    // s in parts of 2^23, cut; (s + ½)² = s² + s + ¼ tells which way it rounds
    let s = s.wrapping_add_signed(left.wrapping_mul(r as i32) >> 25) >> 1;
    let left = (m << 23).wrapping_sub(s.wrapping_mul(s));
    let rounded = s.wrapping_add(u32::from(left > s));
    let power = ((exponent >> 1) + 127 - lifted - 1) as u32;
    f32::from_bits((power << 23).wrapping_add(rounded))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The f64 root rounded again is the f32 root: 53 digits are enough for 2 · 24 + 2.
    fn nearest(value: f32) -> f32 {
        crate::math::sqrt_f64(f64::from(value)).unwrap() as f32
    }

    #[test]
    fn every_mantissa_has_the_root_that_is_nearest() {
        for bits in 1.0f32.to_bits()..4.0f32.to_bits() {
            let value = f32::from_bits(bits);
            assert_eq!(sqrt(value), nearest(value), "{value}");
        }
    }

    #[test]
    fn every_exponent_has_the_root_that_is_nearest() {
        for bits in (0..f32::INFINITY.to_bits()).step_by(10_007) {
            let value = f32::from_bits(bits);
            assert_eq!(sqrt(value), nearest(value), "{value}");
        }
        assert_eq!((sqrt(0.0), sqrt(f32::INFINITY)), (0.0, f32::INFINITY));
    }
}
