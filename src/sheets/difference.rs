//! What differs between two states of a commission: values, printed figures, and what that means for each print.

use std::collections::BTreeMap;

use super::set_up_cards;
use crate::spec::issues::{PrintedTable, Recorded, SheetState, State};

/// A value or a printed figure that is not what it was; none: it was not there, or is not any more.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Moved {
    /// The key, or the figure in the words of its sheet.
    pub what: String,
    /// What it was.
    pub was: Option<String>,
    /// What it is.
    pub is: Option<String>,
}

/// What becomes of the prints of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// The old print is as good as a new one.
    Keep,
    /// The old print goes into the bin, a new one takes its place.
    Bin,
    /// The old print goes into the bin; there is no such sheet any more.
    Gone,
    /// There was no such sheet before.
    New,
}

/// What differs on one sheet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetDifference {
    /// The sheet's identifier.
    pub sheet: String,
    /// What becomes of its prints.
    pub fate: Fate,
    /// The stamp of the old prints.
    pub was: Option<String>,
    /// The stamp of the new ones.
    pub is: Option<String>,
    /// The printed figures that moved: by more than their rounding, or they would be printed alike.
    pub moved: Vec<Moved>,
}

/// What differs between two states.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// The decided values, in the order of the commission file.
    pub values: Vec<Moved>,
    /// Every sheet of either state, in packet order.
    pub sheets: Vec<SheetDifference>,
}

impl Difference {
    /// What a newer state differs in from an older one.
    pub fn between(old: &State, new: &State) -> Self {
        let sheet = |name: &str| of_sheet(name, old.sheet(name), new.sheet(name));
        let names = new.sheets.iter().chain(old.sheets.iter().filter(|own| new.sheet(&own.sheet).is_none()));
        Self { values: values(old, new), sheets: names.map(|own| sheet(&own.sheet)).collect() }
    }

    /// Whether neither a value nor a print differs.
    pub fn is_nothing(&self) -> bool {
        self.values.is_empty() && self.sheets.iter().all(|sheet| sheet.fate == Fate::Keep)
    }

    /// The sheets with a fate.
    pub fn with(&self, fate: Fate) -> impl Iterator<Item = &SheetDifference> {
        self.sheets.iter().filter(move |sheet| sheet.fate == fate)
    }

    /// The sheets whose old prints go into the bin.
    pub fn to_the_bin(&self) -> impl Iterator<Item = &SheetDifference> {
        self.sheets.iter().filter(|sheet| matches!(sheet.fate, Fate::Bin | Fate::Gone))
    }

    /// The sheets that must be printed: new, or other than they were.
    pub fn to_print(&self) -> impl Iterator<Item = &SheetDifference> {
        self.sheets.iter().filter(|sheet| matches!(sheet.fate, Fate::Bin | Fate::New))
    }
}

fn values(old: &State, new: &State) -> Vec<Moved> {
    let text = |value: Option<&Recorded>| value.map(Recorded::text);
    let gone = old.values.iter().filter(|(key, _)| new.value(key).is_none());
    let all = new.values.iter().chain(gone);
    let moved = all.filter(|(key, _)| old.value(key) != new.value(key));
    moved.map(|(key, _)| Moved { what: key.clone(), was: text(old.value(key)), is: text(new.value(key)) }).collect()
}

/// What differs on one sheet; one that is on neither side is kept.
pub fn of_sheet(name: &str, old: Option<&SheetState>, new: Option<&SheetState>) -> SheetDifference {
    let fate = match (old, new) {
        (Some(old), Some(new)) if old.stamp != new.stamp => Fate::Bin,
        (Some(_), None) => Fate::Gone,
        (None, Some(_)) => Fate::New,
        _ => Fate::Keep,
    };
    let moved = match (old, new) {
        (Some(old), Some(new)) => figures(&old.printed, &new.printed),
        _ => Vec::new(),
    };
    let stamp = |state: Option<&SheetState>| state.map(|state| state.stamp.clone());
    SheetDifference { sheet: name.to_owned(), fate, was: stamp(old), is: stamp(new), moved }
}

/// The printed figures that moved, table by table.
fn figures(old: &[PrintedTable], new: &[PrintedTable]) -> Vec<Moved> {
    let (old, new) = (named(old), named(new));
    let gone = old.iter().filter(|(name, _)| !new.iter().any(|(own, _)| own == name));
    let mut moved: Vec<Moved> = Vec::new();
    for (name, _) in new.iter().chain(gone) {
        let find = |all: &[(String, String)]| all.iter().find(|(own, _)| own == name).map(|(_, text)| text.clone());
        let (was, is) = (find(&old), find(&new));
        if was != is && !moved.iter().any(|known| known.what == *name) {
            moved.push(Moved { what: name.clone(), was, is });
        }
    }
    moved
}

