//! The whole number below a number, by its bits.

/// The largest whole number not above `value`; what has no fraction, an infinite number and NaN are their own.
pub(super) fn floor(value: f32) -> f32 {
    let bits = value.to_bits();
    let negative = bits >> 31 == 1;
    let exponent = (bits >> 23 & 0xff).wrapping_sub(127) as i32;
    if exponent < 0 {
        // Smaller than 1; zeros keep their sign.
        return match (negative, bits << 1 == 0) {
            (true, false) => -1.0,
            (false, false) => 0.0,
            _ => value,
        };
    }
    // The bits behind the point.
    let fraction = 0x7f_ffffu32.checked_shr(exponent as u32).unwrap_or(0);
    // A negative one goes to the next whole number from zero unless it is one: a carry into the exponent is right, too.
    let bits = if negative { bits.wrapping_add(fraction) } else { bits };
    f32::from_bits(bits & !fraction)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_exponent_has_the_platforms_whole_number() {
        for bits in (0..=u32::MAX).step_by(8_191) {
            let value = f32::from_bits(bits);
            if !value.is_nan() {
                assert_eq!(floor(value).to_bits(), value.floor().to_bits(), "{value}");
            }
        }
        assert!(floor(f32::NAN).is_nan());
    }

    #[test]
    fn whole_numbers_and_their_neighbours_fall_on_the_right_side() {
        for whole in -70_000..70_000i32 {
            let value = whole as f32;
            assert_eq!((floor(value), floor(value.next_up())), (value, value));
            assert_eq!(floor(value.next_down()), value - 1.0);
        }
    }
}
