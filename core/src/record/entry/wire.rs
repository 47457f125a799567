//! Writes the postcard wire format (<https://postcard.jamesmunns.com/wire-format>) without a panic path.
//!
//! The `postcard` crate reads it back. Its writer indexes an array in a loop that the compiler cannot prove; on a
//! device no panic may be reachable, and this writer is smaller besides. Only what an entry is made of can be written.

use core::fmt;

use serde::ser::{
    Impossible, Serialize, SerializeSeq, SerializeStruct, SerializeStructVariant, SerializeTuple,
    SerializeTupleStruct, SerializeTupleVariant, Serializer,
};

/// There is no room, or the value is of a kind that no entry is made of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct NotWritten;

impl fmt::Display for NotWritten {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("not written")
    }
}

impl core::error::Error for NotWritten {}

impl serde::ser::Error for NotWritten {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

/// Writes a value into a buffer and returns how many bytes it took.
pub(crate) fn write(value: &impl Serialize, buffer: &mut [u8]) -> Result<usize, NotWritten> {
    let room = buffer.len();
    let mut wire = Wire { rest: buffer };
    value.serialize(&mut wire)?;
    Ok(room.saturating_sub(wire.rest.len()))
}

/// What is left of the buffer.
struct Wire<'b> {
    rest: &'b mut [u8],
}

type Written = Result<(), NotWritten>;

impl Wire<'_> {
    #[inline(never)]
    fn bytes(&mut self, bytes: &[u8]) -> Written {
        let rest = core::mem::take(&mut self.rest);
        let (front, rest) = rest.split_at_mut_checked(bytes.len()).ok_or(NotWritten)?;
        front.iter_mut().zip(bytes).for_each(|(place, byte)| *place = *byte);
        self.rest = rest;
        Ok(())
    }

    /// Seven bits a byte, the lowest first; the top bit says that more follow.
    #[inline(never)]
    fn number(&mut self, number: u32) -> Written {
        let mut left = number;
        while left > 0x7F {
            self.bytes(&[(left as u8) | 0x80])?;
            left >>= 7;
        }
        self.bytes(&[left as u8])
    }

    fn length(&mut self, length: usize) -> Written {
        self.number(u32::try_from(length).map_err(|_| NotWritten)?)
    }
}

/// Parts that follow one another with nothing between.
macro_rules! parts {
    ($($part:ident :: $method:ident $(($key:ty))?),* $(,)?) => {$(
        impl $part for &mut Wire<'_> {
            type Ok = ();
            type Error = NotWritten;

            fn $method<T: Serialize + ?Sized>(&mut self, $(_: $key,)? value: &T) -> Written {
                value.serialize(&mut **self)
            }

            fn end(self) -> Written {
                Ok(())
            }
        }
    )*};
}

parts! {
    SerializeSeq::serialize_element,
    SerializeTuple::serialize_element,
    SerializeTupleStruct::serialize_field,
    SerializeTupleVariant::serialize_field,
    SerializeStruct::serialize_field(&'static str),
    SerializeStructVariant::serialize_field(&'static str),
}

/// Kinds that no entry is made of.
macro_rules! none {
    ($($method:ident($kind:ty)),* $(,)?) => {$(
        fn $method(self, _: $kind) -> Written {
            Err(NotWritten)
        }
    )*};
}

impl<'w, 'b> Serializer for &'w mut Wire<'b> {
    type Ok = ();
    type Error = NotWritten;
    type SerializeSeq = Self;
    type SerializeTuple = Self;
    type SerializeTupleStruct = Self;
    type SerializeTupleVariant = Self;
    type SerializeMap = Impossible<(), NotWritten>;
    type SerializeStruct = Self;
    type SerializeStructVariant = Self;

    none! {
        serialize_i16(i16), serialize_i32(i32), serialize_i64(i64), serialize_u64(u64), serialize_f64(f64),
        serialize_char(char), serialize_bytes(&[u8]),
    }

    fn serialize_bool(self, value: bool) -> Written {
        self.bytes(&[u8::from(value)])
    }

    fn serialize_i8(self, value: i8) -> Written {
        self.bytes(&value.to_le_bytes())
    }

    fn serialize_u8(self, value: u8) -> Written {
        self.bytes(&[value])
    }

    fn serialize_u16(self, value: u16) -> Written {
        self.number(u32::from(value))
    }

    fn serialize_u32(self, value: u32) -> Written {
        self.number(value)
    }

    fn serialize_f32(self, value: f32) -> Written {
        self.bytes(&value.to_le_bytes())
    }

    fn serialize_str(self, value: &str) -> Written {
        self.length(value.len())?;
        self.bytes(value.as_bytes())
    }

    fn serialize_none(self) -> Written {
        self.bytes(&[0])
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Written {
        self.bytes(&[1])?;
        value.serialize(self)
    }

    fn serialize_unit(self) -> Written {
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Written {
        Ok(())
    }

    fn serialize_unit_variant(self, _: &'static str, index: u32, _: &'static str) -> Written {
        self.number(index)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Written {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        index: u32,
        _: &'static str,
        value: &T,
    ) -> Written {
        self.number(index)?;
        value.serialize(self)
    }

    fn serialize_seq(self, length: Option<usize>) -> Result<Self, NotWritten> {
        self.length(length.ok_or(NotWritten)?)?;
        Ok(self)
    }

    fn serialize_tuple(self, _: usize) -> Result<Self, NotWritten> {
        Ok(self)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Self, NotWritten> {
        Ok(self)
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        index: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self, NotWritten> {
        self.number(index)?;
        Ok(self)
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Self::SerializeMap, NotWritten> {
        Err(NotWritten)
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Self, NotWritten> {
        Ok(self)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        index: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self, NotWritten> {
        self.number(index)?;
        Ok(self)
    }

    fn collect_str<T: fmt::Display + ?Sized>(self, _: &T) -> Written {
        Err(NotWritten)
    }

    fn is_human_readable(&self) -> bool {
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::string::ToString;

    #[test]
    fn a_frame_is_for_machines_and_what_does_not_fit_says_so() {
        let wire = &mut Wire { rest: &mut [] };
        assert!(!Serializer::is_human_readable(&wire));
        assert_eq!(write(&300u32, &mut [0; 1]).unwrap_err().to_string(), "not written");
    }
}
