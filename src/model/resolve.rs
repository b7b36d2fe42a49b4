//! Spec to model. (A stand-in until the resolver lands: replace this file.)
use super::Model;
use crate::diag::Report;
use crate::spec::{Shop, Spec};
/// (Being written.)
pub fn resolve(_: &Spec, _: Option<&Shop>, _: &mut Report) -> Option<Model> {
    None
}
