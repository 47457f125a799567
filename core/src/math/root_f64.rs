//! The square root in `f64`, digit by digit: correctly rounded, so that it is the same number that hardware gives. Fits
//! take a few of them, where a table for fewer steps would cost more flash than it is worth.
//!
//! With x = M 4^k, 1 ≤ M < 4, and q the root of M as far as it is known: the next digit of weight r is one where
//! (q + r)² ≤ M, that is r (2 q + r) ≤ M − q². Kept are 2 q and what is left of M, doubled at each step in place of
//! halving r's weight.

/// The root of a number that is not negative; an infinite one is its own.
#[inline(never)]
pub(super) fn sqrt(value: f64) -> f64 {
    let bits = value.to_bits();
    let (bits, lifted) = match bits {
        0x10_0000_0000_0000..0x7ff0_0000_0000_0000 => (bits, 0),
        // A subnormal number is made a normal one by 4^27.
        1..0x10_0000_0000_0000 => ((value * 18_014_398_509_481_984.0).to_bits(), 27),
        // Zeros and infinity.
        _ => return value,
    };
    let exponent = (bits >> 52) as i32 - 1023;
    let m = (bits & 0xf_ffff_ffff_ffff) | 0x10_0000_0000_0000;
    // M in parts of 2^53, r from 2^53: one digit more than the result has.
    let mut left = m << (1 + (exponent & 1));
    let (mut root, mut twice) = (0u64, 0u64);
    let mut digit = 1u64 << 53;
    while digit > 0 {
        let tried = twice.wrapping_add(digit);
        if tried <= left {
            left = left.wrapping_sub(tried);
            twice = tried.wrapping_add(digit);
            root = root.wrapping_add(digit);
        }
        left <<= 1;
        digit >>= 1;
    }
    // The digit more rounds: a root of 53 digits never ends half way between two numbers.
    let rounded = root.wrapping_add(1) >> 1;
    let power = ((exponent >> 1) + 1023 - lifted - 1) as u64;
    f64::from_bits((power << 52).wrapping_add(rounded))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_exponent_has_the_root_that_the_platform_gives() {
        for bits in (0..f64::INFINITY.to_bits()).step_by(0x0fed_cba9_8765) {
            let value = f64::from_bits(bits);
            assert_eq!(sqrt(value), value.sqrt(), "{value:e}");
        }
        assert_eq!((sqrt(0.0), sqrt(f64::INFINITY)), (0.0, f64::INFINITY));
    }

    #[test]
    fn squares_and_their_neighbours_have_the_root_that_is_nearest() {
        let mut root = 1.0f64;
        while root < 2.0 {
            for value in [(root * root).next_down(), root * root, (root * root).next_up()] {
                assert_eq!(sqrt(value), value.sqrt(), "{value:e}");
            }
            root += 1.234_567_890_123e-5;
        }
        for whole in 0..10_000 {
            assert_eq!(sqrt(f64::from(whole * whole)), f64::from(whole));
        }
    }
}
