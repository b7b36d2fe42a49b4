//! (Being written.)
