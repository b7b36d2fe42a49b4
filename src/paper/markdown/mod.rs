//! Markdown to blocks: headings, paragraphs, lists, tasks, small tables, and fenced words for what Markdown lacks.
//!
//! | form | block |
//! |---|---|
//! | `## Words` or `## Words \| note` | a heading of level 2; `###` one of level 3 |
//! | `- [ ] text ______ mm` | a box to tick; the underscores make a box to write in, the unit may stand after them |
//! | `---` | a new page |
//! | `[words](#sheet)` | a link to another sheet |
//! | ` ```table NAME `, ` ```figure NAME `, ` ```part NAME ` | what the program has ready under that name |
//! | ` ```setting ` | large numbers: `label:`, `value:`, `unit:`, `tolerance:`, `other:`, `note:`, `foot:`, `write-in:`; an empty line parts several |
//! | ` ```facts ` | `label: value \| note`, one a line |
//! | ` ```write-in ` | `label \| unit`, one a line |
//! | ` ```caution `, ` ```group ` | Markdown within: with a black bar; held together on a page |
//! | ` ```back Words ` | what follows is headed so, on a new page, not for the bench |
//!
//! Raw HTML, images, quotations and links elsewhere are refused. Every fault is reported with its line. What a text may
//! hold is bounded (see `bounds`), so that no text makes work without end.

mod bounds;
mod fences;
mod inert;

use std::collections::BTreeMap;
use std::fmt;
use std::ops::Range;

use pulldown_cmark::{Alignment, CodeBlockKind, Event, HeadingLevel, Options, Parser, Tag, TagEnd};

use super::block::{Block, Figure, Heading, List, Task, WriteIn};
use super::table::{Align, Cell, Column, Place, Row, Table};
use super::text::{Inlines, Manner, Run};

use fences::joined as blocks_joined;
pub use inert::{inert, restored, without_private};

/// What a text may call for by name.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Parts {
    /// Tables, for ` ```table NAME `.
    pub tables: BTreeMap<String, Table>,
    /// Drawings, for ` ```figure NAME `.
    pub figures: BTreeMap<String, Figure>,
    /// Blocks made by the program, for ` ```part NAME `.
    pub blocks: BTreeMap<String, Vec<Block>>,
}

/// What is wrong with a text, and where.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong and, where it helps, what would be right.
    pub message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {}", self.line, self.message)
    }
}

/// Reads a text as blocks.
///
/// # Errors
/// Every fault of the text, in the order of its lines.
pub fn blocks(text: &str, parts: &Parts) -> Result<Vec<Block>, Vec<Fault>> {
    let mut reader = Reader::new(text, parts, Standing { first_line: 1, ..Standing::default() });
    let blocks = reader.blocks(None);
    if reader.faults.is_empty() {
        Ok(blocks)
    } else {
        reader.faults.sort();
        Err(reader.faults)
    }
}

/// The parser's events, and how far they are read.
struct Events<'a> {
    all: Vec<(Event<'a>, Range<usize>)>,
    read: usize,
}

impl<'a> Events<'a> {
    fn next(&mut self) -> Option<(Event<'a>, Range<usize>)> {
        self.read += 1;
        self.all.get(self.read - 1).cloned()
    }

    /// The event so many after the next one.
    fn ahead(&self, count: usize) -> Option<&Event<'a>> {
        self.all.get(self.read + count).map(|(event, _)| event)
    }

    /// Reads up to an end.
    fn skip_to(&mut self, end: TagEnd) {
        while let Some((event, _)) = self.next() {
            if event == Event::End(end) {
                break;
            }
        }
    }
}

/// Reads events of a parser as blocks and gathers what is wrong.
struct Reader<'a> {
    text: &'a str,
    parts: &'a Parts,
    events: Events<'a>,
    at: Standing,
    faults: Vec<Fault>,
}

