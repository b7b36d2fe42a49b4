//! Neck, body and the audio side: pockets that are round or not, places and widths said twice.

use super::{Judge, nothing, written};
use crate::diag::{Diagnostic, Severity, codes};
use crate::rounding::fixed;
use crate::spec::entry::value_of;
use crate::spec::tables::{PocketTable, Spec};
use crate::spec::words::{Holds, PlaceAlong};

/// Two lengths in millimetres that differ by less are the same length written in two units.
const SAME: f64 = 0.000_5;

impl Judge<'_> {
    pub(super) fn neck_and_body(&mut self, spec: &Spec) {
        if let Some(screws) = value_of(&spec.neck).and_then(|neck| value_of(&neck.screws)) {
            for (index, screw) in screws.iter().enumerate() {
                self.missing(codes::SPEC_02, &format!("neck.screws[{}]", index + 1), screw.header, screw.missing());
            }
        }
        for (index, pocket) in pockets(spec).iter().enumerate() {
            self.pocket(&format!("body.pocket[{}]", index + 1), pocket);
        }
        let holes = value_of(&spec.body).and_then(|body| value_of(&body.hole));
        for (index, hole) in holes.into_iter().flatten().enumerate() {
            self.missing(codes::SPEC_02, &format!("body.hole[{}]", index + 1), hole.header, hole.missing());
        }
        self.pocket_width(spec);
    }

    fn pocket(&mut self, path: &str, pocket: &PocketTable) {
        self.missing(codes::SPEC_02, path, pocket.header, pocket.missing());
        let round = [written("diameter", &pocket.diameter)];
        let square = [written("length", &pocket.length), written("width", &pocket.width)];
        if self.either_or(path, &round, &square, "a pocket is round or has a length and a width, not both") {
            return;
        }
        if nothing(&round) && nothing(&square) {
            let message = format!("`{path}.length` is missing");
            let help = "write length and width, or diameter for a round pocket".to_owned();
            self.say(codes::SPEC_02, &format!("{path}.length"), pocket.header, message, Some(help));
        }
        self.all_or_none(path, &square, |key| (format!("`{path}.{key}` is missing"), None));
        if value_of(&pocket.holds) == Some(&Holds::Pickup) && pocket.pickup.is_none() {
            let message = format!("`{path}.pickup` is missing: which pickup does it hold?");
            self.say(codes::SPEC_08, &format!("{path}.pickup"), pocket.header, message, None);
        }
    }

    /// The width of the neck's pocket, where neck and body both say it.
    fn pocket_width(&mut self, spec: &Spec) {
        let Some(neck) = value_of(&spec.neck) else { return };
        let mut widths =
            pockets(spec).iter().enumerate().filter(|(_, pocket)| value_of(&pocket.holds) == Some(&Holds::Neck));
        let Some((index, pocket)) = widths.next() else { return };
        let (Some(by_neck), Some(by_body)) = (&neck.pocket_width, &pocket.width) else { return };
        let (Some(one), Some(other)) = (by_neck.value(), by_body.value()) else { return };
        if (one.to_mm() - other.to_mm()).abs() < SAME {
            return;
        }
        let neck = (by_neck.span, "neck.pocket_width".to_owned(), one.to_mm());
        let body = (by_body.span, format!("body.pocket[{}].width", index + 1), other.to_mm());
        let (first, second) = if neck.0 < body.0 { (neck, body) } else { (body, neck) };
        let message = format!(
            "`{}` is {} mm and `{}` is {} mm: one pocket has one width",
            second.1,
            fixed(second.2, 2),
            first.1,
            fixed(first.2, 2)
        );
        let finding = Diagnostic::new(codes::SPEC_07, Severity::Error, second.1, message)
            .at(Some(second.0))
            .with(Some(first.0), first.1, "written first")
            .help("the pocket of the body is enough: take `neck.pocket_width` out");
        self.report.push(finding);
    }

    pub(super) fn audio(&mut self, spec: &Spec) {
        let Some(electronics) = value_of(&spec.electronics) else { return };
        let controls = value_of(&electronics.control).map_or(&[] as &[_], Vec::as_slice);
        for (index, control) in controls.iter().enumerate() {
            let path = format!("electronics.control[{}]", index + 1);
            self.missing(codes::SPEC_02, &path, control.header, control.missing());
        }
        let pickups = value_of(&electronics.pickup).map_or(&[] as &[_], Vec::as_slice);
        self.names_once("electronics.pickup", "name", pickups.iter().map(|pickup| pickup.name.as_ref()));
        // A pocket that names a pickup which is not there has its own finding; the pickup it means is no other mistake.
        let known = |name: &String| pickups.iter().any(|pickup| value_of(&pickup.name) == Some(name));
        let misnamed = pockets(spec).iter().filter_map(|pocket| value_of(&pocket.pickup)).any(|name| !known(name));
        for (index, pickup) in pickups.iter().enumerate() {
            let path = format!("electronics.pickup[{}]", index + 1);
            self.missing(codes::SPEC_02, &path, pickup.header, pickup.missing());
            let name = value_of(&pickup.name);
            let pocket = pockets(spec).iter().find(|pocket| name.is_some() && value_of(&pocket.pickup) == name);
            match (&pickup.place, pocket) {
                (None, None) if !misnamed => {
                    let message = format!("`{path}.place` is missing, and no pocket of the body holds the pickup");
                    let help = "write its middle from the nut, or a pocket with pickup = its name".to_owned();
                    self.say(codes::SPEC_08, &format!("{path}.place"), pickup.header, message, Some(help));
                }
                (Some(place), Some(pocket)) => {
                    let (Some(PlaceAlong::At(one)), Some(x)) = (place.value(), &pocket.x) else { continue };
                    let Some(PlaceAlong::At(other)) = x.value() else { continue };
                    if (one.to_mm() - other.to_mm()).abs() >= SAME {
                        let message = format!(
                            "`{path}.place` is {} mm and the middle of its pocket {} mm: one pickup has one place",
                            fixed(one.to_mm(), 2),
                            fixed(other.to_mm(), 2)
                        );
                        let (first, second) =
                            if place.span < x.span { (place.span, x.span) } else { (x.span, place.span) };
                        let finding =
                            Diagnostic::new(codes::SPEC_07, Severity::Error, format!("{path}.place"), message)
                                .at(Some(second))
                                .with(Some(first), "body.pocket.x", "written first")
                                .help("the pocket is enough: take `place` out");
                        self.report.push(finding);
                    }
                }
                _ => {}
            }
        }
    }
}

fn pockets(spec: &Spec) -> &[PocketTable] {
    value_of(&spec.body).and_then(|body| value_of(&body.pocket)).map_or(&[], Vec::as_slice)
}
