//! Quantities of which the compiler knows nothing.

use halfskip::units::Quantity;

use crate::Serial;

/// A quantity from the serial port: four bytes, the lowest first; none when it cannot be.
pub fn any<Q: Quantity>(port: &mut Serial) -> Option<Q> {
    let bytes = [port.receive(), port.receive(), port.receive(), port.receive()];
    Q::checked(f32::from_le_bytes(bytes)).ok()
}