/// Where a reader stands: what goes on from a text into the texts within its fences, and counts on behind them.
#[derive(Debug, Clone, Copy, Default)]
struct Standing {
    /// The line of the text's first character.
    first_line: usize,
    place: Place,
    /// Fences around the text.
    fences: usize,
    /// Lists, entries and quotations that are open.
    open: usize,
    /// What was called for by name so far.
    named: usize,
    /// New pages so far.
    breaks: usize,
    /// Blocks so far.
    blocks: usize,
}

impl<'a> Reader<'a> {
    fn new(text: &'a str, parts: &'a Parts, at: Standing) -> Self {
        let options = Options::ENABLE_TABLES | Options::ENABLE_TASKLISTS;
        let events = Events { all: Parser::new_ext(text, options).into_offset_iter().collect(), read: 0 };
        let mut reader = Self { text, parts, events, at, faults: Vec::new() };
        reader.refuse_the_bottomless();
        reader
    }

    fn line(&self, range: &Range<usize>) -> usize {
        let before = &self.text.as_bytes()[..range.start.min(self.text.len())];
        self.at.first_line + before.iter().filter(|byte| **byte == b'\n').count()
    }

    fn fault(&mut self, range: &Range<usize>, message: impl Into<String>) {
        let line = self.line(range);
        self.faults.push(Fault { line, message: message.into() });
    }

    /// Blocks up to the end of what is open.
    fn blocks(&mut self, until: Option<TagEnd>) -> Vec<Block> {
        let outside = self.at.open;
        self.at.open += usize::from(until.is_some());
        let blocks = self.blocks_until(until);
        self.at.open = outside;
        blocks
    }

    fn blocks_until(&mut self, until: Option<TagEnd>) -> Vec<Block> {
        let mut blocks = Vec::new();
        // An entry of a list may hold bare text, without a paragraph around it.
        let mut bare = Inlines::default();
        while let Some((event, range)) = self.events.next() {
            let inline = self.inline_event(&event, &range, Manner::Plain);
            if let Some(run) = inline {
                bare.0.extend(run);
                continue;
            }
            if !bare.0.is_empty() {
                blocks.push(Block::Paragraph(restored_all(std::mem::take(&mut bare))));
            }
            match event {
                Event::End(end) if Some(end) == until => break,
                Event::Start(Tag::Paragraph) => {
                    let text = self.inlines(TagEnd::Paragraph);
                    blocks.push(Block::Paragraph(restored_all(text)));
                }
                Event::Start(Tag::Heading { level, .. }) => blocks.extend(self.heading(level, &range)),
                Event::Start(Tag::List(start)) => blocks.extend(self.list(start)),
                Event::Start(Tag::Table(alignments)) => blocks.push(self.table(&alignments)),
                Event::Start(Tag::CodeBlock(kind)) => blocks.extend(self.code(&kind, &range)),
                Event::Start(Tag::BlockQuote(kind)) => {
                    self.fault(&range, "a quotation has no form here; for a caution write a fenced `caution`");
                    self.blocks(Some(TagEnd::BlockQuote(kind)));
                }
                Event::Rule => blocks.extend(self.begin_page(&range).then_some(Block::PageBreak)),
                Event::Start(Tag::HtmlBlock) => self.html(&range),
                _ => {}
            }
        }
        if !bare.0.is_empty() {
            blocks.push(Block::Paragraph(restored_all(bare)));
        }
        blocks
    }

    fn html(&mut self, range: &Range<usize>) {
        self.fault(range, "raw HTML is not read; write Markdown or a fenced word");
        self.events.skip_to(TagEnd::HtmlBlock);
    }

    fn heading(&mut self, level: HeadingLevel, range: &Range<usize>) -> Option<Block> {
        let text = self.inlines(TagEnd::Heading(level));
        if level == HeadingLevel::H1 {
            self.fault(range, "the sheet's title stands in its head; headings begin with `##`");
            return None;
        }
        let level = if level == HeadingLevel::H2 { 2 } else { 3 };
        let (text, note) = parted(text, '|');
        Some(Block::Heading(Heading { level, text: restored_all(text), note: restored_all(note) }))
    }

