//! Ten to a power by whole numbers, without a table.
//!
//! With y = x log2 10, n the whole number nearest to it and f = y − n, |f| ≤ ½:
//!
//! `10^x = 2^n 2^f`, `2^f = 1 + f (E0 + E1 f + … + E6 f⁶)`
//!
//! The polynomial is the Chebyshev one over |f| ≤ ½: off by 2^-33 of the power. Rounded once at the end, the result is
//! within 0.51 of its last place, below 2^-126 within one; the tests measure it.

/// log2 10, in parts of 2^38: with the 24 bits of a number, 64.
const LOG2_10: u64 = 913_124_641_741;
/// E0 to E6, in parts of 2^31.
const E: [i32; 7] = [1_488_522_236, 515_882_500, 119_194_166, 20_654_619, 2_863_348, 332_032, 32_851];

/// Ten to the power of a number: 0 or infinite where that is out of range, NaN of NaN.
pub(super) fn exp10(exponent: f32) -> f32 {
    let bits = exponent.to_bits();
    let negative = bits >> 31 == 1;
    let size = bits & 0x7fff_ffff;
    if size >= 64f32.to_bits() {
        return match (exponent.is_nan(), negative) {
            (true, _) => exponent,
            (_, true) => 0.0,
            _ => f32::INFINITY,
        };
    }
    // |y| in parts of 2^32, rounded by the bit behind them; what is subnormal, and more, leaves none.
    let product = u64::from((size & 0x7f_ffff) | 0x80_0000).wrapping_mul(LOG2_10);
    let y = product.checked_shr(155 - (size >> 23)).unwrap_or(0).wrapping_add(1) >> 1;
    let y = if negative { (y as i64).wrapping_neg() } else { y as i64 };
    // The lower half with its sign is f, and n is what is left.
    let f = y as i32;
    let n = (y.wrapping_sub(i64::from(f)) >> 32) as i32;
    let times_f = |t: i32| i64::from(t).wrapping_mul(i64::from(f));
    let t = E.iter().rev().fold(0i32, |t, e| ((times_f(t) >> 32) as i32).wrapping_add(*e));
    // 2^f in parts of 2^62
    let part = (1i64 << 62).wrapping_add(times_f(t) >> 1);
    let part = f32::from_bits((part as f32).to_bits().wrapping_sub(62 << 23));
    // In two steps, neither of which is out of range itself.
    let half = n >> 1;
    part * power_of_two(half) * power_of_two(n.wrapping_sub(half))
}

/// Two to a whole power, −126 to 127.
fn power_of_two(n: i32) -> f32 {
    f32::from_bits((n.wrapping_add(127) as u32) << 23)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Largest error over every so many numbers from −46 to 46, in units of the power's last place.
    fn worst(step: usize, in_range: impl Fn(f64) -> bool) -> f64 {
        let sizes = (0..46f32.to_bits()).step_by(step).map(f32::from_bits);
        let numbers = sizes.flat_map(|size| [size, -size]).filter(|number| in_range(f64::from(*number)));
        let off = |number: f32| {
            let (got, exact) = (exp10(number), 10f64.powf(f64::from(number)));
            let nearest = exact as f32;
            (f64::from(got) - exact).abs() / (f64::from(nearest.next_up()) - f64::from(nearest))
        };
        numbers.map(off).fold(0.0, |most, off| if off > most { off } else { most })
    }

    #[test]
    fn normal_powers_are_within_half_their_last_place_and_a_hundredth() {
        assert!(worst(1_009, |number| -37.9 < number && number < 38.53) < 0.51);
    }

    #[test]
    fn subnormal_powers_are_within_their_last_place() {
        assert!(worst(1_009, |number| number < -37.9) < 1.0);
    }

    #[test]
    fn whole_powers_of_ten_are_the_nearest_numbers() {
        for power in -37..=38 {
            let nearest: f32 = std::format!("1e{power}").parse().unwrap();
            assert_eq!(exp10(power as f32), nearest);
        }
    }

    #[test]
    fn what_is_out_of_range_is_nothing_or_infinite() {
        for large in [38.6, 46.0, 63.9, 64.0, 1e30, f32::INFINITY] {
            assert_eq!((exp10(large), exp10(-large - 7.0)), (f32::INFINITY, 0.0), "{large}");
        }
        assert_eq!((exp10(0.0), exp10(-0.0), exp10(1e-40)), (1.0, 1.0, 1.0));
        assert!(exp10(f32::NAN).is_nan());
    }
}
