//! Frames to the byte, and what a bad line may do to a stream of them.

use std::collections::BTreeSet;

use halfskip::record::entry::frame::{
    Control, Frame, FrameError, FrameReader, MAX_FRAME, Skipped, VERSION, decode, encode, encode_control,
    encode_numbered,
};
use halfskip::record::entry::{Entry, Text};
use halfskip::units::decimal::{Decimal, Entered};
use halfskip_host_tests::drawn::Drawn;
use halfskip_host_tests::frames::{fact, golden, hex};
use serde::Deserialize;
use serde::de::{Deserializer, Error as _, Visitor, value::Error};

fn framed(entry: &Entry) -> Vec<u8> {
    let mut buffer = [0; MAX_FRAME];
    encode(entry, &mut buffer).unwrap().to_vec()
}

#[test]
fn every_kind_of_entry_has_its_golden_frame() {
    let mut kinds = BTreeSet::new();
    for golden in golden() {
        let frame = framed(&golden.entry);
        assert_eq!(hex(&frame), hex(&golden.frame), "{}", golden.line);
        assert_eq!(decode(&golden.frame), Ok(Frame::Fact(golden.entry.clone())), "{}", golden.line);
        kinds.insert(postcard_index(&golden.entry));
    }
    assert_eq!(kinds.len(), kinds_of_entry(), "a kind of entry has no golden frame");
}

/// Which kind of entry it is, by its place in the enum.
fn postcard_index(entry: &Entry) -> u8 {
    let mut buffer = [0; MAX_FRAME];
    postcard::to_slice(entry, &mut buffer).unwrap()[0]
}

/// How many kinds there are, asked from what the enum tells a deserializer.
fn kinds_of_entry() -> usize {
    struct Asked<'a>(&'a mut usize);
    impl<'de> Deserializer<'de> for Asked<'_> {
        type Error = Error;
        fn deserialize_enum<V: Visitor<'de>>(
            self,
            _: &'static str,
            kinds: &'static [&'static str],
            _: V,
        ) -> Result<V::Value, Error> {
            *self.0 = kinds.len();
            Err(Error::custom("asked only for the kinds"))
        }
        fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Error> {
            Err(Error::custom("an entry is an enum"))
        }
        serde::forward_to_deserialize_any! {
            bool i8 i16 i32 i64 u8 u16 u32 u64 f32 f64 char str string bytes byte_buf option unit unit_struct
            newtype_struct seq tuple tuple_struct map struct identifier ignored_any
        }
    }
    let mut kinds = 0;
    assert!(Entry::deserialize(Asked(&mut kinds)).is_err());
    kinds
}

#[test]
fn the_longest_entries_find_room_in_a_frame() {
    let long = |character: &str| Text::try_from(character.repeat(120).as_str()).unwrap();
    let two_texts = Entry::Examiner { name: long("x"), certificate: Some(long("y")) };
    let figures = |figure: &str| [figure; 12].join(",");
    let steps = format!(
        "linearity gain set={0} change={1} shown={0} window=99.99999%",
        figures("99.99999"),
        figures("-99.99999")
    );
    for entry in [two_texts, fact(&steps)] {
        let frame = framed(&entry);
        assert!(frame.len() > 170, "{}", frame.len());
        assert_eq!(decode(&frame), Ok(Frame::Fact(entry.clone())));
        // With its number it fits as well.
        let mut buffer = [0; MAX_FRAME];
        let frame = encode_numbered(u32::MAX, &entry, &mut buffer).unwrap();
        assert_eq!(decode(frame), Ok(Frame::Numbered(u32::MAX, entry)));
    }
}

#[test]
fn another_version_and_bytes_left_over_are_refused() {
    let body = |version: u8, after: &[u8]| {
        let entry = framed(&fact("units in"));
        let decoded = cobs::decode_vec(&entry[1..entry.len() - 1]).unwrap();
        let content = [&[version], &decoded[1..decoded.len() - 4], after].concat();
        let checksum = crc::Crc::<u32>::new(&crc::CRC_32_ISCSI).checksum(&content);
        cobs::encode_vec(&[&content[..], &checksum.to_le_bytes()].concat())
    };
    assert_eq!(decode(&body(VERSION, &[])), Ok(Frame::Fact(fact("units in"))));
    assert_eq!(decode(&body(VERSION + 1, &[])), Err(FrameError::Version(VERSION + 1)));
    assert_eq!(decode(&body(VERSION, &[0])), Err(FrameError::NotAnEntry));
}