    /// A list; entries with a box become tasks of their own.
    fn list(&mut self, start: Option<u64>) -> Vec<Block> {
        let mut blocks = Vec::new();
        let mut list = List { start, items: Vec::new() };
        while let Some((event, _)) = self.events.next() {
            match event {
                Event::Start(Tag::Item) => {
                    let marker = match (self.events.ahead(0), self.events.ahead(1)) {
                        (Some(Event::TaskListMarker(done)), _) => Some(*done),
                        // In a list with empty lines the marker stands within the entry's first paragraph.
                        (Some(Event::Start(Tag::Paragraph)), Some(Event::TaskListMarker(done))) => {
                            let done = *done;
                            self.events.next();
                            Some(done)
                        }
                        _ => None,
                    };
                    match marker {
                        Some(done) => {
                            let (text, rest) = self.task_item();
                            blocks.push(task(text, done));
                            blocks.extend(rest);
                        }
                        None => list.items.push(self.blocks(Some(TagEnd::Item))),
                    }
                }
                Event::End(TagEnd::List(_)) => break,
                _ => {}
            }
        }
        if !list.items.is_empty() {
            blocks.push(Block::List(list));
        }
        blocks
    }

    /// The text of an entry with a box, the marker still ahead, and blocks that stand below it.
    fn task_item(&mut self) -> (Inlines, Vec<Block>) {
        self.events.next();
        let mut text = Inlines::default();
        while let Some(event) = self.events.ahead(0) {
            if is_inline(event) {
                let Some((event, range)) = self.events.next() else { break };
                text.0.extend(self.inline_event(&event, &range, Manner::Plain).unwrap_or_default());
            } else if *event == Event::End(TagEnd::Paragraph) {
                self.events.next();
            } else {
                break;
            }
        }
        (text, self.blocks(Some(TagEnd::Item)))
    }

    fn table(&mut self, alignments: &[Alignment]) -> Block {
        let mut table = Table { use_at: self.at.place, ..Table::default() };
        let mut cells: Vec<Inlines> = Vec::new();
        while let Some((event, _)) = self.events.next() {
            match event {
                Event::Start(Tag::TableCell) => cells.push(self.inlines(TagEnd::TableCell)),
                Event::End(TagEnd::TableHead) => {
                    let aligns = alignments.iter().map(|alignment| match alignment {
                        Alignment::None | Alignment::Left => Align::Left,
                        Alignment::Center => Align::Centre,
                        Alignment::Right => Align::Decimal,
                    });
                    let headings = std::mem::take(&mut cells).into_iter();
                    let column =
                        |(heading, align): (Inlines, Align)| Column::text(restored(&heading.text())).align(align);
                    table.columns = headings.zip(aligns).map(column).collect();
                }
                Event::End(TagEnd::TableRow) => {
                    table.rows.push(Row::Cells(std::mem::take(&mut cells).into_iter().map(cell).collect()));
                }
                Event::End(TagEnd::Table) => break,
                _ => {}
            }
        }
        Block::Table(table)
    }

    fn code(&mut self, kind: &CodeBlockKind<'a>, range: &Range<usize>) -> Vec<Block> {
        let mut body = String::new();
        while let Some((event, _)) = self.events.next() {
            match event {
                Event::Text(text) => body.push_str(&text),
                Event::End(TagEnd::CodeBlock) => break,
                _ => {}
            }
        }
        match kind {
            CodeBlockKind::Fenced(info) => self.fence(info, &body, range),
            CodeBlockKind::Indented => {
                self.fault(range, "indented text has no form here; begin the line at the left");
                Vec::new()
            }
        }
    }

    /// Inline content up to an end.
    fn inlines(&mut self, until: TagEnd) -> Inlines {
        self.styled(until, Manner::Plain)
    }

    fn styled(&mut self, until: TagEnd, manner: Manner) -> Inlines {
        let mut inlines = Inlines::default();
        while let Some((event, range)) = self.events.next() {
            if event == Event::End(until) {
                break;
            }
            if let Some(runs) = self.inline_event(&event, &range, manner) {
                inlines.0.extend(runs);
            }
        }
        inlines
    }

