//! One flipped bit is put right where a checksum says which.

/// What `read` makes of the bytes, or of the bytes with one bit flipped; none when neither is anything.
///
/// A checksum of 32 bits fits what is not its own once in four thousand million tries; of a damaged record some hundreds
/// are made. A cut record that lacks a single bit is read as the whole one that it was to be.
pub(super) fn mended<T>(bytes: &mut [u8], read: impl Fn(&[u8]) -> Option<T>) -> Option<T> {
    if let Some(found) = read(bytes) {
        return Some(found);
    }
    for place in 0..bytes.len() {
        for bit in 0..8 {
            flip(bytes, place, bit);
            let found = read(bytes);
            flip(bytes, place, bit);
            if found.is_some() {
                return found;
            }
        }
    }
    None
}

fn flip(bytes: &mut [u8], place: usize, bit: u32) {
    if let Some(byte) = bytes.get_mut(place) {
        *byte ^= 1u8.wrapping_shl(bit);
    }
}
