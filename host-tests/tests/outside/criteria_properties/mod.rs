//! Sheets drawn at random, against an evaluation written the plain way: exact numbers, one `if` a condition.
//!
//! Values lie on a half grid, or a hundredth beside it, so that every limit is met exactly, just missed and passed.

mod plain;

use halfskip::acceptance::criteria::{
    Asked, Because, Depth, Head, LengthAlong, LengthBy, Measured, Missing, Need, RowZone, Sheet, SheetError,
    Verdict, decide, margin, open_after,
};
use halfskip::math::larger;
use halfskip_host_tests::drawn::Drawn;

use plain::{
    Case, Rows, case, chance, db, first, hundredths, in_own_range, mm, near_grid, plainly_holds, rows,
};

fn head() -> Head {
    Head::level("invented", "no document", LengthBy::Drop(db(6.0)))
}

/// Draws sheets until `wanted` were whole; hands each to `look`, and every refusal to `refused`.
fn draw_sheets(
    seed: u64,
    wanted: usize,
    mut look: impl FnMut(&mut Drawn, &Rows, &Sheet<8>),
    mut refused: impl FnMut(&Rows, SheetError),
) {
    let mut drawn = Drawn::seeded(seed);
    let mut whole = 0;
    while whole < wanted {
        let rows = rows(&mut drawn);
        match Sheet::new(head(), rows.clone()) {
            Ok(sheet) => {
                whole += 1;
                look(&mut drawn, &rows, &sheet);
            }
            Err(error) => refused(&rows, error),
        }
    }
}

#[test]
fn a_whole_sheet_decides_every_known_case_of_its_range_like_the_plain_evaluation() {
    let (mut inside, mut accepted) = (0u32, 0u32);
    let look = |drawn: &mut Drawn, rows: &Rows, sheet: &Sheet<8>| {
        for _ in 0..300 {
            let case = case(drawn);
            let decision = decide(sheet, &case.facts());
            let plain = first(rows, &case);
            assert_eq!(decision.row, plain.map(|(number, _)| number), "{case:?}\n{rows:#?}");
            assert_eq!(decision.verdict, plain.map(|(_, row)| row.verdict));
            if in_own_range(rows, &case) {
                inside += 1;
                assert!(decision.verdict.is_some(), "a hole was missed: {case:?}\n{rows:#?}");
            }
            accepted += u32::from(decision.verdict == Some(Verdict::Accept));
        }
    };
    draw_sheets(1, 1000, look, |_, _| {});
    assert!(inside > 50_000 && accepted > 10_000, "{inside} {accepted}");
}

#[test]
fn a_hole_that_is_named_is_one() {
    let mut holes = 0;
    let refused = |rows: &Rows, error: SheetError| {
        let SheetError::Hole(hole) = error else { return };
        holes += 1;
        let case = Case {
            thickness: hole.thickness.unwrap_or(10.0),
            angle: hole.angle.unwrap_or(45.0),
            level: hole.measure.unwrap_or(0.0),
            length: hole.length.unwrap_or(1.0),
            depth: match hole.zone {
                Some(RowZone::MiddleHalf) => hole.thickness.unwrap_or(10.0) / 2.0,
                _ => 0.0,
            },
            planar: hole.planar.unwrap_or(false),
        };
        assert!(first(rows, &case).is_none(), "{hole:?}\n{rows:#?}");
        assert!(in_own_range(rows, &case), "{hole:?}\n{rows:#?}");
    };
    draw_sheets(2, 500, |_, _, _| {}, refused);
    assert!(holes > 1000, "{holes}");
}

/// The facts of a case with some of the knowledge taken away.
fn forget(drawn: &mut Drawn, case: &Case) -> Asked {
    let mut facts = case.facts();
    let slack = drawn.one_of(&[0.0, 0.01, 0.5, 1.5]);
    facts.measure = match drawn.bits() % 5 {
        0 => Measured::AtLeast(db(case.level - slack)),
        1 => Measured::AtMost(db(case.level + slack)),
        2 => Measured::Unknown(Missing::NoLevel),
        _ => facts.measure,
    };
    facts.length = match drawn.bits() % 4 {
        0 => LengthAlong::Known { length: mm(larger(case.length - slack, 0.0)), open: true },
        1 => LengthAlong::Unknown(Missing::NoLength),
        _ => facts.length,
    };
    facts.depth = match drawn.bits() % 4 {
        0 => Depth::Within { from: mm(case.depth - slack), to: mm(case.depth + slack) },
        1 => Depth::Unknown(Missing::NoDepth),
        _ => facts.depth,
    };
    if chance(drawn, 3) {
        facts.planar = None;
    }
    facts
}

/// Another case that the same facts allow.
fn completed(drawn: &mut Drawn, facts: &Asked, case: &Case) -> Case {
    let mut other = *case;
    let up = drawn.one_of(&[0.0, 0.01, 0.5, 1.0, 3.0, 50.0]);
    other.level = match facts.measure {
        Measured::AtLeast(level) => level.get() + up,
        Measured::AtMost(level) => level.get() - up,
        Measured::Unknown(_) => near_grid(drawn, -1.5, 7),
        Measured::Exact(_) => case.level,
    };
    let up = drawn.one_of(&[0.0, 0.01, 0.5, 1.0, 3.0, 50.0]);
    other.length = match facts.length {
        LengthAlong::Known { length, open: true } => length.get() + up,
        LengthAlong::Known { .. } => case.length,
        LengthAlong::Unknown(_) => near_grid(drawn, 0.5, 14),
    };
    other.depth = match facts.depth {
        Depth::Within { from, to } => drawn.one_of(&[from.get(), to.get(), (from.get() + to.get()) / 2.0]),
        Depth::Unknown(_) => hundredths(case.thickness * drawn.one_of(&[0.0, 0.25, 0.3, 0.5, 0.75, 0.9])),
    };
    if facts.planar.is_none() {
        other.planar = chance(drawn, 2);
    }
    other
}

