//! The program: hands the command line to the library and ends with its exit status.

fn main() {}