/// Every figure of a sheet under a name of its own: `fret 12, from end`; figures carry the unit of their heading.
fn named(tables: &[PrintedTable]) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for table in tables {
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        for row in &table.rows {
            let columns = table.headings.iter().zip(row).map(|(heading, cell)| (split(heading), cell));
            let mut columns = columns.filter(|((heading, _), _)| *heading != set_up_cards::SOURCE);
            let label = if is_listed(table) {
                row.iter().take(table.headings.len() - 1).cloned().collect()
            } else {
                columns.next().map_or_else(Vec::new, |((heading, _), cell)| vec![heading.to_owned(), cell.clone()])
            };
            let label = label.iter().filter(|word| !word.is_empty()).cloned().collect::<Vec<_>>().join(" ");
            let count = seen.entry(label.clone()).and_modify(|count| *count += 1).or_insert(1);
            let label = if *count > 1 { format!("{label} ({count})") } else { label };
            if is_listed(table) {
                // The other unit repeats a figure, and a card's source the stamp of another sheet.
                let repeats = |word: &str| label.ends_with(&format!(" {word}"));
                let is_new = !repeats("other") && !repeats(set_up_cards::FROM);
                all.extend(row.last().filter(|_| is_new).map(|cell| (label, cell.clone())));
                continue;
            }
            for ((heading, unit), cell) in columns.filter(|(_, cell)| !cell.is_empty()) {
                let figure = if unit.is_empty() { cell.clone() } else { format!("{cell} {unit}") };
                all.push((format!("{label}, {heading}"), figure));
            }
        }
    }
    all
}

/// Whether a table lists figures by their names, not a row of figures to each name.
fn is_listed(table: &PrintedTable) -> bool {
    table.name == super::printed::SINGLE && table.headings.len() == 2
}

/// A heading and its unit: `depth (mm)`.
fn split(heading: &str) -> (&str, &str) {
    heading.strip_suffix(')').and_then(|rest| rest.rsplit_once(" (")).unwrap_or((heading, ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(stamp: &str, depth: &str) -> SheetState {
        let row = |cells: [&str; 3]| cells.map(str::to_owned).to_vec();
        SheetState {
            sheet: "slot-depth".to_owned(),
            stamp: stamp.to_owned(),
            printed: vec![PrintedTable {
                name: "slot-depth".to_owned(),
                headings: row(["fret", "set (mm)", "wood under (mm)"]),
                rows: vec![row(["1", "3.00", "4.10"]), row(["2", depth, "4.10"])],
            }],
        }
    }

    fn state(value: &str, sheets: Vec<SheetState>) -> State {
        let values = vec![("radius.board".to_owned(), Recorded::One(value.to_owned()))];
        State { values, sheets, ..State::default() }
    }

    #[test]
    fn a_figure_is_named_by_its_row_and_heading() {
        let old = state("355.6 mm", vec![sheet("A", "3.00")]);
        let new = state("254 mm", vec![sheet("B", "3.20")]);
        let difference = Difference::between(&old, &new);
        let moved = |what: &str, was: &str, is: &str| Moved {
            what: what.to_owned(),
            was: Some(was.to_owned()),
            is: Some(is.to_owned()),
        };
        assert_eq!(difference.values, [moved("radius.board", "355.6 mm", "254 mm")]);
        assert_eq!(difference.sheets[0].fate, Fate::Bin);
        assert_eq!(difference.sheets[0].moved, [moved("fret 2, set", "3.00 mm", "3.20 mm")]);
        assert!(!difference.is_nothing());
        assert!(Difference::between(&new, &new).is_nothing());
    }

    #[test]
    fn a_sheet_of_one_side_only_is_new_or_gone() {
        let with = state("flat", vec![sheet("A", "3.00")]);
        let without = state("flat", Vec::new());
        assert_eq!(Difference::between(&without, &with).sheets[0].fate, Fate::New);
        let gone = Difference::between(&with, &without);
        assert_eq!(gone.sheets[0].fate, Fate::Gone);
        assert_eq!((gone.to_the_bin().count(), gone.to_print().count()), (1, 0));
    }
}
