//! `transfer.toml`.

use halfskip::calibration::curve::{How, ReferenceGain};
use halfskip::calibration::level::{EchoHeight, Screen, level};
use halfskip::calibration::transfer::{Shot, Transfer};
use halfskip::units::Decibels;

use super::{Asked, OrKind, db, from, mm, number};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "transfer_fixed_db" => equal_paths(case).map(|gain| number(gain.get())),
        "transfer_at_path_db" => at_path(case),
        "working_gain_db" => {
            equal_paths(case).and_then(|transfer| working_gain(case.number("reference_gain_db"), transfer))
        }
        "evaluation_gain_db" => db(case.number("transfer_db"))
            .and_then(|transfer| Ok(working_gain(0.0, transfer)? - case.number("line_db"))),
        _ => return None,
    }))
}

fn shots(paths: &[f64], gains: &[f64]) -> Result<Vec<Shot>, &'static str> {
    assert_eq!(paths.len(), gains.len());
    paths.iter().zip(gains).map(|(&path, &gain)| Ok(Shot { path: mm(path)?, gain: db(gain)? })).collect()
}

/// One gain for the block and one for the part at the same path: lines that do not rise.
fn equal_paths(case: &Case) -> Result<Decibels, &'static str> {
    let paths = [25.0, 50.0];
    let block = shots(&paths, &[case.number("block_gain_db"); 2])?;
    let part = shots(&paths, &[case.number("part_gain_db"); 2])?;
    Transfer::lines(&block, &part).or_kind()?.at(mm(25.0)?).or_kind()
}

fn at_path(case: &Case) -> Asked {
    let block = shots(case.numbers("block_path_mm"), case.numbers("block_gain_db"))?;
    let part = shots(case.numbers("part_path_mm"), case.numbers("part_gain_db"))?;
    let transfer = Transfer::lines(&block, &part).or_kind()?;
    Ok(number(transfer.at(mm(case.number("path_mm"))?).or_kind()?.get()))
}

/// The gain at which an echo as strong as the reference stands at the reference height: its level at gain 0.
fn working_gain(reference: f64, transfer: Decibels) -> Asked {
    let reference = ReferenceGain { gain: db(reference)?, how: How::Flat };
    let screen = Screen::DEFAULT;
    let at_reference = EchoHeight::Shown(screen.reference());
    Ok(number(level(at_reference, db(0.0)?, &reference, transfer, &screen).or_kind()?.db.get()))
}
