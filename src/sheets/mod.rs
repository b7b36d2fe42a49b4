//! The sheets of a packet: each one its data, its tables, its drawings, ready to be set.
//!
//! One file a sheet, one row in [`SHEETS`] in packet order. A sheet is left out where it has nothing to say for
//! this commission, or where its main number waits for an open value.

pub mod changes;
mod concerned;
mod data;
pub mod difference;
pub mod figures;
pub(crate) mod full_size;
mod history;
mod job;
pub mod patterns;
pub mod printed;
mod sheet;
mod state;
mod table;
mod taper;
mod wiring;

pub use crate::stamp;
pub use concerned::concerns;
pub use data::{Data, Value};
pub use history::{History, moved_alone};
pub use job::Job;
pub use sheet::{CutDepth, Hold, MachineSetting, PageRange, Sheet, Station};
pub use table::{Cell, Column, Kind, Named, Table, View};

pub mod cover;
mod drilling_chart;
mod fret_table;
mod fret_wire;
mod hazards;
mod lamp_seats;
mod materials_list;
mod nut_and_saddle;
mod potting;
mod radius;
mod routing_map;
mod safety_notes;
pub(crate) mod set_up_cards;
pub(crate) mod sign_off;
mod slot_depth;
mod strings;

/// How a sheet is made.
pub enum Make {
    /// From the model and the design.
    FromDesign(fn(&Job<'_>) -> Option<Sheet>),
    /// From the sheets that are made already.
    FromSheets(fn(&Job<'_>, &[Sheet]) -> Option<Sheet>),
    /// From what the commission was when it was issued, when all others are made.
    FromHistory(fn(&Job<'_>, &History<'_>) -> Option<Sheet>),
}

/// One row of the table of sheets.
pub struct Row {
    /// The sheet's identifier: its template's, table's and stamp's name.
    pub id: &'static str,
    /// How it is made.
    pub make: Make,
}

/// The sheets after the cover, in packet order.
pub static SHEETS: &[Row] = &[
    Row { id: changes::ID, make: Make::FromHistory(changes::sheet) },
    Row { id: "fret-table", make: Make::FromDesign(fret_table::sheet) },
    Row { id: "slot-depth", make: Make::FromDesign(slot_depth::sheet) },
    Row { id: "taper", make: Make::FromDesign(taper::sheet) },
    Row { id: "drilling-chart", make: Make::FromDesign(drilling_chart::sheet) },
    Row { id: "lamp-seats", make: Make::FromDesign(lamp_seats::sheet) },
    Row { id: "routing-map", make: Make::FromDesign(routing_map::sheet) },
    Row { id: "wiring", make: Make::FromDesign(wiring::sheet) },
    Row { id: "potting", make: Make::FromDesign(potting::sheet) },
    Row { id: "radius", make: Make::FromDesign(radius::sheet) },
    Row { id: "fret-wire", make: Make::FromDesign(fret_wire::sheet) },
    Row { id: "nut-and-saddle", make: Make::FromDesign(nut_and_saddle::sheet) },
    Row { id: "strings", make: Make::FromDesign(strings::sheet) },
    Row { id: "materials-list", make: Make::FromDesign(materials_list::sheet) },
    Row { id: "safety-notes", make: Make::FromDesign(safety_notes::sheet) },
    Row { id: "sign-off", make: Make::FromSheets(sign_off::sheet) },
    Row { id: "set-up-cards", make: Make::FromSheets(set_up_cards::sheet) },
];

/// The identifiers of all sheets, in packet order.
pub fn ids() -> impl Iterator<Item = &'static str> {
    std::iter::once(cover::ID).chain(SHEETS.iter().map(|row| row.id))
}

/// All sheets of a commission but the cover and what tells of its issues, in packet order.
///
/// Those made from other sheets come last and from the back of the packet to its front, because set-up cards
/// carry the stamps of the sheets before them. The cover is made when all others have their pages.
pub fn make(job: &Job<'_>) -> Vec<Sheet> {
    let mut made: Vec<Sheet> = Vec::new();
    for row in SHEETS {
        if let Make::FromDesign(make) = row.make {
            made.extend(make(job));
        }
    }
    for row in SHEETS.iter().rev() {
        if let Make::FromSheets(make) = row.make {
            let sheet = make(job, &made);
            made.extend(sheet);
        }
    }
    for sheet in &mut made {
        sheet.caution = hazards::caution(job, sheet.station);
    }
    in_packet_order(&mut made);
    made
}

/// The sheets that tell what changed since the commission was issued.
pub fn of_history(job: &Job<'_>, history: &History<'_>) -> Vec<Sheet> {
    let made = SHEETS.iter().filter_map(|row| match row.make {
        Make::FromHistory(make) => make(job, history),
        _ => None,
    });
    made.collect()
}

/// Sorts sheets as a packet binds them.
pub fn in_packet_order(sheets: &mut [Sheet]) {
    sheets.sort_by_key(|sheet| SHEETS.iter().position(|row| row.id == sheet.id));
}
