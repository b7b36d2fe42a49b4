//! The fenced words: what Markdown lacks.

use std::collections::BTreeMap;
use std::ops::Range;

use super::bounds::{MOST_BLOCKS, MOST_NAMED};
use super::{Block, Inlines, Place, Reader, Run, Standing, WriteIn, blocks_joined, restored, restored_all};
use crate::paper::block::{Fact, Setting};

/// The words that may follow a fence.
const WORDS: [&str; 9] = ["back", "caution", "facts", "figure", "group", "part", "setting", "table", "write-in"];

impl Reader<'_> {
    pub(super) fn fence(&mut self, info: &str, body: &str, range: &Range<usize>) -> Vec<Block> {
        let (word, rest) = info.trim().split_once(char::is_whitespace).unwrap_or((info.trim(), ""));
        let rest = rest.trim();
        if matches!(word, "setting" | "facts" | "write-in") {
            self.at.blocks += body.lines().count();
            if self.at.blocks > MOST_BLOCKS {
                self.too_many_blocks(range);
                return Vec::new();
            }
        }
        match word {
            "table" => {
                self.named("table", rest, body, range, |parts| &parts.tables, |table| vec![table.clone().into()])
            }
            "figure" => {
                self.named("figure", rest, body, range, |parts| &parts.figures, |figure| vec![figure.clone().into()])
            }
            "part" => self.named("part", rest, body, range, |parts| &parts.blocks, Clone::clone),
            "setting" => self.settings(body, range),
            "facts" => vec![Block::Facts(self.facts(body, range))],
            "write-in" => vec![Block::WriteIn(write_ins(body))],
            "caution" => vec![Block::Caution(blocks_joined(&self.within(body, range)))],
            "group" => vec![Block::Group(self.within(body, range))],
            "back" => {
                if !self.begin_page(range) {
                    return Vec::new();
                }
                self.at.place = Place::Desk;
                vec![Block::Back(restored(rest))]
            }
            "" => {
                self.fault(range, format!("a fence needs a word: {}", list(WORDS)));
                Vec::new()
            }
            other => {
                let word = restored(other);
                self.fault(range, format!("no fenced word `{word}`{}; there are {}", meant(&word, WORDS), list(WORDS)));
                Vec::new()
            }
        }
    }

    fn named<T>(
        &mut self,
        kind: &str,
        name: &str,
        body: &str,
        range: &Range<usize>,
        of: impl Fn(&super::Parts) -> &BTreeMap<String, T>,
        make: impl Fn(&T) -> Vec<Block>,
    ) -> Vec<Block> {
        if !body.trim().is_empty() {
            self.fault(range, format!("`{kind} {name}` is made by the program: nothing may stand within its fence"));
        }
        self.at.named += 1;
        if self.at.named > MOST_NAMED {
            if self.at.named == MOST_NAMED + 1 {
                self.fault(range, format!("a sheet calls for no more than {MOST_NAMED} tables, drawings and parts"));
            }
            return Vec::new();
        }
        let known = of(self.parts);
        let name = restored(name);
        if let Some(found) = known.get(&name) {
            return make(found);
        }
        let names = || known.keys().map(String::as_str);
        let message = if known.is_empty() {
            format!("no {kind} `{name}`; this sheet has none")
        } else {
            format!("no {kind} `{name}`{}; there are {}", meant(&name, names()), list(names()))
        };
        self.fault(range, message);
        Vec::new()
    }

    /// Markdown within a fence; its lines are counted on.
    fn within(&mut self, body: &str, range: &Range<usize>) -> Vec<Block> {
        self.read_within(body, self.line(range) + 1)
    }

    fn read_within(&mut self, text: &str, first_line: usize) -> Vec<Block> {
        let at = Standing { first_line, fences: self.at.fences + 1, ..self.at };
        let mut inner = Reader::new(text, self.parts, at);
        let blocks = inner.blocks(None);
        self.faults.extend(inner.faults);
        (self.at.named, self.at.breaks, self.at.blocks) = (inner.at.named, inner.at.breaks, inner.at.blocks);
        blocks
    }

    /// Running text on one line.
    fn inline(&mut self, text: &str, line: usize) -> Inlines {
        let blocks = self.read_within(text, line);
        blocks_joined(&blocks)
    }

    fn settings(&mut self, body: &str, range: &Range<usize>) -> Vec<Block> {
        const KEYS: [&str; 8] = ["foot", "label", "note", "other", "tolerance", "unit", "value", "write-in"];
        let first_line = self.line(range) + 1;
        let mut settings = Vec::new();
        let mut setting: Option<Setting> = None;
        for (index, line) in body.lines().enumerate() {
            let at = first_line + index;
            if line.trim().is_empty() {
                settings.extend(setting.take());
                continue;
            }
            let Some((key, value)) = line.split_once(':') else {
                let message = format!("a line of a setting reads `key: text`; keys are {}", list(KEYS));
                self.faults.push(super::Fault { line: at, message });
                continue;
            };
            let (key, value) = (key.trim(), value.trim());
            let set = setting.get_or_insert_with(Setting::default);
            match key {
                "label" => set.label = restored(value),
                "value" => set.value = restored(value),
                "unit" => set.unit = restored(value),
                "tolerance" => set.tolerance = restored(value),
                "other" => set.other = restored(value),
                "foot" => set.foot = restored(value),
                "write-in" => set.write_in.push(write_in(value)),
                "note" => {
                    let note = self.inline(value, at);
                    if let Some(set) = setting.as_mut() {
                        set.note = note;
                    }
                }
                other => {
                    let key = restored(other);
                    let message = format!("a setting has no `{key}`{}; keys are {}", meant(&key, KEYS), list(KEYS));
                    self.faults.push(super::Fault { line: at, message });
                }
            }
        }
        settings.extend(setting);
        if let Some(index) = settings.iter().position(|setting| setting.value.is_empty()) {
            self.fault(range, format!("setting {} has no `value`", index + 1));
        }
        vec![Block::Settings(settings)]
    }

    fn facts(&mut self, body: &str, range: &Range<usize>) -> Vec<Fact> {
        let first_line = self.line(range) + 1;
        let mut facts = Vec::new();
        for (index, line) in body.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
            let Some((label, rest)) = line.split_once(':') else {
                let message = "a line of facts reads `label: value` or `label: value | note`".to_owned();
                self.faults.push(super::Fault { line: first_line + index, message });
                continue;
            };
            let (value, note) = rest.split_once('|').unwrap_or((rest, ""));
            facts.push(Fact {
                label: restored(label.trim()),
                value: restored(value.trim()),
                note: restored(note.trim()),
            });
        }
        facts
    }
}

