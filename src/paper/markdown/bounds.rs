//! How much a text may hold, so that reading and setting it has an end: a shop's own template may say anything.

use std::ops::Range;

use pulldown_cmark::{Event, Tag};

use super::Reader;

/// How deep lists, emphasis and fences may stand within each other.
const MOST_DEEP: usize = 16;

/// The most tables, drawings and parts that a text may call for by name.
pub(super) const MOST_NAMED: usize = 50;

/// The most new pages that a text may begin.
const MOST_BREAKS: usize = 50;

/// The most blocks of a text: paragraphs, headings, entries of lists, rows of tables, lines of fences.
pub(super) const MOST_BLOCKS: usize = 1_000;

impl Reader<'_> {
    /// A text that goes too deep or too far is told of and not read: reading goes as deep as it does.
    pub(super) fn refuse_the_bottomless(&mut self) {
        let (mut deep, mut blocks) = (self.at.fences, self.at.blocks);
        let too_much = self.events.all.iter().find_map(|(event, range)| {
            match event {
                Event::Start(tag) => {
                    deep += 1;
                    blocks += usize::from(is_block(tag));
                }
                Event::End(_) => deep = deep.saturating_sub(1),
                _ => {}
            }
            (deep > MOST_DEEP || blocks > MOST_BLOCKS).then(|| (deep > MOST_DEEP, range.clone()))
        });
        self.at.blocks = blocks;
        match too_much {
            Some((true, range)) => {
                self.fault(&range, format!("lists, emphasis and fences stand no more than {MOST_DEEP} deep"));
                self.events.all.clear();
            }
            Some((false, range)) => {
                self.too_many_blocks(&range);
                self.events.all.clear();
            }
            None => {}
        }
    }

    pub(super) fn too_many_blocks(&mut self, range: &Range<usize>) {
        let what = "paragraphs, headings, entries, rows and lines of fences";
        self.fault(range, format!("a sheet has no more than {MOST_BLOCKS} {what}"));
    }

    /// Notes that a new page begins; whether it may.
    pub(super) fn begin_page(&mut self, range: &Range<usize>) -> bool {
        self.at.breaks += 1;
        if self.at.open > 0 || self.at.fences > 0 {
            self.fault(range, "a new page begins between blocks, not within a list or a fence");
            return false;
        }
        if self.at.breaks == MOST_BREAKS + 1 {
            self.fault(range, format!("a sheet begins no more than {MOST_BREAKS} new pages"));
        }
        self.at.breaks <= MOST_BREAKS
    }
}

fn is_block(tag: &Tag<'_>) -> bool {
    use Tag::{CodeBlock, Heading, HtmlBlock, Item, Paragraph, TableRow};
    matches!(tag, CodeBlock(_) | Heading { .. } | HtmlBlock | Item | Paragraph | TableRow)
}
