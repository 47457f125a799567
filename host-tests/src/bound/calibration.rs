//! `timebase.toml`, `anglecheck.toml` and `linearity.toml`.

use halfskip::calibration::angle_check::AngleCheck;
use halfskip::calibration::linearity::{self, GainStep, Linearity, Window};
use halfskip::calibration::timebase::{TimeBase, repeat};
use halfskip::units::{Microseconds, Millimetres};

use super::{Asked, OrKind, db, from, mm, number, percent, speed};
use crate::vectors::{Answer, Case};

pub(super) fn answer(case: &Case) -> Option<Answer> {
    Some(from(match case.quantity.as_str() {
        "time_us" => time_of_path(case),
        "path_of_time_mm" => path_of_time(case),
        "repeat_path_mm" => repeated(case),
        "fitted_velocity_m_s" => fitted(case).map(|base| 1000.0 * number(base.velocity.get())),
        "fitted_delay_us" => fitted(case).map(|base| number(base.delay.get())),
        "long_path_shown_as_shear_mm" => shown_as_shear(case),
        "angle_from_distance_deg" => one_hole(case),
        "fitted_angle_deg" => holes(case).map(|check| number(check.angle().get())),
        "fitted_index_mm" => {
            holes(case).and_then(|check| Ok(number(check.index().ok_or("not known")?.get())))
        }
        "screen_allowed_pct" => screen(case).map(|found| number(found.worst().allowed)),
        "gain_allowed_pct" => gain(case).map(|found| number(found.worst().allowed)),
        "gain_nominal_pct" => gain(case).map(|found| number(found.worst().nominal)),
        "screen_verdict" => return Some(verdict(screen(case))),
        "gain_verdict" => return Some(verdict(gain(case))),
        _ => return None,
    }))
}

fn us(value: f64) -> Result<Microseconds, &'static str> {
    Microseconds::new(value as f32).or_kind()
}

fn base(case: &Case) -> Result<TimeBase, &'static str> {
    Ok(TimeBase { velocity: speed(case.number("speed_m_s"))?, delay: us(case.number("delay_us"))? })
}

fn time_of_path(case: &Case) -> Asked {
    Ok(number(base(case)?.time(mm(case.number("path_mm"))?).or_kind()?.get()))
}

fn path_of_time(case: &Case) -> Asked {
    Ok(number(base(case)?.path(us(case.number("time_us"))?).or_kind()?.get()))
}

fn repeated(case: &Case) -> Asked {
    let (facing, other) = (mm(case.number("facing_mm"))?, mm(case.number("other_mm"))?);
    Ok(number(repeat(facing, other, case.number("repeat") as u8).or_kind()?.get()))
}

fn fitted(case: &Case) -> Result<TimeBase, &'static str> {
    let echoes = case.numbers("path_mm").iter().zip(case.numbers("time_us"));
    let echoes: Result<Vec<_>, &str> = echoes.map(|(&path, &time)| Ok((mm(path)?, us(time)?))).collect();
    Ok(TimeBase::fit(&echoes?).or_kind()?.base())
}

/// The path that a time base set for shear waves shows for a longitudinal echo.
fn shown_as_shear(case: &Case) -> Asked {
    let delay = us(0.0)?;
    let long = TimeBase { velocity: speed(case.number("long_m_s"))?, delay };
    let shear = TimeBase { velocity: speed(case.number("shear_m_s"))?, delay };
    let time = long.time(mm(case.number("path_mm"))?).or_kind()?;
    Ok(number(shear.path(time).or_kind()?.get()))
}

fn one_hole(case: &Case) -> Asked {
    let hole = (mm(case.number("depth_mm"))?, mm(case.number("distance_mm"))?);
    Ok(number(AngleCheck::fit(&[hole]).or_kind()?.angle().get()))
}

fn holes(case: &Case) -> Result<AngleCheck, &'static str> {
    let holes = case.numbers("depth_mm").iter().zip(case.numbers("distance_mm"));
    let holes: Result<Vec<(Millimetres, Millimetres)>, &str> =
        holes.map(|(&depth, &distance)| Ok((mm(depth)?, mm(distance)?))).collect();
    AngleCheck::fit(&holes?).or_kind()
}

fn screen(case: &Case) -> Result<Linearity, &'static str> {
    assert_eq!(case.word("window"), Some("naval"));
    let pair = (percent(case.number("large_pct"))?, percent(case.number("small_pct"))?);
    linearity::screen(&[pair], Window::T9074Vertical).or_kind()
}

fn gain(case: &Case) -> Result<Linearity, &'static str> {
    assert_eq!(case.word("window"), Some("naval"));
    let step = GainStep {
        set: percent(case.number("set_pct"))?,
        change: db(case.number("change_db"))?,
        shown: percent(case.number("shown_pct"))?,
    };
    linearity::gain(&[step], Window::T9074Gain).or_kind()
}

fn verdict(found: Result<Linearity, &'static str>) -> Answer {
    match found {
        Ok(found) => Answer::Word(if found.within() { "within" } else { "outside" }.to_owned()),
        Err(kind) => Answer::Refused(kind),
    }
}