fn write_ins(body: &str) -> Vec<WriteIn> {
    body.lines().filter(|line| !line.trim().is_empty()).map(write_in).collect()
}

/// `label | unit`.
fn write_in(line: &str) -> WriteIn {
    let (label, unit) = line.split_once('|').unwrap_or((line, ""));
    WriteIn { label: restored(label.trim()), unit: restored(unit.trim()) }
}

/// Names in a row, each in backticks.
fn list<'n>(names: impl IntoIterator<Item = &'n str>) -> String {
    names.into_iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// The nearest known name, if one is near enough to be meant.
fn meant<'n>(name: &str, known: impl IntoIterator<Item = &'n str>) -> String {
    let near = known.into_iter().map(|known| (strsim::damerau_levenshtein(name, known), known)).min();
    near.filter(|(distance, known)| *distance <= 1.max(known.chars().count() / 3))
        .map_or_else(String::new, |(_, known)| format!(" (nearest: `{known}`)"))
}

/// All running text of blocks, one paragraph a line: what a caution or a note can hold.
pub(super) fn joined(blocks: &[Block]) -> Inlines {
    let mut text = Inlines::default();
    for block in blocks {
        let (Block::Paragraph(inner) | Block::Caution(inner)) = block else { continue };
        if !text.0.is_empty() {
            text.0.push(Run { text: "\n".to_owned(), ..Run::default() });
        }
        text.0.extend(restored_all(inner.clone()).0);
    }
    text
}
