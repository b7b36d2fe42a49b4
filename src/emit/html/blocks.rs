//! Blocks as HTML elements.

use super::{Sheet, escaped};
use crate::drawing::{Picture, Room};
use crate::emit::svg::{self, Among};
use crate::paper::{Block, Figure, Heading, Inlines, List, Manner, Setting, Task, WriteIn};

/// The width that the column stands for, in millimetres on paper: about the text of a page.
const COLUMN: f64 = 180.0;

/// Writes one sheet; identifiers begin with the sheet's name.
pub(super) struct Writer<'a> {
    pub(super) out: String,
    sheet: &'a Sheet<'a>,
    /// How many elements have got an identifier.
    named: usize,
    /// The identifier of the last heading.
    pub(super) heading: String,
}

impl<'a> Writer<'a> {
    pub(super) fn new(sheet: &'a Sheet<'a>) -> Self {
        let heading = format!("{}--title", escaped(&sheet.set.name));
        Self { out: String::with_capacity(65_536), sheet, named: 0, heading }
    }

    pub(super) fn put(&mut self, markup: &str) {
        self.out.push_str(markup);
    }

    pub(super) fn text(&mut self, text: &str) {
        self.out.push_str(&escaped(text));
    }

    /// A new identifier.
    pub(super) fn name(&mut self) -> String {
        self.named += 1;
        format!("{}--{}", escaped(&self.sheet.set.name), self.named)
    }

    fn span(&mut self, class: &str, text: &str) {
        if !text.is_empty() {
            self.put(&format!("<span class=\"{class}\">{}</span> ", escaped(text)));
        }
    }

    pub(super) fn inlines(&mut self, inlines: &Inlines) {
        for run in &inlines.0 {
            let (open, close) = match run.manner {
                Manner::Plain => ("", ""),
                Manner::Strong => ("<strong>", "</strong>"),
                Manner::Quiet => ("<span class=\"quiet\">", "</span>"),
            };
            self.put(open);
            if let Some(sheet) = &run.link {
                self.put(&format!("<a href=\"#{}\">", escaped(sheet)));
            }
            for (index, line) in run.text.split('\n').enumerate() {
                if index > 0 {
                    self.put("<br>");
                }
                self.text(line);
            }
            if run.link.is_some() {
                self.put("</a>");
            }
            self.put(close);
        }
    }

    pub(super) fn wrapped(&mut self, open: &str, inlines: &Inlines, close: &str) {
        self.put(open);
        self.inlines(inlines);
        self.put(close);
    }

    pub(super) fn blocks(&mut self, blocks: &[Block]) {
        blocks.iter().for_each(|block| self.block(block));
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Heading(heading) => self.headed(heading),
            Block::Paragraph(text) => self.wrapped("<p>", text, "</p>\n"),
            Block::Caution(text) => self.wrapped("<p class=\"caution\">", text, "</p>\n"),
            Block::List(list) => self.list(list),
            Block::Task(task) => self.task(task),
            Block::Table(table) => self.table(table),
            Block::Figure(figure) => self.figure(figure),
            Block::Settings(settings) => {
                self.put("<div class=\"settings\">\n");
                settings.iter().for_each(|setting| self.setting(setting));
                self.put("</div>\n");
            }
            Block::Facts(facts) => {
                self.put("<div class=\"facts\">\n");
                for fact in facts {
                    self.put("<div class=\"fact\">");
                    self.text(&fact.label);
                    self.put(&format!("<b>{}</b>", escaped(&fact.value)));
                    self.span("note", &fact.note);
                    self.put("</div>\n");
                }
                self.put("</div>\n");
            }
            Block::WriteIn(boxes) => self.boxes(boxes),
            Block::Group(blocks) => self.blocks(blocks),
            Block::PageBreak => {}
            Block::Back(title) => {
                let heading = Heading { level: 2, text: title.as_str().into(), ..Heading::default() };
                self.headed(&heading);
            }
        }
    }

    fn headed(&mut self, heading: &Heading) {
        // The sheet's own title is the file's second level.
        let level = heading.level.clamp(2, 3) + 1;
        let name = self.name();
        self.wrapped(&format!("<h{level} id=\"{name}\">"), &heading.text, "");
        if !heading.note.is_empty() {
            self.wrapped(" <span class=\"note\">", &heading.note, "</span>");
        }
        self.put(&format!("</h{level}>\n"));
        self.heading = name;
    }

    fn list(&mut self, list: &List) {
        let close = match list.start {
            Some(start) => {
                self.put(&format!("<ol start=\"{start}\">\n"));
                "</ol>\n"
            }
            None => {
                self.put("<ul>\n");
                "</ul>\n"
            }
        };
        for item in &list.items {
            self.put("<li>");
            self.blocks(item);
            self.put("</li>\n");
        }
        self.put(close);
    }

    fn boxes(&mut self, boxes: &[WriteIn]) {
        if boxes.is_empty() {
            return;
        }
        self.put("<div class=\"write\">\n");
        boxes.iter().for_each(|write_in| self.write_in(write_in));
        self.put("</div>\n");
    }

    fn write_in(&mut self, write_in: &WriteIn) {
        let name = if write_in.label.is_empty() { "measured" } else { &write_in.label };
        self.put(&format!(
            "<label>{} <input type=\"text\" autocomplete=\"off\"> {}</label>\n",
            escaped(name),
            escaped(&write_in.unit)
        ));
    }

    fn task(&mut self, task: &Task) {
        let checked = if task.done { " checked" } else { "" };
        self.put(&format!("<div class=\"task\"><label><input type=\"checkbox\"{checked}> "));
        self.wrapped("<span>", &task.text, "</span></label>\n");
        task.write_in.iter().for_each(|write_in| self.write_in(write_in));
        self.put("</div>\n");
    }

    fn setting(&mut self, setting: &Setting) {
        self.put("<div class=\"setting\">");
        self.span("mark", &setting.mark);
        self.text(&setting.label);
        self.put(&format!("<span class=\"value\">{} ", escaped(&setting.value)));
        self.span("unit", &setting.unit);
        self.put("</span>");
        self.span("tolerance", &setting.tolerance);
        self.span("other", &setting.other);
        if !setting.note.is_empty() {
            self.wrapped("<p>", &setting.note, "</p>");
        }
        self.span("note", &setting.foot);
        self.boxes(&setting.write_in);
        self.put("</div>\n");
    }

    fn figure(&mut self, figure: &Figure) {
        let name = self.name();
        self.put("<figure>\n");
        if !figure.caption.is_empty() {
            self.wrapped("<figcaption>", &figure.caption, "</figcaption>\n");
        }
        let mut draw = |picture: &Picture| {
            let among = Among { prefix: &format!("{name}--"), column: COLUMN };
            svg::element(&mut self.out, picture, &figure.drawing.title, Some(among));
        };
        match self.sheet.composition.picture(figure) {
            Some(picture) => draw(picture),
            // A figure that no page holds has not been drawn yet.
            None => draw(&figure.drawing.place(Room { width: COLUMN, height: COLUMN })),
        }
        self.put("</figure>\n");
    }
}
