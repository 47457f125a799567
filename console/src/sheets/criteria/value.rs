//! The values that acceptance sheets alone have.

use std::format;
use std::string::{String, ToString};

use halfskip::acceptance::criteria::{Group, LengthLimit, Multiple};
use halfskip::acceptance::rating::PathUnit;
use halfskip::units::Decibels;
use halfskip::units::decimal::Decimal;

use crate::sheets::file::{Typed, decimal, quantity, ranged};

/// A length, or a multiple of the thickness: `20`, `"20mm"`, `"0.75in"`, `"1.0t"`, `"t/3"`, `"2t/3"`.
pub(super) fn length_limit(typed: Typed<'_>) -> Result<LengthLimit, String> {
    if let Typed::Text(text) = typed
        && let Some(multiple) = multiple(text, 't')
    {
        return multiple.map(LengthLimit::Thicknesses);
    }
    quantity(typed).map(LengthLimit::Fixed)
}

/// A gap, or a multiple of the longer length: `10`, `"10mm"`, `"2L"`.
pub(super) fn group(typed: Typed<'_>) -> Result<Group, String> {
    if let Typed::Text(text) = typed
        && let Some(multiple) = multiple(text, 'L')
    {
        return multiple.map(Group::Times);
    }
    quantity(typed).map(Group::Gap)
}

/// A multiple of what `symbol` stands for, kept as the fraction it was typed as; `None` for a text without it.
fn multiple(text: &str, symbol: char) -> Option<Result<Multiple, String>> {
    let (times, rest) = text.split_once(symbol)?;
    let expected =
        || format!("{text:?} is no multiple; expected one like 0.5{symbol}, {symbol}/3 or 2{symbol}/3");
    let divisor = match rest.strip_prefix('/') {
        None if rest.is_empty() => Some(1),
        None => None,
        Some(digits) => digits.parse().ok(),
    };
    let (whole, part) = times.split_once('.').unwrap_or((times, ""));
    let digits = format!("{whole}{part}");
    let times = match digits.is_empty() {
        true => Some(1),
        false if digits.bytes().all(|byte| byte.is_ascii_digit()) => digits.parse::<u32>().ok(),
        false => None,
    };
    let scale = u32::try_from(part.len()).ok().and_then(|places| 10u32.checked_pow(places));
    let divisor = divisor.zip(scale).and_then(|(divisor, scale): (u32, u32)| divisor.checked_mul(scale));
    Some(match times.zip(divisor) {
        Some((times, divisor)) => ranged(Multiple::new(times, divisor)),
        None => Err(expected()),
    })
}

/// `drop-6` is a drop of 6 dB; `level` is none.
pub(super) fn length_by(typed: Typed<'_>) -> Result<Option<Decibels>, String> {
    let Typed::Text(text) = typed else {
        return Err("expected \"drop-6\" or \"level\"".to_string());
    };
    match text.strip_prefix("drop-") {
        Some(drop) => ranged(Decibels::new(decimal(drop)?.value())).map(Some),
        None if text == "level" => Ok(None),
        None => Err(format!("{text:?} is unknown; expected \"drop-6\" or \"level\"")),
    }
}

/// `2dB/in` or `0.08dB/mm`.
pub(super) fn attenuation(typed: Typed<'_>) -> Result<(PathUnit, f32), String> {
    let expected = || "expected a text such as \"2dB/in\" or \"0.08dB/mm\"".to_string();
    let Typed::Text(text) = typed else {
        return Err(expected());
    };
    if let Some(per) = text.strip_suffix("dB/in") {
        Ok((PathUnit::Inch, decimal(per)?.value()))
    } else if let Some(per) = text.strip_suffix("dB/mm") {
        Ok((PathUnit::Millimetre, decimal(per)?.value()))
    } else {
        Err(expected())
    }
}

/// The free path, in the unit of the attenuation: the two forms are never mixed.
pub(super) fn beyond(typed: Typed<'_>, unit: PathUnit) -> Result<f32, String> {
    let suffix = match unit {
        PathUnit::Inch => "in",
        PathUnit::Millimetre => "mm",
    };
    match typed {
        Typed::Number(number) if unit == PathUnit::Millimetre => Ok(number.value()),
        Typed::Text(text) if text.ends_with(suffix) => {
            let number = text.strip_suffix(suffix).unwrap_or(text);
            decimal(number).map(Decimal::value)
        }
        _ => Err(format!("expected a path in {suffix}, the unit of per; the two forms are never mixed")),
    }
}
