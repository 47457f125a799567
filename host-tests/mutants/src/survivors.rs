//! What is known of the mutants that no test catches: `survivors.tsv` holds one line for each, with the reason. A line
//! names its mutant by the source line with `[what stands → what replaces it]` in it, so that it holds while code moves.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::error::Error;
use std::fs;
use std::path::Path;

use crate::list::Mutant;

const HEAD: &str = "kind\tfile\tmutant\twhy";

/// Why no test catches it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// No input gives another output.
    Same,
    /// A test is missing.
    Open,
}

/// File and change.
type Key = (String, String);

fn read(path: &Path) -> Result<BTreeMap<Key, Kind>, Box<dyn Error>> {
    let text = fs::read_to_string(path)?;
    let mut lines = text.lines();
    if lines.next() != Some(HEAD) {
        return Err(format!("{}: expected the head {HEAD:?}", path.display()).into());
    }
    let mut known = BTreeMap::new();
    for (line, number) in lines.zip(2..) {
        let fault = |what: &str| format!("{} line {number}: {what}", path.display());
        let [kind, file, change, why] = line.split('\t').collect::<Vec<_>>()[..] else {
            return Err(fault("expected four columns").into());
        };
        let kind = match kind {
            "same" => Kind::Same,
            "open" => Kind::Open,
            _ => return Err(fault("expected same or open").into()),
        };
        if why.is_empty() {
            return Err(fault("expected a reason").into());
        }
        known.insert((file.to_owned(), change.to_owned()), kind);
    }
    Ok(known)
}

/// The source line with the change marked in it; a change of more than a line by what cargo-mutants calls it.
fn change(mutant: &Mutant, lines: &[&str]) -> String {
    let line = lines.get(mutant.start.line - 1).copied().unwrap_or_default();
    let (from, to) = (mutant.start.column - 1, mutant.end.column - 1);
    let part = |skip: usize, take: usize| line.chars().skip(skip).take(take).collect::<String>();
    let by_name = ["FnValue", "MatchArm", "StructField"].contains(&mutant.genre.as_str());
    if mutant.start.line == mutant.end.line && !by_name {
        let (before, stands, after) = (part(0, from), part(from, to - from), part(to, usize::MAX));
        return format!("{}[{stands} → {}]{after}", before.trim_start(), mutant.replacement);
    }
    mutant.name.split_once(": ").map_or(mutant.name.as_str(), |(_, what)| what).to_owned()
}

/// Prints the sum, and writes `unlisted.tsv`: the mutants not caught that have no line yet, to be filled in.
pub fn report(
    root: &Path,
    mutants: &[Mutant],
    live: &BTreeSet<u32>,
    folder: &Path,
) -> Result<(), Box<dyn Error>> {
    let known = read(&root.join("host-tests/mutants/survivors.tsv"))?;
    let results = fs::read_to_string(folder.join("results.tsv"))?;
    let results: HashMap<&str, &str> = results
        .lines()
        .filter_map(|line| line.split_once('\t').map(|(result, name)| (name, result)))
        .collect();
    let mut sources: HashMap<&str, String> = HashMap::new();
    let (mut caught, mut same, mut open, mut unlisted) = (0, 0, 0, String::from(HEAD) + "\n");
    let mut met: HashSet<Key> = HashSet::new();
    for mutant in mutants.iter().filter(|mutant| live.contains(&mutant.id)) {
        let result = results.get(mutant.name.as_str()).copied().unwrap_or("untried");
        if ["caught", "endless"].contains(&result) {
            caught += 1;
            continue;
        }
        if !sources.contains_key(mutant.file.as_str()) {
            sources.insert(&mutant.file, fs::read_to_string(root.join(&mutant.file))?);
        }
        let lines: Vec<&str> = sources[mutant.file.as_str()].lines().collect();
        let key = (mutant.file.clone(), change(mutant, &lines));
        match known.get(&key) {
            Some(Kind::Same) => same += 1,
            Some(Kind::Open) => open += 1,
            None => unlisted += &format!("{result}\t{}\t{}\t\n", key.0, key.1),
        }
        met.insert(key);
    }
    fs::write(folder.join("unlisted.tsv"), &unlisted)?;
    for (file, change) in known.keys().filter(|key| !met.contains(*key)) {
        println!("no longer a survivor\t{file}\t{change}");
    }
    let (seen, unlisted) = (live.len() - same, unlisted.lines().count() - 1);
    println!(
        "{} live: {caught} caught, {same} that nothing can tell from the code, {open} listed that lack a test, \
         {unlisted} not caught and not listed\n{:.1} % of the {seen} that can be seen are caught",
        live.len(),
        100.0 * f64::from(caught) / seen as f64
    );
    Ok(())
}