    /// The runs of an event of running text; none if it is something else.
    fn inline_event(&mut self, event: &Event<'a>, range: &Range<usize>, manner: Manner) -> Option<Vec<Run>> {
        let run = |text: String| Some(vec![Run { text, manner, link: None }]);
        match event {
            Event::Text(text) | Event::Code(text) => run(text.to_string()),
            Event::SoftBreak => run(" ".to_owned()),
            Event::HardBreak => run("\n".to_owned()),
            Event::TaskListMarker(done) => run(if *done { "☑ " } else { "☐ " }.to_owned()),
            Event::Start(Tag::Strong) => Some(self.styled(TagEnd::Strong, Manner::Strong).0),
            Event::Start(Tag::Emphasis) => {
                let inner = if manner == Manner::Strong { Manner::Strong } else { Manner::Quiet };
                Some(self.styled(TagEnd::Emphasis, inner).0)
            }
            Event::Start(Tag::Link { dest_url, .. }) => {
                let mut inner = self.styled(TagEnd::Link, manner);
                match dest_url.strip_prefix('#').filter(|sheet| !sheet.is_empty()) {
                    Some(sheet) => inner.0.iter_mut().for_each(|run| run.link = Some(restored(sheet))),
                    None => self.fault(range, "a link leads to a sheet: `[words](#sheet)`"),
                }
                Some(inner.0)
            }
            Event::Start(Tag::Image { .. }) => {
                self.fault(range, "an image has no form here; drawings come by a fenced `figure NAME`");
                self.styled(TagEnd::Image, manner);
                Some(Vec::new())
            }
            Event::InlineHtml(_) => {
                self.fault(range, "raw HTML is not read; write Markdown or a fenced word");
                Some(Vec::new())
            }
            _ => None,
        }
    }
}

fn is_inline(event: &Event<'_>) -> bool {
    matches!(
        event,
        Event::Text(_)
            | Event::Code(_)
            | Event::SoftBreak
            | Event::HardBreak
            | Event::InlineHtml(_)
            | Event::Start(Tag::Strong | Tag::Emphasis | Tag::Link { .. } | Tag::Image { .. })
    )
}

/// The runs as they are to be printed, neighbours of one kind joined.
fn restored_all(inlines: Inlines) -> Inlines {
    let mut joined: Vec<Run> = Vec::new();
    for mut run in inlines.0 {
        run.text = restored(&run.text);
        match joined.last_mut() {
            Some(last) if last.manner == run.manner && last.link == run.link => last.text.push_str(&run.text),
            _ => joined.push(run),
        }
    }
    Inlines(joined)
}

/// What stands before and after the first sign of its kind in the text's own characters, trimmed.
fn parted(inlines: Inlines, sign: char) -> (Inlines, Inlines) {
    let (mut before, mut after) = (Inlines::default(), Inlines::default());
    let mut found = false;
    for run in inlines.0 {
        match run.text.split_once(sign).filter(|_| !found) {
            Some((head, tail)) => {
                found = true;
                before.0.push(Run { text: head.trim_end().to_owned(), ..run.clone() });
                after.0.push(Run { text: tail.trim_start().to_owned(), ..run });
            }
            None if found => after.0.push(run),
            None => before.0.push(run),
        }
    }
    (before, after)
}

/// A task; underscores at its end are a box to write in, and what follows them its unit.
fn task(mut text: Inlines, done: bool) -> Block {
    let mut write_in = None;
    // Underscores may come in several runs: the parser takes each for a mark of emphasis that never closes.
    let whole = text.0.iter().rposition(|run| run.text.contains('_')).map(|last| {
        let first = text.0[..last].iter().rposition(|run| !run.text.chars().all(|c| c == '_')).map_or(0, |at| at + 1);
        (first, last)
    });
    if let Some((first, last)) = whole {
        let joined: String = text.0[first..=last].iter().map(|run| run.text.as_str()).collect();
        let start = joined.find("___");
        let tail: String = text.0[last + 1..].iter().map(|run| run.text.as_str()).collect();
        if let Some(start) = start {
            let unit = format!("{}{tail}", joined[start..].trim_start_matches('_'));
            if !unit.contains('_') {
                let kept = Run { text: joined[..start].trim_end().to_owned(), ..text.0[first].clone() };
                text.0.truncate(first);
                text.0.push(kept);
                write_in = Some(WriteIn { label: String::new(), unit: restored(unit.trim()) });
            }
        }
    }
    Block::Task(Task { text: restored_all(text), done, write_in })
}

