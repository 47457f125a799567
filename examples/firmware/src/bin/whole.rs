//! Every generic function of core, instantiated with sizes of its own and fed from the serial port, so that the
//! compiler can assume nothing: for the proof that no panic is reachable. What is not generic is proved from the
//! library itself; `.ci/device-proof` says when a generic function is missing here.
#![no_std]
#![no_main]

use core::hint::black_box;

use halfskip::acceptance::criteria::{self, Row, Sheet, read_frame};
use halfskip::calibration::curve::{Beyond, Dac, DacPoint};
use halfskip::calibration::level::{Bound, Level, Screen};
use halfskip::character::Thresholds;
use halfskip::evaluate::batch::{Readings, ScanSetUp};
use halfskip::evaluate::fusion::{View, fuse};
use halfskip::evaluate::sizing::length::{at_level, by_drop, by_end_peaks};
use halfskip::evaluate::sizing::series::{Sample, Series, SeriesView};
use halfskip::findings::{self, Findings, LengthRule, Scratch};
use halfskip::math::{largest_by, smallest_by};
use halfskip::part::locate::{Budget, Face, Side};
use halfskip::part::path::{Axis, Plate};
use halfskip::planning::coverage::{Grid, Holes, survey};
use halfskip::planning::plan::Limits;
use halfskip::record::entry::frame::{Frame, FrameReader, MAX_FRAME, encode};
use halfskip::record::examination::{Examination, Facts};
use halfskip::record::store::{Policy, Store};
use halfskip::units::{Decibels, Millimetres, ScreenPercent};
use halfskip_firmware::{InRam, Serial, any, end};

fn kept(port: &mut Serial) -> Option<()> {
    let mut reader = FrameReader::new();
    let mut memory = InRam::<3>::blank();
    let mut examination: Examination<3, 9, 33, 999> = Examination::new();
    {
        let mut store = Store::open(&mut memory, Policy::Stop).ok()?;
        loop {
            match reader.push(port.receive()) {
                Some(Ok(Frame::Fact(entry))) => drop(black_box(store.append(&entry))),
                Some(Ok(frame)) => drop(black_box(frame)),
                Some(Err(skipped)) => drop(black_box(skipped)),
                None if port.receive() == 0 => break,
                None => {}
            }
        }
        black_box(reader.finish());
    }
    if port.receive() == 0 {
        Store::format(&mut memory).ok()?;
    }
    let mut ring = Store::open(memory, Policy::Ring).ok()?;
    for entry in ring.entries() {
        let (_, entry) = entry.ok()?;
        let mut buffer = [0; MAX_FRAME];
        for byte in encode(&entry, &mut buffer).ok()? {
            port.send(*byte);
        }
        let _ = black_box(examination.record(entry));
    }
    black_box((ring.first(), ring.last()));
    for entry in examination.entries() {
        black_box(entry);
    }
    black_box(examination.entry(7));
    found(port, &examination.facts())
}

fn found(port: &mut Serial, facts: &Facts<'_>) -> Option<()> {
    let indication = port.receive();
    let rule = if indication > 7 { LengthRule::DROP_6 } else { LengthRule::Level(any(port)?) };
    let mut scratch = Scratch::<4, 21, 2>::new();
    let evaluated = Findings::new(*facts, None, &mut scratch);
    let one = evaluated.indication(indication);
    black_box(one.length(rule)).ok()?;
    black_box(one.scans());
    one.scan_along()?.sampled(|series| lengths(port, series)).ok()??;
    black_box(one.character_by::<21>(&Thresholds::default()));
    black_box(findings::coverage::<5>(facts, None, u32::from(indication), |cell| _ = black_box(*cell)));
    black_box(findings::scanned::<5>(facts, u32::from(indication)));
    let joint = facts.common().joint.as_ref().map(|(_, joint)| joint)?;
    black_box(survey::<5>(joint, &[], |_, _| None, |_| {}));
    let mut holes = Holes::<6>::new(&Grid::new(joint)?);
    black_box(survey::<5>(joint, &[], |_, _| None, |cell| holes.take(cell)));
    holes.iter().for_each(|hole| _ = black_box(*hole));
    sheet(port, facts, indication)
}