/// The hunt for a false accept: whatever was unknown may turn out any way, the verdict stays.
#[test]
fn a_verdict_on_incomplete_facts_survives_every_completion() {
    let (mut accepted, mut rejected, mut undetermined) = (0u32, 0u32, 0u32);
    let look = |drawn: &mut Drawn, rows: &Rows, sheet: &Sheet<8>| {
        for _ in 0..100 {
            let case = case(drawn);
            let facts = forget(drawn, &case);
            let decision = decide(sheet, &facts);
            match decision.verdict {
                None => {
                    undetermined += 1;
                    assert_eq!(decision.row, None);
                    continue;
                }
                Some(Verdict::Reject) => rejected += 1,
                Some(_) => accepted += 1,
            }
            for _ in 0..20 {
                let other = completed(drawn, &facts, &case);
                let (number, row) = first(rows, &other).expect("a verdict without a row");
                assert_eq!(
                    (Some(row.verdict), &row.class),
                    (decision.verdict, &decision.class),
                    "{facts:?}\n{other:?}\n{rows:#?}"
                );
                assert!(number <= decision.row.unwrap());
            }
            let sure = &rows[decision.row.unwrap() - 1];
            assert!(plainly_holds(sure, &case), "the deciding row surely holds");
        }
    };
    draw_sheets(3, 1000, look, |_, _| {});
    assert!(
        accepted > 3_000 && rejected > 3_000 && undetermined > 3_000,
        "{accepted} {rejected} {undetermined}"
    );
}

#[test]
fn what_a_needed_fact_leaves_open_is_what_trying_its_values_leaves_open() {
    let (mut settled, mut open) = (0u32, 0u32);
    let look = |drawn: &mut Drawn, rows: &Rows, sheet: &Sheet<8>| {
        for _ in 0..10 {
            let case = case(drawn);
            let facts = forget(drawn, &case);
            let Because::Needs { need, .. } = decide(sheet, &facts).because else { continue };
            let told = open_after(sheet, &facts, &need);
            let undecided = |facts: Asked| decide(sheet, &facts).verdict.is_none();
            let level = |value: f32| Asked { measure: Measured::Exact(db(value)), ..facts };
            let length =
                |value: f32| Asked { length: LengthAlong::Known { length: mm(value), open: false }, ..facts };
            // Limits lie on the half grid or a hundredth beside it: in steps of half a hundredth none is passed over.
            let steps = (0u16..2_000).map(|step| f32::from(step) * 0.005);
            let tried = match need {
                Need::Level(_) => steps.map(|step| step - 4.0).any(|value| undecided(level(value))),
                Need::Length(LengthAlong::Known { length: least, .. }) => {
                    steps.map(|step| step * 2.0).any(|more| undecided(length(least.get() + more)))
                }
                Need::Length(_) => steps.map(|step| step * 2.0).any(|value| undecided(length(value))),
                Need::Depth(_) => {
                    [0.0, 0.5].map(|part| mm(facts.thickness.get() * part)).into_iter().any(|depth| {
                        undecided(Asked { depth: Depth::Within { from: depth, to: depth }, ..facts })
                    })
                }
                Need::Shape => {
                    [true, false].into_iter().any(|planar| undecided(Asked { planar: Some(planar), ..facts }))
                }
                other => panic!("{other:?}"),
            };
            // Lengths in multiples of the thickness may lie between the steps.
            let seen = tried || matches!(need, Need::Length(_));
            assert!(told.is_some() || !tried, "{need:?} {facts:?}\n{rows:#?}");
            assert!(told.is_none() || seen, "{told:?} {facts:?}\n{rows:#?}");
            *(if told.is_some() { &mut open } else { &mut settled }) += 1;
        }
    };
    draw_sheets(5, 600, look, |_, _| {});
    assert!(settled > 100 && open > 100, "{settled} {open}");
}

#[test]
fn the_margin_is_where_the_verdict_changes_and_nothing_changes_before_it() {
    let mut found = 0;
    let look = |drawn: &mut Drawn, rows: &Rows, sheet: &Sheet<8>| {
        for _ in 0..20 {
            let case = case(drawn);
            let Some(change) = margin(sheet, &case.facts()).measure else {
                continue;
            };
            found += 1;
            let says = |case: &Case| first(rows, case).map(|(_, row)| (row.verdict, row.class.clone()));
            let at = |level: f32| says(&Case { level, ..case });
            let by = change.by.get();
            let beyond = if by == 0.0 { 0.0 } else { by.signum() * 0.001 };
            let limit = case.level + by;
            let changed = [limit, limit + beyond, limit + 0.001, limit - 0.001];
            assert!(changed.into_iter().any(|level| at(level) != says(&case)), "{case:?} {change:?}");
            for part in [0.2, 0.5, 0.9] {
                assert_eq!(at(case.level + part * by), says(&case), "{case:?} {change:?}\n{rows:#?}");
                if by.abs() > 0.003 {
                    assert_eq!(at(case.level - part * by), says(&case), "{case:?} {change:?}\n{rows:#?}");
                }
            }
        }
    };
    draw_sheets(4, 1000, look, |_, _| {});
    assert!(found > 1000, "{found}");
}
