//! Paper: blocks flow into pages within a frame, with head and title block. No word of the trade here.
//!
//! A sheet is a name, a [`Frame`] and [`Block`]s. [`compose()`] sets it; when all sheets of a packet are set and
//! counted, [`Composition::pages`] draws frame, head and title block around the text and gives finished [`Page`]s:
//!
//! ```
//! use kerfbook::paper::{Block, Cell, Column, Field, Frame, Head, Paper, Setting, Sheet, Table, TitleBlock, compose};
//!
//! let table = Table {
//!     columns: vec![Column::number("slot", ""), Column::number("depth", "mm").main(), Column::centred("cut")],
//!     rows: vec![vec!["1".into(), "3.35".into(), Cell::Tick].into()],
//!     ..Table::default()
//! };
//! let sheet = Sheet {
//!     name: "depth".into(),
//!     frame: Frame {
//!         paper: Paper::A4,
//!         head: Head { title: "Depth".into(), number: "K-1".into(), ..Head::default() },
//!         title_block: TitleBlock { rows: vec![vec![Field::new("Shop", "Ours", 1.0)]], symbol: None },
//!         draft: None,
//!     },
//!     blocks: vec![
//!         Setting { label: "Set it to".into(), value: "3.35".into(), unit: "mm".into(), ..Setting::default() }.into(),
//!         Block::heading(2, "The slots"),
//!         table.into(),
//!     ],
//! };
//! let composition = compose(&sheet);
//! assert_eq!(composition.page_count(), 1);
//! let pages = composition.pages(&sheet.frame);
//! assert!(pages[0].marks.len() > 20);
//! ```

mod atom;
mod block;
mod compose;
mod draft;
mod frame;
pub mod markdown;
mod page;
mod set;
mod sketch;
mod symbol;
mod table;
mod text;
pub mod tiles;
mod volume;

pub use block::{Block, Fact, Figure, Heading, List, Setting, Task, WriteIn};
pub use compose::{Composition, HeadingPlace, Sheet, compose};
pub use frame::{Field, Frame, Head, Paper, TitleBlock};
pub use page::{Element, ElementId, Link, Mark, Page, Role};
pub use symbol::Symbol;
pub use table::{Align, Cell, Column, Place, Row, Table, Weight};
pub use text::{Inlines, Manner, Run, harmless};
pub use volume::{Bookmark, BoundSheet, Volume};
