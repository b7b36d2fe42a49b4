//! From the commission as written to the instrument: every value with where it came from.
//!
//! In: a commission file and its shop file, as read. Out: the [`Model`]: what is written goes before the shop's
//! `[defaults]`, these before the built-in ones; a pattern, a blade, a set, a wood is looked up in the shop's
//! stock before the catalogue. `"open"` stays open and what could not be read stays faulty; neither is guessed.

mod board;
mod extras;
mod head;
mod lights;
mod neck;
mod pattern;
mod resolver;
mod shop;
mod strings;
mod woods;

use self::resolver::{Places, Resolver};
use super::Model;
use crate::diag::Report;
use crate::spec::entry::value_of;
use crate::spec::leaf::Leaves;
use crate::spec::{self, Shop, Spec};

/// Resolves a commission; none when there is nothing of an instrument in the file.
///
/// A table that is missing or cannot be read gives faulty values, so that whatever is readable can be checked.
pub fn resolve(written: &Spec, shop: Option<&Shop>, report: &mut Report) -> Option<Model> {
    let spec = spec::filled(written, shop);
    spec::judge(&spec, report);
    let something = [
        spec.commission.is_some(),
        spec.scale.is_some(),
        spec.frets.is_some(),
        spec.taper.is_some(),
        spec.board.is_some(),
        spec.strings.is_some(),
    ];
    if !something.contains(&true) {
        return None;
    }
    let mut resolver = Resolver::new(written.header.file, shop, report);
    let kind = lights::kind_of(&spec);
    let places = Places {
        last: value_of(&spec.frets).and_then(|frets| value_of(&frets.count)).copied(),
        // Channels on a board that is not lit have a finding of their own (SPEC-18).
        exit: spec.channels.is_some(),
    };
    let commission = resolver.commission(&spec);
    let parts = resolver.parts(&spec);
    let scale = resolver.scale(&spec);
    let frets = resolver.frets(&spec);
    let wire = resolver.wire(&spec);
    let slots = resolver.slots(&spec);
    let radius = resolver.radius(&spec, places);
    let taper = resolver.taper(&spec, places);
    let board = resolver.board(&spec);
    let strings = resolver.strings(&spec);
    let setup = resolver.setup(&spec);
    let markers = resolver.markers(&spec, &scale, &frets, &strings);
    let (lamp, channels, circuit) = resolver.lights(&spec, kind, places);
    let neck = resolver.neck(&spec);
    let body = resolver.body(&spec, places);
    let pickups = resolver.pickups(&spec);
    resolver.audio(&spec, places);
    resolver.quote(&spec);
    let shop_model = shop::shop(&mut resolver, circuit.is_some());
    let mut leaves = Vec::new();
    spec.leaves("", spec.header, &mut leaves);
    let values = resolver.values(leaves);
    Some(Model {
        commission,
        parts,
        scale,
        frets,
        wire,
        slots,
        radius,
        taper,
        board,
        markers,
        lamp,
        channels,
        circuit,
        strings,
        setup,
        neck,
        body,
        pickups,
        materials: extras::materials(&spec),
        waivers: extras::waivers(&spec),
        limits: extras::limits(&spec, shop),
        tolerances: extras::tolerances(&spec, shop),
        shop: shop_model,
        values,
    })
}

#[cfg(test)]
mod tests;
