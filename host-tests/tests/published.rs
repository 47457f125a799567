//! The published values.

use halfskip_host_tests::vectors::{Status, read_all};

#[test]
fn at_least_sixty_values_were_read_in_a_source_beside_the_printed_tables() {
    let files = read_all().unwrap();
    let cells: usize = files.iter().map(|file| file.cells).sum();
    let seen = files
        .iter()
        .flat_map(|file| &file.cases)
        .filter(|case| case.status == Status::Seen)
        .count();
    assert_eq!(cells, 128);
    assert!(seen >= cells + 60, "{seen} seen, {cells} of them in tables");
}
