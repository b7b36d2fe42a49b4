//! The one integration binary.