#[test]
fn what_is_no_fact_alone_has_its_golden_frame_too() {
    let mut buffer = [0; MAX_FRAME];
    let numbered = encode_numbered(7, &fact("units in"), &mut buffer).unwrap();
    assert_eq!(hex(numbered), "0003820701010706019513bb8300");
    for (control, golden) in [
        (Control::Ask(1), "0002420601adf2051a00"),
        (Control::Last(300), "00094201ac02b76e0a4f00"),
        (Control::Refused(7), "0008420207ab25e11b00"),
    ] {
        let frame = encode_control(control, &mut buffer).unwrap();
        assert_eq!(hex(frame), golden);
        assert_eq!(decode(frame), Ok(Frame::Control(control)));
    }
}

/// What was done to a frame on its way.
fn damaged(frame: &[u8], drawn: &mut Drawn) -> Vec<u8> {
    let mut bytes = frame.to_vec();
    let at = |drawn: &mut Drawn, length: usize| (drawn.bits() % length as u64) as usize;
    match drawn.bits() % 3 {
        0 => {
            for _ in 0..=drawn.bits() % 8 {
                let place = at(drawn, bytes.len());
                bytes[place] ^= 1 << (drawn.bits() % 8);
            }
        }
        1 => {
            let from = at(drawn, bytes.len());
            let to = from + 1 + at(drawn, bytes.len() - from);
            bytes.drain(from..to);
        }
        _ => {
            let place = at(drawn, bytes.len() + 1);
            // Now and then more than a frame can hold.
            let longest = drawn.one_of(&[1, 1, 4, 4, 30, 600]);
            for _ in 0..=at(drawn, longest) {
                bytes.insert(place, drawn.bits() as u8);
            }
        }
    }
    bytes
}

#[test]
fn of_100_000_frames_half_of_them_damaged_none_is_read_wrong_and_no_whole_one_is_lost() {
    let mut drawn = Drawn::seeded(3);
    let kinds: Vec<Entry> = golden().into_iter().map(|golden| golden.entry).collect();
    let (mut reader, mut before) = (FrameReader::new(), None);
    let (mut whole, mut refused) = (0, 0);
    for number in 0..100_000u32 {
        // No two entries sent are the same, so that a wrong one cannot pass for a right one.
        let entry = match &kinds[(drawn.bits() % kinds.len() as u64) as usize] {
            Entry::Reading(reading) => {
                let x = format!("{}.{:03}", number / 100, drawn.bits() % 1000);
                let mut reading = reading.clone();
                reading.x = Entered::new(Decimal::parse(&x).unwrap()).unwrap();
                Entry::Reading(reading)
            }
            Entry::Void { reason, .. } => Entry::Void { number, reason: reason.clone() },
            _ => Entry::Note(Text::try_from(format!("{number} {:x}", drawn.bits()).as_str()).unwrap()),
        };
        let frame = framed(&entry);
        let damage = drawn.bits().is_multiple_of(2);
        let sent = if damage { damaged(&frame, &mut drawn) } else { frame };
        let mut arrived = false;
        for byte in sent {
            match reader.push(byte) {
                Some(Ok(Frame::Fact(read))) if read == entry => arrived = true,
                // A frame that lost its last zero is closed by the first of the next.
                Some(Ok(read)) => assert_eq!(Some(read), before.take(), "frame {number} is read wrong"),
                Some(Err(_)) => refused += 1,
                None => {}
            }
        }
        assert!(damage || arrived, "frame {number} is lost");
        whole += u32::from(!damage);
        before = (!arrived).then_some(Frame::Fact(entry));
    }
    assert!(whole > 49_000 && refused > 40_000, "{whole} whole, {refused} refused");
}

#[test]
fn noise_alone_is_never_an_entry() {
    let mut drawn = Drawn::seeded(4);
    let mut reader = FrameReader::new();
    let (mut skipped, mut sent) = (0u64, 0u64);
    for _ in 0..2_000_000 {
        let byte = drawn.bits() as u8;
        sent += u64::from(byte != 0);
        match reader.push(byte) {
            Some(Err(Skipped { bytes, .. })) => skipped += u64::from(bytes),
            Some(Ok(frame)) => panic!("{frame:?}"),
            None => {}
        }
    }
    skipped += u64::from(reader.finish().map_or(0, |rest| rest.bytes));
    assert_eq!(skipped, sent, "every byte is told of");
}
