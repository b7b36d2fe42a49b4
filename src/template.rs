//! Templates: what a sheet says in words, as Tera and Markdown, filled with the sheet's data.
//!
//! In: the name of a sheet, its [`SheetData`], the tables and drawings it has ready ([`Parts`]). Out: blocks. A shop
//! may override any template. Every value is printed as inert text: nothing in it can become structure, and what
//! comes from a commission file ([`Foreign`]) stays inert even where a template says `safe`. A variable that is not
//! there is an error that names template, line, column and the names that are. A shop's own templates are held to the
//! part of the language (the list in `language`) and to a measure of work, text and parts, so that none runs on and on.

mod cost;
mod language;
mod lines;

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;
use std::io::{self, Write};
use std::sync::LazyLock;

use serde::{Serialize, Serializer};
use tera::{Context, ErrorKind, Tera};

use crate::paper::Block;
use crate::paper::markdown::{self, Parts, inert, without_private};
use language::{Outline, Refused};

macro_rules! built_in {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../templates/", $name, ".md")))),*]
    };
}

/// The edition of the names that templates see: a name that goes away, or means something else, takes a new one.
pub const DATA_VERSION: u32 = 1;

/// What a shop is told of its templates: what they may say, and all names of the data. That part is made of what the
/// sheets set; a test holds it to that.
pub const GUIDE: &str = include_str!("template/guide.md");

/// What stands above the cover's text.
pub const LETTERHEAD: &str = "_parts/letterhead";

/// What stands at the end of every sheet.
pub const FOOTER: &str = "_parts/footer";

/// The built-in templates by name: one for each sheet, and parts they share under `_parts/`.
#[rustfmt::skip]
const BUILT_IN: &[(&str, &str)] = &built_in![
    "cover",
    "changes",
    "fret-table",
    "slot-depth",
    "taper",
    "drilling-chart",
    "lamp-seats",
    "routing-map",
    "wiring",
    "potting",
    "radius",
    "fret-wire",
    "nut-and-saddle",
    "strings",
    "materials-list",
    "safety-notes",
    "sign-off",
    "set-up-cards",
    "_parts/letterhead",
    "_parts/footer",
    "full-size",
];

/// The most bytes of a template once it is filled in: tables and drawings come by name, so a sheet's words are few.
const MOST_FILLED_IN: usize = 1 << 16;

/// The most faults of one template that are told at once.
const MOST_FAULTS: usize = 20;

/// What every template's name ends in; names in messages and calls go without.
const SUFFIX: &str = ".md";

/// All templates, ready to fill.
pub struct Engine {
    tera: Tera,
    /// The file of each template that is a shop's own, by its full name.
    files: BTreeMap<String, String>,
    /// What each template does, by its full name; none of it where all templates are the built-in ones.
    outlines: BTreeMap<String, Outline>,
    /// The templates whose lines are marked, by the number in their marks, with line and column of each.
    marked: Vec<(String, Vec<(usize, usize)>)>,
}

/// A shop's own template.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Override {
    /// The template that it takes the place of: `fret-table`, `_parts/footer`.
    pub name: String,
    /// Its file, as messages name it.
    pub file: String,
    /// Its text.
    pub text: String,
}

/// What a template may print: names and values.
#[derive(Debug, Clone, Default)]
pub struct SheetData {
    context: Context,
    /// The length of the longest list or text in it.
    longest: u64,
}

/// Text from a commission or shop file. It is inert from the start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Foreign(pub String);

/// What is wrong with a template or its data.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TemplateError {
    /// The template, by its name.
    pub template: String,
    /// Its file, where it is a shop's own.
    pub file: Option<String>,
    /// Where in the template.
    pub place: Place,
    /// What is wrong.
    pub message: String,
}

/// Where a fault lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the template as written: line and column from 1.
    Template(usize, usize),
    /// In the text after filling in, where no line of the template can be told: line from 1.
    FilledIn(usize),
    /// Nowhere in particular.
    Whole,
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { template, message, .. } = self;
        if let Some(file) = &self.file {
            return match self.place {
                Place::Template(line, column) => write!(f, "{file}:{line}:{column}: {message}"),
                Place::FilledIn(line) => write!(f, "{file}: line {line} when filled in: {message}"),
                Place::Whole => write!(f, "{file}: {message}"),
            };
        }
        match self.place {
            Place::Template(line, column) => {
                write!(f, "template `{template}`, line {line}, column {column}: {message}")
            }
            Place::FilledIn(line) => write!(f, "template `{template}`, line {line} when filled in: {message}"),
            Place::Whole => write!(f, "template `{template}`: {message}"),
        }
    }
}