/// A cell of a table: a box, a line to write on, or text.
fn cell(text: Inlines) -> Cell {
    let bare = text.text();
    match bare.trim() {
        "" => Cell::Empty,
        "☐" | "[ ]" => Cell::Tick,
        line if line.len() >= 3 && line.chars().all(|c| c == '_') => Cell::WriteIn,
        _ => Cell::Text(restored_all(text)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{Cell, Fact, Setting};

    fn read(text: &str) -> Vec<Block> {
        let mut parts = Parts::default();
        parts.tables.insert("depths".to_owned(), Table::default());
        parts.blocks.insert("proof".to_owned(), vec![Block::task("as on the other sheet")]);
        blocks(text, &parts).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    fn faults(text: &str) -> Vec<String> {
        let mut parts = Parts::default();
        parts.tables.insert("depths".to_owned(), Table::default());
        blocks(text, &parts).unwrap_err().iter().map(Fault::to_string).collect()
    }

    #[test]
    fn headings_carry_a_note() {
        let heading = Heading { level: 2, text: "Section".into(), note: "2 : 1".into() };
        assert_eq!(read("## Section | 2 : 1"), [Block::Heading(heading)]);
    }

    #[test]
    fn underscores_at_the_end_of_a_task_are_a_box_to_write_in() {
        let unit = |unit: &str| WriteIn { unit: unit.to_owned(), ..WriteIn::default() };
        let text = "- [ ] **Hold.** first slot ______ mm\n- [x] last slot _____\n- [ ] cut the scrap\n";
        let hold = Inlines::default().strong("Hold.").plain(" first slot");
        assert_eq!(
            read(text),
            [
                Block::measured_task(hold, unit("mm")),
                Block::Task(Task { text: "last slot".into(), done: true, write_in: Some(unit("")) }),
                Block::task("cut the scrap"),
            ]
        );
        assert_eq!(
            read("- [ ] one\n\n- [ ] two ___ in\n"),
            [Block::task("one"), Block::measured_task("two", unit("in"))]
        );
    }

    #[test]
    fn tables_of_markdown_have_boxes_and_decimals() {
        let Block::Table(table) = &read("| step | depth | |\n|-|-:|:-:|\n| a **b** | 3.35 | ☐ |\n| c | ____ | |")[0]
        else {
            panic!("a table")
        };
        assert_eq!(
            table.columns.iter().map(|column| column.align).collect::<Vec<_>>(),
            [Align::Left, Align::Decimal, Align::Centre]
        );
        let text = Inlines::default().plain("a ").strong("b");
        assert_eq!(
            table.rows,
            [
                vec![Cell::Text(text), "3.35".into(), Cell::Tick].into(),
                vec!["c".into(), Cell::WriteIn, Cell::Empty].into(),
            ]
        );
    }

    #[test]
    fn settings_are_parted_by_empty_lines() {
        let text = "```setting\nlabel: Set: it\nvalue: 3.35\nunit: mm\nnote: **flat** board\nwrite-in: measured | mm\n\nvalue: 1\n```";
        let one = Setting {
            label: "Set: it".to_owned(),
            value: "3.35".to_owned(),
            unit: "mm".to_owned(),
            note: Inlines::default().strong("flat").plain(" board"),
            write_in: vec![WriteIn { label: "measured".to_owned(), unit: "mm".to_owned() }],
            ..Setting::default()
        };
        let two = Setting { value: "1".to_owned(), ..Setting::default() };
        assert_eq!(read(text), [Block::Settings(vec![one, two])]);
    }

    #[test]
    fn fences_hold_facts_cautions_groups_and_parts() {
        let text = "```facts\nscale: 666.75 | 26 1/4 in\n```\n```caution\n**Dust.** Mask.\n```\n\
                    ````group\n## Face\n```table depths\n```\n````\n```part proof\n```\n---\n```back For the builder\n```\n[a](#cover)";
        let fact = Fact { label: "scale".to_owned(), value: "666.75".to_owned(), note: "26 1/4 in".to_owned() };
        assert_eq!(
            read(text),
            [
                Block::Facts(vec![fact]),
                Block::Caution(Inlines::default().strong("Dust.").plain(" Mask.")),
                Block::Group(vec![Block::heading(2, "Face"), Table::default().into()]),
                Block::task("as on the other sheet"),
                Block::PageBreak,
                Block::Back("For the builder".to_owned()),
                Block::Paragraph(Inlines::default().link("a", "cover")),
            ]
        );
    }

    #[test]
    fn every_fault_is_told_with_its_line() {
        let text = "# Title\n\n<b>x</b>\n\n```table deths\n```\n\n````group\n\n![a](b)\n````\n\n```setting\nlable: a\n```\n\n> q\n\n[x](other.html)\n\n```\n```\n";
        assert_eq!(
            faults(text),
            [
                "line 1: the sheet's title stands in its head; headings begin with `##`",
                "line 3: raw HTML is not read; write Markdown or a fenced word",
                "line 3: raw HTML is not read; write Markdown or a fenced word",
                "line 5: no table `deths` (nearest: `depths`); there are `depths`",
                "line 10: an image has no form here; drawings come by a fenced `figure NAME`",
                "line 13: setting 1 has no `value`",
                "line 14: a setting has no `lable` (nearest: `label`); keys are `foot`, `label`, `note`, `other`, `tolerance`, `unit`, `value`, `write-in`",
                "line 17: a quotation has no form here; for a caution write a fenced `caution`",
                "line 19: a link leads to a sheet: `[words](#sheet)`",
                "line 21: a fence needs a word: `back`, `caution`, `facts`, `figure`, `group`, `part`, `setting`, `table`, `write-in`",
            ]
        );
    }

    #[test]
    fn what_goes_too_deep_or_too_far_is_told_and_not_read() {
        let calls = "```table depths\n```\n".repeat(51);
        for (text, told) in [
            (format!("{}a", "- ".repeat(9)), "line 1: lists, emphasis and fences stand no more than 16 deep"),
            ("> ".repeat(20_000), "line 1: lists, emphasis and fences stand no more than 16 deep"),
            (format!("{}\na\n", "[".repeat(20_000)), ""),
            ("---\n\n".repeat(51), "line 101: a sheet begins no more than 50 new pages"),
            (calls.clone(), "line 101: a sheet calls for no more than 50 tables, drawings and parts"),
            (
                format!("````group\n{calls}````"),
                "line 102: a sheet calls for no more than 50 tables, drawings and parts",
            ),
            (
                "a\n\n".repeat(1_001),
                "line 2001: a sheet has no more than 1000 paragraphs, headings, entries, rows and lines of fences",
            ),
            (
                format!("```facts\n{}```\n", "a: b\n".repeat(1_000)),
                "line 1: a sheet has no more than 1000 paragraphs, headings, entries, rows and lines of fences",
            ),
            ("- a\n\n  ---\n".to_owned(), "line 3: a new page begins between blocks, not within a list or a fence"),
            (
                "````group\n```back a\n```\n````".to_owned(),
                "line 2: a new page begins between blocks, not within a list or a fence",
            ),
        ] {
            let mut parts = Parts::default();
            parts.tables.insert("depths".to_owned(), Table::default());
            let found = blocks(&text, &parts).err().unwrap_or_default();
            let found: Vec<String> = found.iter().map(Fault::to_string).collect();
            assert_eq!(found.join("\n"), told, "{}", &text[..12]);
        }
    }
}
