//! Probes and calibration: what was measured, what was left over, whether that is within its tolerance.

use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

use halfskip::calibration::curve::Beyond;
use halfskip::physics::probe::Element;
use halfskip::record::entry::{Entry, TimebaseKnown};
use halfskip::record::examination::{Event, ProbeState, linearity_of};
use halfskip::units::decimal::Fixed;

use super::basis::{Basis, UNKNOWN, within};
use super::document::{Block, Cell, Section, Table};
use super::drawn;
use crate::answers::Curve;
use crate::answers::page::plus;

/// The section of the probes and their calibration.
pub fn section(basis: &Basis<'_>) -> Section {
    let mut section = Section::new("probes", "Probes and calibration");
    if basis.facts.probes().is_empty() {
        section.notice("No probe is recorded.");
    }
    for (place, state) in (0u8..).zip(basis.facts.probes()) {
        section.heading(format!("Probe {}", state.name()));
        section.table(probe(basis, state));
        section.table(echoes(basis, state));
        section.table(holes(basis, state));
        section.table(curve(basis, state));
        if let Some(reference) = Curve::of(&basis.facts, place, state) {
            section.blocks.push(Block::Figure(drawn::curve::drawing(basis, &reference)));
        }
    }
    section.heading("Checks of the equipment");
    let checks = checks(basis);
    if checks.rows.is_empty() {
        section.paragraph("No check of linearity and none in service is recorded.");
    }
    section.table(checks);
    section.table(budget(basis));
    section
}

fn table(caption: &str) -> Table {
    Table::new(caption, &[("What", 1.0), ("Value", 1.8)])
}

fn probe(basis: &Basis<'_>, state: &ProbeState) -> Table {
    let mut table = table("Make-up and calibration");
    let Some(probe) = state.probe() else {
        table.row(["State".into(), Cell::Missing("its entry was voided".into())]);
        return table;
    };
    let size = |mm: f32| basis.lengths.of(mm).to_string();
    let element = match probe.element() {
        Element::Round { diameter } => format!("{} round", size(diameter.get())),
        Element::Rectangular { in_plane, across } => {
            format!("{} in the plane of incidence, {} across it", size(in_plane.get()), size(across.get()))
        }
    };
    table.row(["Nominal angle".into(), format!("{}\u{b0}", probe.nominal().get()).into()]);
    let tolerance = &basis.facts.common().budget;
    let angle = state.angle_on_block().zip(state.angle_as_marked()).map(|(angle, as_marked)| {
        let off = (as_marked.get() - probe.nominal().get()).abs();
        let verdict = within(Some(off <= tolerance.angle.get()));
        let at = state.block_at().map(|at| format!(" at {at} \u{b0}C")).unwrap_or_default();
        format!("{}\u{b0}{at}, {verdict} of {}\u{b0}", Fixed(angle.get(), 1), tolerance.angle.get())
    });
    let label = if state.angle_stated().is_some() { "Stated angle" } else { "Measured angle" };
    table.row([label.into(), Cell::given(angle, "not measured: the nominal one is used")]);
    if let Some(angle) = in_part(state) {
        table.row(["Angle in the part".into(), angle.into()]);
    }
    let stated = state.index_stated().map(|index| format!("{}, as stated", basis.lengths.ahead(index.get())));
    let index = state.angle_check().and_then(|check| Some((check, check.index()?))).map(|(check, index)| {
        let verdict = within(check.index_verdict(tolerance.index));
        format!("{}, {verdict} of {}", basis.lengths.ahead(index.get()), size(tolerance.index.get()))
    });
    table.row(["True index point".into(), Cell::given(stated.or(index), "not measured: taken at its mark")]);
    table.row(["Frequency".into(), format!("{} MHz", probe.frequency().get()).into()]);
    table.row(["Element".into(), element.into()]);
    let front = probe.front().map(|front| size(front.get()));
    table.row(["Index point to nose".into(), Cell::given(front, UNKNOWN)]);
    table.row(["Time base".into(), timebase(basis, state)]);
    table.row(["Outside the recorded reference points".into(), beyond(state.beyond()).into()]);
    table.row(["Transfer correction".into(), transfer(basis, state)]);
    let margin = state.margin().map(|margin| format!("{} dB over the reference gain", plus(margin.get(), 1)));
    table.row(["Scanning gain".into(), Cell::given(margin, "not recorded")]);
    table
}