fn lengths(port: &mut Serial, series: &SeriesView) -> Option<()> {
    black_box(largest_by(series.samples().iter(), |sample| sample.travel));
    black_box(smallest_by(series.samples().iter(), |sample| sample.travel));
    let mut longer: Series<22> = Series::new();
    for sample in series.samples() {
        longer.insert(*sample).ok()?;
    }
    let level = Level { db: any::<Decibels>(port)?, bound: Bound::Exact };
    longer.insert(Sample { travel: any::<Millimetres>(port)?, level }).ok()?;
    black_box(by_drop(&longer, any(port)?)).ok()?;
    black_box(by_end_peaks(&longer, any(port)?, any(port)?)).ok()?;
    black_box(at_level(&longer, any(port)?)).ok()?;
    Some(())
}

fn sheet(port: &mut Serial, facts: &Facts<'_>, indication: u8) -> Option<()> {
    let mut bytes = [0; 400];
    bytes.iter_mut().for_each(|byte| *byte = port.receive());
    let rows = black_box(postcard::from_bytes::<Sheet<5>>(&bytes)).ok()?;
    let mut place: Option<Sheet<7>> = None;
    let _ = black_box(read_frame(&bytes, black_box(&mut place)));
    let mut again = heapless::Vec::<Row, 6>::new();
    for row in rows.rows() {
        again.push(row.clone()).ok()?;
    }
    let sheet: Sheet<6> = Sheet::new(rows.head().clone(), again).ok()?;
    black_box(sheet.check()).ok()?;
    sheet.unreachable_rows().for_each(|row| _ = black_box(row));
    let mut scratch = Scratch::<4, 21, 2>::new();
    let evaluated = Findings::new(*facts, Some(&sheet), &mut scratch);
    findings::cautions(&evaluated, |caution| _ = black_box(caution));
    let one = evaluated.indication(indication);
    let verdict = one.verdict(one.place().as_ref())?;
    let (asked, _) = verdict.own?;
    black_box(criteria::decide(&sheet, &asked));
    black_box(criteria::margin(&sheet, &asked));
    black_box(criteria::open_after(&sheet, &asked, &criteria::Need::Length(asked.length)));
    let (_, rating) = verdict.rating?;
    black_box(criteria::margin_of_rating(&sheet, &asked, &rating));
    Some(())
}

fn in_columns(port: &mut Serial, dac: &Dac<3>) -> Option<()> {
    let common = ScanSetUp {
        axis: Axis::new(any(port)?).ok()?,
        plate: Plate::new(any(port)?).ok()?,
        side: Side::B,
        face: Face::Far,
        index: any(port)?,
        dac,
        beyond: Beyond::Hold,
        transfer: any(port)?,
        screen: Screen::DEFAULT,
        budget: Budget::DEFAULT,
    };
    let column = [(); 19].map(|()| f32::from(port.receive()));
    let readings = Readings { standoff: &column, path: &column, height: &column, gain: &column };
    let mut found = [None; 19];
    let _ = black_box(common.evaluate(&readings, &mut found));
    black_box(found);
    black_box(common.one(column[0], column[1], column[2], column[3])).ok()?;
    Some(())
}

fn curves(port: &mut Serial) -> Option<()> {
    let mut dac: Dac<3> = Dac::new(any::<ScreenPercent>(port)?);
    while port.receive() > 0 {
        let point = DacPoint { path: any(port)?, height: any(port)?, gain: any(port)? };
        let _ = black_box(dac.insert(point));
    }
    black_box(dac.gain_at(any(port)?, Beyond::Slope)).ok()?;
    in_columns(port, &dac)?;
    black_box(dac.slope());
    dac.points().for_each(|point| _ = black_box(point));
    black_box(Limits::default());
    Some(())
}

#[cortex_m_rt::entry]
fn main() -> ! {
    let mut port = Serial::start();
    black_box(kept(&mut port));
    black_box(curves(&mut port));
    black_box(fuse(black_box::<&[View]>(&[]).iter().copied()));
    end()
}
