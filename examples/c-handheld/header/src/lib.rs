//! Generates `halfskip.h` from the code, for comparison with the one that is committed. With `HALFSKIP_BLESS=1` in the
//! environment the test writes it.

use std::path::{Path, PathBuf};

use cbindgen::{Builder, Config, DocumentationStyle, Language};

/// Where the header and the code are.
#[must_use]
pub fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The header of the code as it is now.
///
/// # Panics
/// When the code cannot be read.
#[must_use]
pub fn header() -> String {
    let mut config = Config::default();
    config.language = Language::C;
    config.include_guard = Some("HALFSKIP_H".into());
    config.no_includes = true;
    config.sys_includes = vec!["stdint.h".into()];
    config.cpp_compat = true;
    config.usize_is_size_t = true;
    config.documentation_style = DocumentationStyle::C99;
    config.header =
        Some("// The arithmetic of angle-beam ultrasonic examination, for C. Generated; do not edit.".into());
    let builder = Builder::new().with_config(config).with_src(folder().join("src/lib.rs"));
    let mut text = Vec::new();
    builder.generate().expect("the code can be read").write(&mut text);
    String::from_utf8(text).expect("a header is text")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs;

    #[test]
    fn the_header_is_that_of_the_code() {
        let path = folder().join("halfskip.h");
        let header = header();
        if std::env::var_os("HALFSKIP_BLESS").is_some() {
            fs::write(&path, &header).unwrap();
        }
        assert_eq!(fs::read_to_string(&path).unwrap(), header);
    }
}
