//! The papers that packets are printed on, as `paper` sets them.

use super::Table;
use crate::paper::Paper;

pub(super) fn table() -> Table {
    let row = |name: &str, paper: Paper| {
        let (width, height) = paper.size();
        vec![name.to_owned(), width.to_string(), height.to_string()]
    };
    Table {
        name: "papers",
        about: "papers that packets are printed on, upright".to_owned(),
        sources: vec!["a4: ISO 216:2007".to_owned(), "letter: ANSI/ASME Y14.1, size A".to_owned()],
        columns: ["paper", "width_mm", "height_mm"].map(str::to_owned).to_vec(),
        rows: vec![row("a4", Paper::A4), row("letter", Paper::Letter)],
    }
}
