//! The theme is embedded in the program, so a change to it must rebuild the program.

fn main() {
    println!("cargo:rerun-if-changed=../../themes");
}