/// The angle in the part, where velocities or temperatures make it another than the block's.
fn in_part(state: &ProbeState) -> Option<String> {
    if let Some(why) = state.no_beam() {
        return Some(format!("none: {why}"));
    }
    let angle = state.axis()?.angle();
    if angle == state.angle_on_block().unwrap_or(state.probe()?.refracted()) {
        return None;
    }
    let paths = state.velocities().map(|turned| {
        let (part, block) = (Fixed(turned.part().get(), 3), Fixed(turned.block().get(), 3));
        format!("; paths as shown times {part} / {block}, the velocities of part and block")
    });
    Some(format!("{}\u{b0}{}", Fixed(angle.get(), 1), paths.unwrap_or_default()))
}

fn timebase(basis: &Basis<'_>, state: &ProbeState) -> Cell {
    let Some(fit) = state.timebase() else { return Cell::Missing("not recorded: paths are as shown".into()) };
    let tolerance = basis.facts.common().budget.path;
    let left = match fit.largest_residual() {
        Some(left) => format!(
            "largest left over {}, {} of {}",
            basis.lengths.of(left.get()),
            within(fit.verdict(tolerance)),
            basis.lengths.of(tolerance.get())
        ),
        None if matches!(state.timebase_entry(), Some((_, true))) => "stated, not measured".to_string(),
        None => within(None).to_string(),
    };
    let base = fit.base();
    let (velocity, delay) = (Fixed(base.velocity.get(), 3), Fixed(base.delay.get(), 2));
    format!("{velocity} mm/\u{b5}s, delay {delay} \u{b5}s; {left}").into()
}

const fn beyond(beyond: Beyond) -> &'static str {
    match beyond {
        Beyond::Refuse => "no level is given",
        Beyond::Hold => "the end value is held",
        Beyond::Slope => "the fitted slope is used",
    }
}

fn transfer(basis: &Basis<'_>, state: &ProbeState) -> Cell {
    let Some(transfer) = state.transfer() else {
        return Cell::Missing("not recorded: counts as 0 dB".into());
    };
    let mut text = format!("{} dB at the surface", plus(transfer.surface().get(), 1));
    if let Some(slope) = transfer.slope().filter(|slope| *slope != 0.0) {
        let (unit, factor) = if basis.unit() == "in" { ("in", 25.4) } else { ("mm", 1.0) };
        text.push_str(&format!(", {} dB/{unit} of path", plus(slope * factor, 4)));
    }
    if let Some(left) = transfer.largest_departure() {
        text.push_str(&format!("; largest departure {} dB", Fixed(left.get(), 1)));
    }
    text.into()
}

/// The echoes of the time base, and how far it shows each from its true path.
fn echoes(basis: &Basis<'_>, state: &ProbeState) -> Table {
    let unit = basis.unit();
    let (path, left) = (format!("#True path {unit}"), format!("#Shown less true {unit}"));
    let mut table = Table::new(
        "Echoes of the time base",
        &[("Entry", 1.0), (&path, 1.0), ("#Time \u{b5}s", 1.0), (&left, 1.0)],
    );
    let Some(fit) = state.timebase() else { return table };
    for (number, entry) in basis.in_force() {
        let Entry::Timebase(entry) = entry else { continue };
        if entry.probe != *state.name() {
            continue;
        }
        let TimebaseKnown::Echoes { path, time } = &entry.how else { continue };
        for (path, time) in path.iter().zip(time) {
            let (path, time) = (path.quantity(), time.quantity());
            let left = fit.base().residual((path, time)).ok().map(|left| basis.signed(left.get()));
            table.row([
                number.to_string().into(),
                basis.lengths.bare(path.get()).to_string().into(),
                Fixed(time.get(), 2).to_string().into(),
                Cell::given(left, UNKNOWN),
            ]);
        }
    }
    table
}

