//! Which sheets a finding concerns, so that it stands where the step is done and not on the cover alone.

use crate::diag::{Code, Diagnostic};

/// Sheets by the family of the code.
const BY_FAMILY: &[(&str, &[&str])] = &[
    ("FRET", &["fret-table"]),
    ("WIRE", &["slot-depth", "fret-wire"]),
    ("SLOT", &["slot-depth"]),
    ("RADIUS", &["radius"]),
    ("TAPER", &["taper"]),
    ("MARK", &["drilling-chart"]),
    ("LAMP", &["lamp-seats"]),
    ("CHAN", &["routing-map"]),
    ("ELEC", &["wiring"]),
    ("POT", &["potting"]),
    ("STRING", &["strings"]),
    ("STOCK", &["materials-list"]),
];

/// Codes that concern others than their family's.
const BY_CODE: &[(&str, &[&str])] = &[
    ("FRET-07", &["fret-table", "nut-and-saddle"]),
    ("FRET-18", &["nut-and-saddle"]),
    ("WIRE-04", &["fret-wire"]),
    ("WIRE-05", &["fret-wire"]),
    ("WIRE-06", &["fret-wire"]),
    ("WIRE-07", &["fret-wire"]),
    ("TAPER-02", &["taper", "nut-and-saddle"]),
    ("CHAN-01", &["slot-depth", "routing-map"]),
    ("STRING-05", &["nut-and-saddle"]),
    ("STRING-06", &["nut-and-saddle"]),
    ("STRING-08", &["nut-and-saddle"]),
    ("STRING-11", &["nut-and-saddle"]),
];

/// Families that stand on the cover alone, and why.
#[cfg(test)]
const ON_THE_COVER: &[(&str, &str)] = &[
    ("SPEC", "they are about the file; what a slip of the unit asks stands by its table"),
    ("NECK", "the neck has no sheet yet"),
    ("BODY", "the body has no sheet yet"),
    ("ORDER", "they are about issues and prints"),
    ("PRINT", "they are about the printer, whose bars are measured before any sheet is used"),
];

/// Sheets by the table of the commission file, for findings about a key as such.
const BY_TABLE: &[(&str, &[&str])] = &[
    ("scale", &["fret-table"]),
    ("frets", &["fret-table"]),
    ("wire", &["slot-depth", "fret-wire"]),
    ("slots", &["slot-depth"]),
    ("radius", &["radius"]),
    ("taper", &["taper"]),
    ("markers", &["drilling-chart"]),
    ("lamp", &["lamp-seats"]),
    ("channels", &["routing-map"]),
    ("electronics", &["wiring"]),
    ("strings", &["nut-and-saddle"]),
];

/// Whether a finding is to stand on a sheet.
pub fn concerns(finding: &Diagnostic, sheet: &str) -> bool {
    sheets_of(finding.code, &finding.place).contains(&sheet)
}

/// The sheets of a code; of a finding about the file as such, those of the table its key is in.
fn sheets_of(code: Code, place: &str) -> &'static [&'static str] {
    let row = |rows: &[(&str, &'static [&'static str])], name: &str| {
        rows.iter().find(|(known, _)| *known == name).map(|(_, sheets)| *sheets)
    };
    if code.family() == "SPEC" {
        return row(BY_TABLE, place.split('.').next().unwrap_or_default()).unwrap_or_default();
    }
    row(BY_CODE, code.as_str()).or_else(|| row(BY_FAMILY, code.family())).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::codes::CODES;

    #[test]
    fn every_code_has_its_sheets_or_a_reason() {
        for row in CODES {
            let family = row.code.family();
            let excused = ON_THE_COVER.iter().any(|(known, _)| *known == family);
            assert_ne!(!sheets_of(row.code, "").is_empty(), excused, "{}", row.code);
        }
    }

    #[test]
    fn the_tables_name_codes_and_sheets_that_there_are() {
        let ids: Vec<&str> = crate::sheets::ids().collect();
        for (name, sheets) in BY_FAMILY.iter().chain(BY_CODE).chain(BY_TABLE) {
            assert!(sheets.iter().all(|sheet| ids.contains(sheet)), "{name}: {sheets:?}");
        }
        assert!(BY_CODE.iter().all(|(code, _)| Code::find(code).is_some()));
        assert!(BY_FAMILY.iter().all(|(family, _)| CODES.iter().any(|row| row.code.family() == *family)));
    }
}
