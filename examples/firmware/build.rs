//! Tells the linker where `memory.x` is, and where the words of a log are kept, which the board does not hold.

fn main() {
    println!("cargo::rustc-link-search={}", env!("CARGO_MANIFEST_DIR"));
    println!("cargo::rerun-if-changed=memory.x");
    println!("cargo::rustc-link-arg-bin=traced=-Tdefmt.x");
}
