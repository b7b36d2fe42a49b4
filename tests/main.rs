//! The one integration binary.

mod drawing;
