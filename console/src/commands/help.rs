//! `help`: the verbs in groups, or the form of one, out of the same table that lines are read by.

use core::fmt::{Result, Write};

use heapless::String;

use super::{Form, Group, Verb};
use crate::commands;
use crate::language::keys::{Key, Kind, Rule, choices, limits};

const GROUPS: [(Group, &str); 5] = [
    (Group::Report, "The report"),
    (Group::Setup, "Material, joint, probes"),
    (Group::Calibration, "Calibration and checks"),
    (Group::Examination, "Examination"),
    (Group::Question, "Questions (they change nothing)"),
];
/// Column that explanations start in.
const INDENT: usize = 14;
/// Column that the meaning of a key starts in.
const WIDE: usize = 26;

/// Writes the answer to `help` or `help VERB`.
///
/// # Errors
/// When `out` refuses.
///
/// ```
/// let mut answer = String::new();
/// halfskip_console::commands::help::answer(&mut answer, Some("angle")).unwrap();
/// assert!(answer.contains("depth=LENGTH"));
/// ```
pub fn answer(out: &mut dyn Write, verb: Option<&str>) -> Result {
    answer_among(out, verb, |_| true)
}

/// Writes the answer of a console that has only some of the verbs.
pub(crate) fn answer_among(out: &mut dyn Write, verb: Option<&str>, has: fn(&Verb) -> bool) -> Result {
    match verb.and_then(commands::find).filter(|verb| has(verb)) {
        Some(verb) => one(out, verb),
        None => all(out, has),
    }
}

fn all(out: &mut dyn Write, has: fn(&Verb) -> bool) -> Result {
    for (group, title) in GROUPS {
        writeln!(out, "{title}")?;
        for verb in commands::all().filter(|verb| verb.group == group && has(verb)) {
            writeln!(out, "  {:INDENT$}{}", verb.word, verb.about)?;
        }
    }
    writeln!(out, "A line is: verb name key=value ...  # comment. Keys stand in any order.")?;
    writeln!(
        out,
        "A length without a unit is in the session's (units mm, units in); texts stand in quotes."
    )?;
    writeln!(out, "help VERB shows keys, units and an example. Ctrl-D ends; what was recorded stays.")
}

fn one(out: &mut dyn Write, verb: &Verb) -> Result {
    writeln!(out, "{}: {}", verb.word, verb.about)?;
    for form in verb.forms {
        head(out, verb, form)?;
        form.expected.name.iter().try_for_each(|name| explain(out, name, true))?;
        form.expected.keys.iter().try_for_each(|key| explain(out, key, false))?;
        for rule in form.expected.rules {
            tell(out, form, *rule)?;
        }
        if !cfg!(feature = "terse") {
            writeln!(out, "  e.g. {}", form.example.text())?;
        }
    }
    Ok(())
}

/// The form's fixed words, then one line for each key.
fn head(out: &mut dyn Write, verb: &Verb, form: &Form) -> Result {
    write!(out, "  {}", verb.word)?;
    for word in form.fixed.iter().chain(form.expected.name.iter().map(|name| &name.word)) {
        write!(out, " {word}")?;
    }
    out.write_str(if form.expected.keys.is_empty() { "\n" } else { " key=value ...\n" })
}

/// What stands for a value in the form.
fn placeholder(kind: &Kind) -> &'static str {
    match kind {
        Kind::Name => "NAME",
        Kind::Text | Kind::Reason | Kind::Short => "\"...\"",
        Kind::Number(measure) | Kind::NumberOr(measure, _) => quantity(measure.range.unit),
        Kind::Plain(_) => "NUMBER",
        Kind::List(..) => "N,N,...",
        Kind::Pairs(..) => "N:N,N:N,...",
        Kind::Size(_) | Kind::SizeOrRound(_) => "NxN",
        Kind::Count(..) => "N",
        Kind::Choice(_) | Kind::Verb => "WORD",
        Kind::Date => "DATE",
        Kind::Clock => "HH:MM",
    }
}

/// The word for a quantity, by its unit.
fn quantity(unit: &str) -> &'static str {
    match unit {
        "mm" => "LENGTH",
        "deg" => "ANGLE",
        "dB" => "GAIN",
        "%" => "PERCENT",
        "us" => "TIME",
        "MHz" => "FREQUENCY",
        "mm/us" => "VELOCITY",
        "dB/mm" => "LOSS",
        _ => "NUMBER",
    }
}

/// One key in its form, in brackets when it may be left out; what it means, its units and its limits.
fn explain(out: &mut dyn Write, key: &Key, is_name: bool) -> Result {
    let mut form = String::<48>::new();
    match (is_name, key.required) {
        (true, true) => write!(form, "{}", key.word)?,
        (true, false) => write!(form, "[{}]", key.word)?,
        (false, true) => write!(form, "{}={}", key.word, placeholder(&key.kind))?,
        (false, false) => write!(form, "[{}={}]", key.word, placeholder(&key.kind))?,
    }
    write!(out, "    {form:WIDE$}{}", key.about.text())?;
    out.write_str(if cfg!(feature = "terse") { "" } else { ": " })?;
    match key.kind {
        Kind::Number(measure) => write!(out, "{measure}, {}", limits(measure.range))?,
        Kind::NumberOr(measure, words) => {
            write!(out, "{measure}, {}, or {}", limits(measure.range), choices(words))?;
        }
        Kind::Plain(range) => write!(out, "{}", limits(*range))?,
        Kind::List(measure, ..) | Kind::Size(measure) | Kind::SizeOrRound(measure) => {
            write!(out, "{}, each {}", key.kind, limits(measure.range))?;
        }
        _ => write!(out, "{}", key.kind)?,
    }
    out.write_str("\n")
}

fn tell(out: &mut dyn Write, form: &Form, rule: Rule) -> Result {
    match rule {
        Rule::OneOf(bits) => writeln!(out, "    exactly one of {}", form.expected.set(bits)),
        Rule::Together(bits) => writeln!(out, "    all or none of {}", form.expected.set(bits)),
        Rule::AnyOf(_) => writeln!(out, "    at least one of them"),
        Rule::Needs(bits, others) => {
            writeln!(out, "    {} only beside {}", form.expected.set(bits), form.expected.set(others))
        }
        Rule::WithEither(bits) => writeln!(out, "    {} with either", form.expected.set(bits)),
        Rule::Alone(bits) => {
            let alone = if bits.count_ones() == 1 { "stands alone, in" } else { "take the" };
            writeln!(out, "    {} {alone} place of all other keys", form.expected.set(bits))
        }
    }
}
