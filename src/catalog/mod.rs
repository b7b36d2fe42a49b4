//! The built-in tables: what a shop looks up, each with its source.
//!
//! A table is one file below `data/`, or follows from elsewhere (wire gauges, inch fractions, papers). To add a row,
//! add a line with its source; nothing else knows how many rows there are. Ids are exact: the shop's own
//! stock is asked before these.

pub mod awg;
pub mod cells;
pub mod drills;
pub mod inches;
pub mod lamps;
pub mod limits;
mod papers;
mod radii;
pub mod series;
mod table;
pub mod wires;
pub mod woods;

pub use cells::{Cell, cell, cells};
pub use drills::{Drill, drills};
pub use lamps::{Lamp, LampColour, LensShape, lamp, lamp_colours, lamps};
pub use limits::{DustLimit, NoiseLimit, dust_limits, noise_limits};
pub use radii::{BlockRadius, radii};
pub use series::Series;
pub use table::Table;
pub use wires::{Wire, wire, wires};
pub use woods::{DustReaction, DustSite, LISTING_PROMPT, Listing, Movement, Wood, listings, wood, wood_named, woods};

/// Every built-in table as text, in the order in which `kerfbook catalog` lists them.
pub fn tables() -> Vec<Table> {
    vec![
        woods::DATA.table(),
        woods::LISTINGS.table(),
        wires::DATA.table(),
        lamps::DATA.table(),
        lamps::COLOURS.table(),
        cells::DATA.table(),
        radii::DATA.table(),
        series::DATA.table(),
        awg::table(),
        drills::DATA.table(),
        inches::table(),
        limits::DUST.table(),
        limits::NOISE.table(),
        papers::table(),
    ]
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn every_table_says_what_it_is_and_where_it_comes_from() {
        let tables = tables();
        let names: BTreeSet<_> = tables.iter().map(|table| table.name).collect();
        assert_eq!(names.len(), tables.len(), "names are unique");
        for table in &tables {
            assert!(!table.about.is_empty(), "{} has no `# about:`", table.name);
            assert!(!table.sources.is_empty(), "{} has no `# source:`", table.name);
            assert!(!table.rows.is_empty(), "{} is empty", table.name);
        }
    }

    #[test]
    fn every_row_has_all_columns_and_its_first_cell_or_two_name_it_alone() {
        for table in tables() {
            let mut names = BTreeSet::new();
            for row in &table.rows {
                assert_eq!(row.len(), table.columns.len(), "{}: {row:?}", table.name);
                assert!(!row[0].is_empty(), "{}: {row:?}", table.name);
                assert!(names.insert((row[0].clone(), row[1].clone())), "{}: {row:?} stands twice", table.name);
            }
        }
    }

    #[test]
    fn a_column_of_figures_declares_its_unit_in_its_name() {
        const UNITS: [&str; 11] =
            ["_mm", "_in", "_mm2", "_v", "_ma", "_mah", "_percent", "_dba", "_m3", "_ohm_per_m", "hours"];
        const BARE: [&str; 3] = ["id", "gauge", "step"];
        for table in tables() {
            for (index, column) in table.columns.iter().enumerate() {
                let figures = table.rows.iter().all(|row| row[index].is_empty() || row[index].parse::<f64>().is_ok());
                let declared = UNITS.iter().any(|unit| column.ends_with(unit)) || BARE.contains(&column.as_str());
                assert!(!figures || declared, "{}.{column} holds figures without a unit", table.name);
            }
        }
    }
}
