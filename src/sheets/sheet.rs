//! A finished sheet, ready to be set.

use super::Job;
use super::data::Data;
use super::printed::{identity, printed};
use super::stamp::Stamp;
use super::table::{Named, Table};
use crate::drawing::Drawing;
use crate::units::WorkingUnit;

/// Where in the shop a sheet or a card is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Station {
    /// The bench: marking, planing, fretting.
    Bench,
    /// The slotting saw.
    Saw,
    /// The drill.
    Drill,
    /// The router.
    Router,
    /// Sanding and radiusing.
    Sander,
    /// Soldering.
    Solder,
    /// Mixing and pouring.
    Epoxy,
    /// The press.
    Press,
    /// The office.
    Office,
    /// Wherever work is done.
    Everywhere,
}

/// A value that is measured and signed before the work goes on.
///
/// Its row stands on the sheet of its step and on the sign-off sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Hold {
    /// The step's word: `slots`.
    pub step: &'static str,
    /// What is measured.
    pub what: String,
    /// The nominal figure in base units; none where a box is ticked.
    pub nominal: Option<f64>,
    /// The lowest that passes.
    pub low: Option<f64>,
    /// The highest that passes.
    pub high: Option<f64>,
    /// The unit of the base figures: "mm" for lengths, which are printed in the working unit.
    pub unit: &'static str,
}

impl Hold {
    /// The nominal figure as printed; nothing where a box is ticked.
    pub fn nominal_text(&self, job: &Job<'_>) -> String {
        self.figure_text(job, self.nominal)
    }

    /// What passes, as printed: `3.35 … 3.45`, `1.80 or more`; nothing where a box is ticked.
    pub fn range_text(&self, job: &Job<'_>) -> String {
        let text = |figure| self.figure_text(job, figure);
        match (self.low, self.high) {
            (None, None) => String::new(),
            (low @ Some(_), None) => format!("{}\u{a0}or\u{a0}more", text(low)),
            (None, high @ Some(_)) => format!("{}\u{a0}or\u{a0}less", text(high)),
            (Some(low), high @ Some(_)) => format!("{}\u{a0}…\u{a0}{}", self.bare_figure_text(job, low), text(high)),
        }
    }

    fn figure_text(&self, job: &Job<'_>, figure: Option<f64>) -> String {
        let Some(figure) = figure else { return String::new() };
        let bare = self.bare_figure_text(job, figure);
        if self.unit == "mm" { bare } else { format!("{bare}\u{a0}{}", self.unit) }
    }

    fn bare_figure_text(&self, job: &Job<'_>, figure: f64) -> String {
        if self.unit == "mm" { job.length(figure) } else { crate::rounding::fixed(figure, 2) }
    }
}

/// A depth that is cut to a setting, and that a strip of card can prove.
#[derive(Debug, Clone, PartialEq)]
pub struct CutDepth {
    /// The stem of the strip's file: `slot-3-35`.
    pub name: String,
    /// What is cut: "slot depth".
    pub what: String,
    /// Where, in a few words; may be empty.
    pub places: String,
    /// What is set, millimetres.
    pub nominal: f64,
    /// The lowest that passes.
    pub low: f64,
    /// The highest that passes; none where no tolerance says so.
    pub high: Option<f64>,
    /// The diameter of a bore; none of a slot or channel, which a strip lies along.
    pub bore: Option<f64>,
    /// The diameter of the hole through a bore's floor; none where the floor is whole.
    pub through: Option<f64>,
}

impl CutDepth {
    /// A depth within a tolerance; without one, the figure itself is the lowest that passes.
    pub fn new(job: &Job<'_>, what: impl Into<String>, nominal: f64, tolerance: Option<&'static str>) -> Self {
        let what = what.into();
        let stem = what.to_lowercase().replace(", ", "-").replace(' ', "-");
        let name = format!("{stem}-{}", crate::rounding::fixed(nominal, 2).replace('.', "-"));
        let tolerance = tolerance.map(|name| job.tolerance(name));
        Self {
            name,
            what,
            places: String::new(),
            nominal,
            low: nominal - tolerance.map_or(0.0, |tolerance| tolerance.under),
            high: tolerance.map(|tolerance| nominal + tolerance.over),
            bore: None,
            through: None,
        }
    }
}

/// A number that a machine is set to; each makes a card.
#[derive(Debug, Clone, PartialEq)]
pub struct MachineSetting {
    /// Where.
    pub station: Station,
    /// What is set: "blade above the sled".
    pub label: String,
    /// The figure as printed.
    pub value: String,
    /// Its unit as printed.
    pub unit: String,
    /// Its tolerance as printed; may be empty.
    pub tolerance: String,
    /// What else must hold, in a few words; may be empty.
    pub note: String,
}

/// A sheet.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Its identifier.
    pub id: &'static str,
    /// Its title on paper.
    pub title: &'static str,
    /// What kind of document it is, for the title block: "bench sheet".
    pub kind: &'static str,
    /// The one sentence to read first.
    pub read_first: String,
    /// Where figures are measured from.
    pub datum: &'static str,
    /// Where it is used.
    pub station: Station,
    /// The caution of the station, where there is one.
    pub caution: Option<String>,
    /// What its template sees; its figures are rounded as printed.
    pub data: Data,
    /// The tables that files carry; the first has the sheet's name.
    pub tables: Vec<Table>,
    /// The tables as they stand on paper.
    pub views: Vec<Named>,
    /// Its drawings by name.
    pub drawings: Vec<(&'static str, Drawing)>,
    /// What is measured and signed.
    pub holds: Vec<Hold>,
    /// What machines are set to.
    pub settings: Vec<MachineSetting>,
    /// The working unit its figures are printed in.
    pub unit: WorkingUnit,
}

/// The pages of a sheet in its packet, from 1, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PageRange {
    /// The first.
    pub first: usize,
    /// The last.
    pub last: usize,
}

impl Sheet {
    /// The sheet's stamp: over the commission's number, hand and part numbers, the sheet's name and its data as
    /// rounded for print. Headings, prose, paper and issue do not come into it.
    pub fn stamp(&self, job: &Job<'_>) -> Stamp {
        identity(job).stamp_of(self.id, &printed(job, self))
    }
}

impl Station {
    /// The station's word on paper.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bench => "bench",
            Self::Saw => "saw",
            Self::Drill => "drill",
            Self::Router => "router",
            Self::Sander => "sander",
            Self::Solder => "soldering place",
            Self::Epoxy => "epoxy place",
            Self::Press => "press",
            Self::Office => "office",
            Self::Everywhere => "every station",
        }
    }
}