impl std::error::Error for TemplateError {}

impl Serialize for Foreign {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&inert(&without_private(&self.0)))
    }
}

impl<T: Into<String>> From<T> for Foreign {
    fn from(text: T) -> Self {
        Self(text.into())
    }
}

impl SheetData {
    /// Gives a name a value: a word of ours, a figure as printed, a list or a struct of such. Text from outside goes
    /// in as [`Foreign`].
    ///
    /// # Panics
    /// If the value cannot be serialized: maps must have keys of text.
    pub fn set(&mut self, name: impl Into<Cow<'static, str>>, value: &(impl Serialize + ?Sized)) {
        let name = name.into();
        self.context.insert(name.clone(), value);
        let length = self.context.get(&name).map_or(0, cost::longest);
        self.longest = self.longest.max(length);
    }

    /// Gives a name a value.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: &(impl Serialize + ?Sized)) -> Self {
        self.set(name, value);
        self
    }
}

impl Engine {
    /// The built-in templates, read once.
    ///
    /// # Panics
    /// Never: that each of them can be read is tested.
    pub fn built_in() -> &'static Self {
        static BUILT: LazyLock<Engine> =
            LazyLock::new(|| Engine::with_overrides(&[]).expect("built-in templates are whole"));
        &BUILT
    }

    /// The built-in templates with a shop's own in their place.
    ///
    /// # Errors
    /// Each template that cannot be read or says what no template may, and each that overrides nothing.
    pub fn with_overrides(overrides: &[Override]) -> Result<Self, Vec<TemplateError>> {
        Self::of(BUILT_IN, overrides)
    }

    /// The names of the built-in templates: the sheets' in packet order, then those that sheets share.
    pub fn names() -> impl Iterator<Item = &'static str> + Clone {
        BUILT_IN.iter().map(|(name, _)| *name)
    }

    /// The text of a built-in template.
    pub fn text(name: &str) -> Option<&'static str> {
        BUILT_IN.iter().find(|(known, _)| *known == name).map(|(_, text)| *text)
    }

    fn of(built_in: &[(&str, &str)], overrides: &[Override]) -> Result<Self, Vec<TemplateError>> {
        let mut tera = Tera::new();
        tera.autoescape_on([SUFFIX]);
        tera.set_escape_fn(print_inert);
        let mut errors = Vec::new();
        let mut files = BTreeMap::new();
        let mut all: Vec<(String, Cow<'_, str>)> =
            built_in.iter().map(|(name, text)| (full_name(name), Cow::Borrowed(*text))).collect();
        for Override { name, file, text } in overrides {
            let full = full_name(name);
            match all.iter_mut().find(|(known, _)| *known == full) {
                Some((_, own)) => {
                    *own = Cow::Owned(without_private(text));
                    files.insert(full, file.clone());
                }
                None => {
                    let names = built_in.iter().map(|(name, _)| format!("`{name}`")).collect::<Vec<_>>().join(", ");
                    let message = format!("there is no template of this name to override; there are {names}");
                    errors.push(TemplateError {
                        template: name.clone(),
                        file: Some(file.clone()),
                        place: Place::Whole,
                        message,
                    });
                }
            }
        }
        let mut engine = Self { tera, files, outlines: BTreeMap::new(), marked: Vec::new() };
        // One by one for messages, so that a fault in one does not hide another's; then all, since they include
        // each other.
        for (name, text) in &all {
            errors.extend(engine.read(name, text, !overrides.is_empty()));
        }
        errors.extend(engine.includes_of_nothing(&all));
        engine.mark(&mut all);
        if errors.is_empty()
            && let Err(error) = engine.tera.add_raw_templates(all.iter().map(|(name, text)| (name.as_str(), &**text)))
        {
            errors.push(engine.of_tera("", &error));
        }
        if errors.is_empty() { Ok(engine) } else { Err(errors) }
    }

    /// Reads one template by itself; where `measured`, also what it does.
    fn read(&mut self, name: &str, text: &str, measured: bool) -> Vec<TemplateError> {
        let outline = if measured { Some(language::outline(text)) } else { None };
        let told = |refused: Vec<Refused>| {
            refused
                .into_iter()
                .map(|refused| self.error(name, refused.place, refused.message))
                .take(MOST_FAULTS)
                .collect()
        };
        if let Some(Err(refused)) = outline.as_ref()
            && refused.iter().any(|refused| refused.stops)
        {
            return told(refused.clone());
        }
        if let Err(error) = Tera::new().add_raw_template(name, text)
            && matches!(error.kind(), ErrorKind::SyntaxError(_))
        {
            return vec![self.of_tera(name, &error)];
        }
        match outline {
            Some(Ok(outline)) => {
                self.outlines.insert(name.to_owned(), outline);
                Vec::new()
            }
            Some(Err(refused)) => told(refused),
            None => Vec::new(),
        }
    }

    /// Each include of a template that there is not.
    fn includes_of_nothing(&self, all: &[(String, Cow<'_, str>)]) -> Vec<TemplateError> {
        let mut errors = Vec::new();
        for (name, text) in all {
            let steps = self.outlines.get(name).into_iter().flat_map(|outline| &outline.steps);
            for step in steps {
                let language::Step::Include(wanted, at) = step else { continue };
                if all.iter().any(|(known, _)| known == wanted) {
                    continue;
                }
                let (line, column) = language::position(text, *at);
                let names = all.iter().map(|(name, _)| format!("`{name}`")).collect::<Vec<_>>().join(", ");
                let message = format!("there is no template `{wanted}` to include; there are {names}");
                errors.push(self.error(name, Place::Template(line, column), message));
            }
        }
        errors
    }

    /// Sets marks into the templates that are measured, so that a fault of the filled-in text can be told at its line.
    fn mark(&mut self, all: &mut [(String, Cow<'_, str>)]) {
        for (name, text) in all {
            let Some(outline) = self.outlines.get(name) else { continue };
            let places = language::positions(text, &outline.marks);
            let with_marks = lines::marked(text, &outline.marks, self.marked.len());
            *text = Cow::Owned(with_marks);
            self.marked.push((name.clone(), places));
        }
    }

    fn error(&self, name: &str, place: Place, message: String) -> TemplateError {
        let full = full_name(name);
        TemplateError { template: short_name(name).to_owned(), file: self.files.get(&full).cloned(), place, message }
    }

    fn of_tera(&self, template: &str, error: &tera::Error) -> TemplateError {
        match error.kind() {
            ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) => {
                let named = if report.filename().is_empty() { template } else { report.filename() };
                let (line, column) = (report.span().start_line, report.span().start_col + 1);
                let place = Place::Template(line, column - self.signs_before(named, line, column));
                self.error(named, place, report.message().to_owned())
            }
            ErrorKind::CircularInclude { tpl, include_chain } => {
                let message = format!("it includes itself: {}", include_chain.join(" → "));
                self.error(tpl, Place::Whole, message)
            }
            other => self.error(template, Place::Whole, lines::unmarked(&other.to_string()).0),
        }
    }

    /// How many signs of marks stand before a column of a line as it was filled in.
    fn signs_before(&self, name: &str, line: usize, column: usize) -> usize {
        let marked = self.marked.iter().find(|(marked, _)| *marked == full_name(name));
        let own = marked.into_iter().flat_map(|(_, places)| places).filter(|(at, _)| *at == line);
        // Each mark moves those behind it on.
        own.fold(
            0,
            |signs, (_, from)| if column >= from + signs + lines::LENGTH { signs + lines::LENGTH } else { signs },
        )
    }

    /// A fault of the filled-in text, at the line of the template that it came of.
    fn of_filled_in(&self, sheet: &str, fault: markdown::Fault, marks: &[Option<lines::Mark>]) -> TemplateError {
        let mark = marks.get(fault.line.saturating_sub(1)).copied().flatten();
        let template = mark.and_then(|mark| self.marked.get(mark.template).map(|marked| (mark, marked)));
        let place = template.and_then(|(mark, (name, places))| Some((name, places.get(mark.number)?)));
        match place {
            Some((name, (line, column))) => self.error(name, Place::Template(*line, *column), fault.message),
            None => self.error(sheet, Place::FilledIn(fault.line), fault.message),
        }
    }

    /// Whether a sheet has a template.
    pub fn has(&self, sheet: &str) -> bool {
        self.tera.contains_template(&full_name(sheet))
    }

    /// The names that a sheet's template and what it includes call for, sorted.
    ///
    /// # Errors
    /// If there is no such template.
    pub fn variables(&self, sheet: &str) -> Result<Vec<String>, TemplateError> {
        let found = self.tera.get_template_variables(&full_name(sheet)).map_err(|error| self.of_tera(sheet, &error))?;
        let mut names: Vec<String> = found.into_iter().map(str::to_owned).collect();
        names.sort();
        Ok(names)
    }

    /// Whether any template is a shop's own.
    pub fn has_own(&self) -> bool {
        !self.files.is_empty()
    }

    /// The fault of a template that fills too many pages.
    pub(crate) fn too_many_pages(&self, sheet: &str, pages: usize, most: usize) -> TemplateError {
        self.error(sheet, Place::Whole, format!("set, it takes {pages} pages; a sheet has no more than {most}"))
    }

    /// The same of a part that stands above or below a sheet's own text: it begins no new page.
    ///
    /// # Errors
    /// As of a sheet's template, and a new page.
    pub fn render_part(&self, part: &str, data: &SheetData, parts: &Parts) -> Result<Vec<Block>, Vec<TemplateError>> {
        let blocks = self.render(part, data, parts)?;
        if blocks.iter().any(|block| matches!(block, Block::PageBreak | Block::Back(_))) {
            let message = "no new page begins in a letterhead or a footer".to_owned();
            return Err(vec![self.error(part, Place::Whole, message)]);
        }
        Ok(blocks)
    }

    /// Fills in a sheet's template and reads it as blocks.
    ///
    /// # Errors
    /// A variable that is not there, a call that fails, more work or text than a sheet needs; or every fault of the
    /// filled-in text.
    pub fn render(&self, sheet: &str, data: &SheetData, parts: &Parts) -> Result<Vec<Block>, Vec<TemplateError>> {
        let full = full_name(sheet);
        let whole = |message: String| vec![self.error(sheet, Place::Whole, message)];
        if !cost::is_bearable(&full, &self.outlines, data) {
            let most = cost::MOST_STEPS;
            return Err(whole(format!(
                "its loops within loops take more than {most} steps; a sheet needs a few hundred"
            )));
        }
        // Marks come on top: eight bytes to a line.
        let mut text = Bounded { bytes: Vec::new(), most: 8 * MOST_FILLED_IN };
        let filled = self.tera.render_to(&full, &data.context, &mut text);
        let too_long = || whole(format!("filled in it is longer than {MOST_FILLED_IN} bytes; no sheet needs that"));
        if text.most == 0 {
            return Err(too_long());
        }
        filled.map_err(|error| vec![self.of_tera(sheet, &error)])?;
        let (text, marks) = lines::unmarked(&String::from_utf8_lossy(&text.bytes));
        if text.len() > MOST_FILLED_IN {
            return Err(too_long());
        }
        let told = |fault: markdown::Fault| self.of_filled_in(sheet, fault, &marks);
        markdown::blocks(&text, parts).map_err(|faults| {
            let mut told: Vec<TemplateError> = faults.into_iter().map(told).collect();
            // A loop brings one fault about again and again.
            told.dedup();
            told.truncate(MOST_FAULTS);
            told
        })
    }
}

/// Takes so many bytes and then no more.
struct Bounded {
    bytes: Vec<u8>,
    /// What it still takes; 0 once it was too much.
    most: usize,
}

impl Write for Bounded {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if bytes.len() >= self.most {
            self.most = 0;
            return Err(io::Error::other("too long"));
        }
        self.most -= bytes.len();
        self.bytes.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

fn print_inert(value: &str, output: &mut dyn Write) -> io::Result<()> {
    output.write_all(inert(value).as_bytes())
}

fn full_name(name: &str) -> String {
    format!("{}{SUFFIX}", short_name(name))
}

fn short_name(name: &str) -> &str {
    name.strip_suffix(SUFFIX).unwrap_or(name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{Inlines, List};

    fn own(name: &str, text: &str) -> Override {
        Override { name: name.to_owned(), file: format!("own/{name}.md"), text: text.to_owned() }
    }

    fn engine(template: &'static str) -> Engine {
        Engine::of(&[("sheet", template)], &[]).unwrap_or_else(|errors| panic!("{errors:?}"))
    }

    fn filled(template: &'static str, data: &SheetData) -> Vec<Block> {
        engine(template).render("sheet", data, &Parts::default()).unwrap_or_else(|errors| panic!("{errors:?}"))
    }

    #[test]
    fn the_built_in_templates_can_be_read() {
        for (name, _) in BUILT_IN {
            assert!(Engine::built_in().has(name));
        }
    }

    #[test]
    fn nothing_in_a_value_becomes_structure() {
        let hostile = "1. a\n\n# b | c `d` {{ e }} {% f %} <b>g</b> [h](#i) *j* ______ ☐\n```table k\n```\n\\";
        let flat = hostile.replace('\n', " ");
        let data = SheetData::default().with("ours", hostile).with("theirs", &Foreign::from(hostile));
        for template in ["{{ ours }}", "{{ theirs }}", "{{ theirs | safe }}"] {
            assert_eq!(filled(template, &data), [Block::paragraph(flat.clone())], "{template}");
        }
        let item = vec![Block::paragraph(flat.clone())];
        assert_eq!(
            filled("- {{ ours }}\n- {{ theirs }}", &data),
            [Block::List(List { start: None, items: vec![item.clone(), item] })]
        );
        let Block::Table(table) = &filled("|a|b|\n|-|-|\n|{{ ours }}|{{ theirs }}|", &data)[0] else { panic!() };
        assert_eq!(table.rows, [vec![flat.as_str().into(), flat.as_str().into()].into()]);
        let Block::Facts(facts) = &filled("```facts\nscale: {{ theirs }} | {{ ours }}\n```", &data)[0] else {
            panic!()
        };
        assert_eq!((facts[0].value.as_str(), facts[0].note.as_str()), (flat.as_str(), flat.as_str()));
    }

    #[test]
    fn emphasis_holds_whatever_it_encloses() {
        let data = SheetData::default().with("value", " *a* ");
        let strong = Inlines::default().strong(" *a* ");
        assert_eq!(filled("**{{ value }}**", &data), [Block::Paragraph(strong)]);
    }

    #[test]
    fn a_missing_variable_names_its_place_and_what_there_is() {
        let data = SheetData::default().with("depth", "3.35").with("unit", "mm");
        let errors = engine("Set it\nto {{ deepth }}").render("sheet", &data, &Parts::default()).unwrap_err();
        let shown = errors[0].to_string();
        assert!(shown.starts_with("template `sheet`, line 2, column 7: "), "{shown}");
        assert!(shown.contains("`deepth`") && shown.contains("depth") && shown.contains("unit"), "{shown}");
    }

    #[test]
    fn every_broken_template_is_told_at_once() {
        let built_in = [("one", "{{ a }"), ("two", "{% if %}"), ("three", "fine")];
        let overrides = [own("thre", "")];
        let errors = Engine::of(&built_in, &overrides).map(|_| ()).unwrap_err();
        let told: Vec<&str> = errors.iter().map(|error| error.template.as_str()).collect();
        assert_eq!(told, ["thre", "one", "two"]);
    }

    #[test]
    fn a_shops_own_template_takes_the_place_of_ours() {
        let overrides = [own("sheet", "theirs")];
        let engine = Engine::of(&[("sheet", "ours")], &overrides).unwrap_or_else(|errors| panic!("{errors:?}"));
        let blocks = engine.render("sheet", &SheetData::default(), &Parts::default()).unwrap();
        assert_eq!(blocks, [Block::paragraph("theirs")]);
    }

    #[test]
    fn the_built_in_templates_keep_to_what_a_shops_own_may_say() {
        let overrides: Vec<Override> = BUILT_IN.iter().map(|(name, text)| own(name, text)).collect();
        let refused = Engine::with_overrides(&overrides).err();
        assert_eq!(refused, None);
    }

    #[test]
    fn a_template_that_runs_on_and_on_is_stopped() {
        let rows = vec!["x".repeat(200); 200];
        let data = SheetData::default().with("rows", &rows);
        let built_in = [("sheet", "ours"), ("_parts/part", "")];
        let loops = |depth: usize, inner: &str| {
            let names: Vec<String> = (0..depth).map(|n| format!("{{% for a{n} in rows %}}")).collect();
            format!("{}{inner}{}", names.concat(), "{% endfor %}".repeat(depth))
        };
        for (template, word) in [
            (loops(3, ""), "steps"),
            (loops(12, ""), "steps"),
            (loops(2, "{% for c in a1 %}{% endfor %}"), "steps"),
            (loops(1, &"text ".repeat(100)), "longer"),
            (loops(1, "{% include \"sheet.md\" %}"), "includes itself"),
            ("a".repeat(40_000), "characters"),
            ("{% set a = rows %}".to_owned(), "`set`"),
        ] {
            let made = Engine::of(&built_in, &[own("sheet", &template)]);
            let errors = match made {
                Ok(engine) => engine.render("sheet", &data, &Parts::default()).unwrap_err(),
                Err(errors) => errors,
            };
            let told = errors[0].to_string();
            assert!(told.starts_with("own/sheet.md:") && told.contains(word), "{word}: {told}");
        }
        let engine = Engine::of(&built_in, &[own("sheet", &loops(2, "{{ loop.index }}"))]);
        let refused = engine.map(|engine| engine.render("sheet", &data, &Parts::default()).is_err());
        assert_eq!(refused, Ok(true), "120 kB of figures");
        let short = SheetData::default().with("rows", &["a", "b"]);
        let engine = Engine::of(&built_in, &[own("sheet", &loops(2, "{{ a1 }}"))]).unwrap_or_else(|e| panic!("{e:?}"));
        assert_eq!(engine.render("sheet", &short, &Parts::default()).unwrap(), [Block::paragraph("abab")]);
    }

    #[test]
    fn faults_of_a_shops_own_template_carry_its_line_through_loops_and_includes() {
        let template = "one\n\n{% for n in list %}<i>{{ n }}</i>\n\n{% endfor %}\n{%- if list -%}\n  {% include \"_parts/part.md\" %}\n{% endif %}\n```figure face\n```\nà {{ list.none }}";
        let built_in = [("sheet", ""), ("_parts/part", "")];
        let data = SheetData::default().with("list", &["a", "b"]);
        let told = |template: &str, text: &str| {
            let overrides = [own("sheet", template), own("_parts/part", text)];
            let engine = Engine::of(&built_in, &overrides).unwrap_or_else(|errors| panic!("{errors:?}"));
            let errors = engine.render("sheet", &data, &Parts::default()).unwrap_err();
            errors.iter().map(|error| error.to_string().split(": ").next().unwrap().to_owned()).collect::<Vec<_>>()
        };
        let lines = told(template.rsplit_once('\n').unwrap().0, "fine\n\n> never\n");
        assert_eq!(lines, ["own/sheet.md:3:20", "own/_parts/part.md:3:1", "own/sheet.md:9:1"].map(str::to_owned));
        assert_eq!(told(template, "fine"), ["own/sheet.md:11:11"], "a value that is not there");
        let bare = Engine::of(&[("sheet", "à {{ list.none }}")], &[]).unwrap_or_else(|errors| panic!("{errors:?}"));
        let errors = bare.render("sheet", &data, &Parts::default()).unwrap_err();
        assert_eq!(errors[0].place, Place::Template(1, 11), "as without marks");
    }

    #[test]
    fn marks_change_nothing_of_what_a_template_prints() {
        let template = "a\n\n {{- b -}} \n c {% if b %}\n\n- [ ] d ______ mm\n{%- endif %}\n\n## {{ b }}\n";
        let data = SheetData::default().with("b", "x");
        let ours = filled(template, &data);
        let marked = Engine::of(&[("sheet", "")], &[own("sheet", template)]).unwrap_or_else(|e| panic!("{e:?}"));
        assert_eq!(marked.render("sheet", &data, &Parts::default()).unwrap(), ours);
        assert_eq!(ours.len(), 3, "{ours:?}");
    }

    #[test]
    fn faults_of_the_filled_in_text_carry_its_lines() {
        let template = "one\n\n{% for n in list %}<i>{{ n }}</i>\n\n{% endfor %}```figure face\n```";
        let data = SheetData::default().with("list", &["a", "b"]);
        let errors = engine(template).render("sheet", &data, &Parts::default()).unwrap_err();
        let lines: Vec<Place> = errors.iter().map(|error| error.place).collect();
        assert_eq!(lines, [3, 5, 7].map(Place::FilledIn), "{errors:?}");
    }
}
