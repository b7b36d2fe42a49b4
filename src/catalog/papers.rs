//! Sheets of paper.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{DataFile, cell};
use crate::units::Length;

pub(super) const DATA: DataFile = DataFile { name: "papers", text: include_str!("data/papers.csv") };

static PAPERS: LazyLock<Vec<Paper>> = LazyLock::new(|| DATA.rows());

/// One size of paper, upright.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Paper {
    /// The id that a commission writes (`commission.paper`), as far as packets are printed on it.
    pub id: String,
    /// The short side.
    #[serde(rename = "width_mm", deserialize_with = "cell::millimetres")]
    pub width: Length,
    /// The long side.
    #[serde(rename = "height_mm", deserialize_with = "cell::millimetres")]
    pub height: Length,
}

/// All papers, in the table's order.
pub fn papers() -> &'static [Paper] {
    &PAPERS
}

/// The paper of an id, written exactly.
pub fn paper(id: &str) -> Option<&'static Paper> {
    PAPERS.iter().find(|paper| paper.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn papers_stand_upright() {
        for paper in papers() {
            assert!(paper.width < paper.height, "{}", paper.id);
        }
        assert!(paper("a4").is_some() && paper("letter").is_some());
    }
}
