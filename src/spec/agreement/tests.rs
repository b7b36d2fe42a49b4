//! Whole commissions judged: what is missing, contradictory, half.
