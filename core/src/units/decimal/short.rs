//! The short form of a packed number: few bits for the few digits that people read off an instrument.
//!
//! Low bits first: places after the point (2 bits, 0 to 3), alternative unit (1), sign (1, where a quantity can be
//! negative), mantissa (the rest).

use super::Decimal;
use super::entered::ALTERNATIVE;

const PLACES: u32 = 3;

/// How many bits a quantity is given, and whether one of them is its sign.
#[derive(Clone, Copy)]
pub(crate) struct Short {
    width: u32,
    sign: u32,
}

impl Short {
    /// For what is never negative.
    pub const fn unsigned(width: u32) -> Self {
        Self { width, sign: 0 }
    }

    pub const fn signed(width: u32) -> Self {
        Self { width, sign: 1 }
    }

    /// A code that no number has: minus nothing.
    pub const fn none(self) -> u32 {
        1 << 3
    }

    /// The short form of a packed number; none when it takes more digits or places than there is room for.
    pub const fn of(self, packed: u32) -> Option<u32> {
        let Decimal { mantissa, exponent, negative } = Decimal::unpack_own(packed);
        let (places, negative) = (exponent.unsigned_abs() as u32, negative as u32);
        if exponent > 0
            || places > PLACES
            || negative > self.sign
            || mantissa >> (self.width - 3 - self.sign) > 0
        {
            return None;
        }
        let alternative = (packed & ALTERNATIVE != 0) as u32;
        Some((mantissa << (3 + self.sign)) | (negative << 3) | (alternative << 2) | places)
    }

    /// The packed number of a short form.
    pub const fn packed(self, code: u32) -> u32 {
        let number = Decimal {
            mantissa: code >> (3 + self.sign),
            exponent: -((code & PLACES) as i8),
            negative: (code >> 3) & self.sign != 0,
        };
        number.pack() | if code & (1 << 2) == 0 { 0 } else { ALTERNATIVE }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_has_a_short_form_comes_back_from_it() {
        for form in [Short::unsigned(14), Short::signed(14), Short::signed(24)] {
            let codes = (0..1 << form.width).filter(|code| form.sign == 0 || *code & !7 != form.none());
            for code in codes {
                let packed = form.packed(code);
                assert_eq!(form.of(packed), Some(code), "{packed:#x}");
            }
        }
    }

    #[test]
    fn too_many_digits_or_places_and_a_sign_where_none_can_be_have_no_short_form() {
        let packed =
            |mantissa: u32, negative: u32, exponent: u32| (mantissa << 7) | (negative << 5) | exponent;
        let form = Short::unsigned(14);
        assert!(form.of(packed(2047, 0, 12)).is_some());
        for refused in [packed(2048, 0, 15), packed(2047, 0, 11), packed(2047, 0, 16), packed(1, 1, 15)] {
            assert_eq!(form.of(refused), None, "{refused:#x}");
        }
    }
}
