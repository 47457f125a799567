//! Bytes made safe to send and store: a checksum behind them, and no zero but the delimiters.

use serde::Serialize;

use super::FrameError;
use crate::record::entry::wire;

const CHECKSUM: crc::Crc<u32, crc::NoTable> = crc::Crc::<u32, crc::NoTable>::new(&crc::CRC_32_ISCSI);

/// CRC-32C.
pub(crate) const fn checksum(bytes: &[u8]) -> u32 {
    CHECKSUM.checksum(bytes)
}

/// Writes `00 | COBS( head | postcard(content) | CRC-32C ) | 00` and returns the bytes used. `body` is room to work in.
pub(crate) fn seal<'a>(
    head: &[u8],
    content: &impl Serialize,
    body: &mut [u8],
    buffer: &'a mut [u8],
) -> Result<&'a [u8], FrameError> {
    let small = FrameError::BufferTooSmall;
    let (start, rest) = body.split_at_mut_checked(head.len()).ok_or(small)?;
    for (to, from) in start.iter_mut().zip(head) {
        *to = *from;
    }
    let used = wire::write(content, rest).map_err(|_| small)?;
    let length = head.len().saturating_add(used);
    let (content, rest) = body.split_at_mut_checked(length).ok_or(small)?;
    let sum = checksum(content).to_le_bytes();
    *rest.first_chunk_mut().ok_or(small)? = sum;
    let body = body.get(..length.saturating_add(sum.len())).ok_or(small)?;
    if buffer.len() < cobs::max_encoding_length(body.len()).saturating_add(2) {
        return Err(small);
    }
    let (first, rest) = buffer.split_first_mut().ok_or(small)?;
    *first = 0;
    let coded = cobs::try_encode(body, rest).map_err(|_| small)?;
    *rest.get_mut(coded).ok_or(small)? = 0;
    buffer.get(..coded.saturating_add(2)).ok_or(small)
}

/// The head and the content of a sealed frame, with or without its delimiters.
pub(crate) fn unseal<'b>(frame: &[u8], body: &'b mut [u8]) -> Result<&'b [u8], FrameError> {
    let frame = frame.strip_prefix(&[0]).unwrap_or(frame);
    let frame = frame.strip_suffix(&[0]).unwrap_or(frame);
    if frame.is_empty() || frame.contains(&0) {
        return Err(FrameError::NotAFrame);
    }
    let length = cobs::decode(frame, body).map_err(|_| FrameError::NotAFrame)?;
    let body = body.get(..length).ok_or(FrameError::NotAFrame)?;
    let (content, sum) = body.split_last_chunk().ok_or(FrameError::NotAFrame)?;
    if checksum(content) != u32::from_le_bytes(*sum) {
        return Err(FrameError::Checksum);
    }
    Ok(content)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_follows_a_delimiter_is_no_part_of_a_frame() {
        let (mut body, mut buffer) = ([0; 64], [0; 64]);
        let sealed = seal(&[1], &7u32, &mut body, &mut buffer).unwrap();
        assert_eq!(unseal(sealed, &mut [0; 64]), Ok(&[1, 7][..]));
        let longer = [sealed, &[1, 1]].concat();
        assert_eq!(unseal(&longer, &mut [0; 64]), Err(FrameError::NotAFrame));
        assert_eq!(unseal(&[0, 0], &mut [0; 64]), Err(FrameError::NotAFrame));
    }
}