/// The holes of the angle check, and how far each lies off the fitted line.
fn holes(basis: &Basis<'_>, state: &ProbeState) -> Table {
    let unit = basis.unit();
    let names =
        ["#Depth of the hole", "#Surface distance", "#Off the line"].map(|name| format!("{name} {unit}"));
    let columns: Vec<(&str, f64)> = names.iter().map(|name| (name.as_str(), 1.0)).collect();
    let mut table = Table::new("Holes of the angle check", &columns);
    let Some(check) = state.angle_check() else { return table };
    for hole in state.holes() {
        let left = check.residual(*hole).ok().map(|left| basis.signed(left.get()));
        table.row([
            basis.lengths.bare(hole.0.get()).to_string().into(),
            basis.lengths.bare(hole.1.get()).to_string().into(),
            Cell::given(left, UNKNOWN),
        ]);
    }
    table
}

/// The recorded reference echoes.
fn curve(basis: &Basis<'_>, state: &ProbeState) -> Table {
    let unit = basis.unit();
    let (path, hole) = (format!("#Path {unit}"), format!("#Hole {unit}"));
    let mut table = Table::new(
        "Reference echoes",
        &[("Entry", 1.0), (&path, 1.0), ("#Height %", 1.0), ("#Gain dB", 1.0), (&hole, 1.0)],
    );
    for (number, entry) in basis.in_force() {
        let Entry::Dac(entry) = entry else { continue };
        if entry.probe != *state.name() {
            continue;
        }
        let hole = entry.hole.map(|hole| basis.lengths.bare(hole.quantity().get()).to_string());
        table.row([
            number.to_string().into(),
            basis.lengths.bare(entry.path.quantity().get()).to_string().into(),
            Fixed(entry.height.quantity().get(), 0).to_string().into(),
            Fixed(entry.gain.quantity().get(), 1).to_string().into(),
            Cell::given(hole, "not recorded"),
        ]);
    }
    table
}

fn checks(basis: &Basis<'_>) -> Table {
    let mut table =
        Table::new("Checks", &[("Entry", 0.9), ("Check", 1.6), ("Recorded", 3.4), ("Outcome", 1.6)]);
    for (number, entry) in basis.in_force() {
        let common = basis.facts.common();
        let (what, good) = match entry {
            Entry::Check(entry) => {
                let held = common.history.iter().find(|event| event.number == number);
                // One that is not held was good, between others that were.
                let good = held.map(Event::is_good).or((!common.history_lost).then_some(true));
                (format!("In service, {}", entry.probe), good)
            }
            Entry::ScreenLinearity(_) => {
                let judged =
                    linearity_of(entry).and_then(Result::ok).filter(|all| all.judged() < all.steps());
                let part = judged.map_or_else(String::new, |part| {
                    format!(", {} of {} steps judged", part.judged(), part.steps())
                });
                (format!("Linearity of the screen{part}"), Some(!common.failed_linearity.contains(&number)))
            }
            Entry::GainLinearity(_) => {
                ("Linearity of the gain".to_string(), Some(!common.failed_linearity.contains(&number)))
            }
            _ => continue,
        };
        table.row([
            number.to_string().into(),
            what.into(),
            super::entries::keys(entry).into(),
            good.map_or_else(|| Cell::Missing(UNKNOWN.into()), |good| within(Some(good)).into()),
        ]);
    }
    table
}

/// The half widths that every uncertainty rests on.
fn budget(basis: &Basis<'_>) -> Table {
    let common = basis.facts.common();
    let budget = &common.budget;
    let mut table =
        Table::new("Half widths of the uncertainty budget", &[("Input", 1.0), ("Half width", 1.8)]);
    let length = |mm: f32| -> String { basis.lengths.of(mm).to_string() };
    table.row(["Refracted angle".into(), format!("{}\u{b0}", budget.angle.get()).into()]);
    table.row(["Sound path, one reading".into(), length(budget.path.get()).into()]);
    table.row(["Index point".into(), length(budget.index.get()).into()]);
    table.row(["Stand-off, one reading".into(), length(budget.standoff.get()).into()]);
    table.row(["Thickness".into(), length(budget.thickness.get()).into()]);
    table.row(["Velocity".into(), format!("{} mm/\u{b5}s", common.velocity).into()]);
    table.row(["Body that few views cannot tell".into(), length(common.reflector.get()).into()]);
    table.row(["Lean seen from one side".into(), format!("{}\u{b0}", common.lean.get()).into()]);
    table.row(["Echo height, one reading".into(), format!("{} % of the screen", budget.height.get()).into()]);
    table
}
