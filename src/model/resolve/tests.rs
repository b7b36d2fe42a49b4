//! Whole commissions resolved.
