//! The archive as a table of SQLite, one exported line a row.

use std::collections::BTreeMap;
use std::fs;

use rusqlite::Connection;

use super::Row;

/// Of every thickness: welds, indications, those to be rejected, and the strongest level.
const QUERY: &str = "
    SELECT job.line ->> '$.job.thickness_mm' AS thickness,
           COUNT(DISTINCT job.line ->> '$.job.name') AS welds,
           COUNT(indication.value) AS indications,
           COUNT(*) FILTER (WHERE indication.value ->> '$.verdict' = 'reject') AS rejected,
           MAX(indication.value ->> '$.level_db') AS strongest
    FROM job LEFT JOIN json_each(job.line, '$.indications') AS indication
    GROUP BY thickness ORDER BY thickness";

/// The archive: one line a row.
fn archive(lines: &str) -> Connection {
    let archive = Connection::open_in_memory().unwrap();
    archive.execute_batch("CREATE TABLE job (line TEXT NOT NULL CHECK (json_valid(line))); BEGIN").unwrap();
    let mut insert = archive.prepare("INSERT INTO job VALUES (?1)").unwrap();
    for line in lines.lines() {
        insert.execute([line]).unwrap();
    }
    drop(insert);
    archive.execute_batch("COMMIT").unwrap();
    archive
}

fn asked(archive: &Connection) -> BTreeMap<String, Row> {
    let mut query = archive.prepare(QUERY).unwrap();
    let rows = query.query_map((), |row| {
        let thickness: f64 = row.get(0)?;
        Ok((thickness.to_string(), (row.get(1)?, row.get(2)?, row.get(3)?, row.get(4)?)))
    });
    rows.unwrap().map(Result::unwrap).collect()
}

/// The engine answers what was counted without it, and the query that the README shows.
pub fn answers(lines: &str, counted: &BTreeMap<String, Row>) {
    let archive = archive(lines);
    let answer = asked(&archive);
    for (thickness, (welds, indications, rejected, strongest)) in &answer {
        println!(
            "{thickness} mm: {welds} welds, {indications} indications, {rejected} rejected, {strongest:?} dB"
        );
    }
    assert_eq!(&answer, counted);
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../README.md")).unwrap();
    let (_, query) = readme.split_once("```sql\n").unwrap();
    let mut query = archive.prepare(query.split_once("```").unwrap().0).unwrap();
    let shown = query.query_map((), |row| row.get::<_, f64>(2)).unwrap().map(Result::unwrap).count() as i64;
    let [found, rejected] =
        [answer.values().map(|row| row.1).sum(), answer.values().map(|row| row.2).sum::<i64>()];
    assert!(rejected < shown && shown < found);
}
