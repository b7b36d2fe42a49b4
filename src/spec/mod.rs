//! The commission file and the shop file, as written. (Being written.)

pub mod words;
