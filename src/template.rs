//! Templates: what a sheet says in words, as Tera and Markdown, filled with the sheet's data.
//!
//! In: the name of a sheet, its [`SheetData`], the tables and drawings it has ready ([`Parts`]). Out: blocks. A shop
//! may override any template. Every value is printed as inert text: nothing in it can become structure, and what
//! comes from a commission file ([`Foreign`]) stays inert even where a template says `safe`. A variable that is not
//! there is an error that names template, line, column and the names that are.

use std::borrow::Cow;
use std::fmt;
use std::io::Write;
use std::sync::LazyLock;

use serde::{Serialize, Serializer};
use tera::{Context, ErrorKind, Tera};

use crate::paper::Block;
use crate::paper::markdown::{self, Parts, inert, without_private};

macro_rules! built_in {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../templates/", $name, ".md")))),*]
    };
}

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
];

/// What every template's name ends in; names in messages and calls go without.
const SUFFIX: &str = ".md";

/// All templates, ready to fill.
pub struct Engine {
    tera: Tera,
}

/// What a template may print: names and values.
#[derive(Debug, Clone, Default)]
pub struct SheetData {
    context: Context,
}

/// Text from a commission or shop file. It is inert from the start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Foreign(pub String);

/// What is wrong with a template or its data.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TemplateError {
    /// The template, by its name.
    pub template: String,
    /// Line from 1 and column from 1 in the template; for a fault in the filled-in text, its line there.
    pub place: Place,
    /// What is wrong.
    pub message: String,
}

/// Where a fault lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// In the template as written: line and column from 1.
    Template(usize, usize),
    /// In the text after filling in: line from 1.
    FilledIn(usize),
    /// Nowhere in particular.
    Whole,
}

impl fmt::Display for TemplateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { template, message, .. } = self;
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
        self.context.insert(name, value);
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

    /// The built-in templates with a shop's own in their place, by name: `fret-table`, `_parts/opening`.
    ///
    /// # Errors
    /// Each template that cannot be read, and each that overrides nothing.
    pub fn with_overrides(overrides: &[(String, String)]) -> Result<Self, Vec<TemplateError>> {
        Self::of(BUILT_IN, overrides)
    }

    fn of(built_in: &[(&str, &str)], overrides: &[(String, String)]) -> Result<Self, Vec<TemplateError>> {
        let mut tera = Tera::new();
        tera.autoescape_on([SUFFIX]);
        tera.set_escape_fn(print_inert);
        let mut errors = Vec::new();
        let mut all: Vec<(String, &str)> = built_in.iter().map(|(name, text)| (full_name(name), *text)).collect();
        for (name, text) in overrides {
            let full = full_name(name);
            match all.iter_mut().find(|(known, _)| *known == full) {
                Some((_, own)) => *own = text,
                None => {
                    let names = built_in.iter().map(|(name, _)| format!("`{name}`")).collect::<Vec<_>>().join(", ");
                    let message = format!("there is no template of this name to override; there are {names}");
                    errors.push(TemplateError { template: name.clone(), place: Place::Whole, message });
                }
            }
        }
        // One by one for messages, so that a fault in one does not hide another's; then all, since they include
        // each other.
        for (name, text) in &all {
            if let Err(error) = Tera::new().add_raw_template(name, text)
                && matches!(error.kind(), ErrorKind::SyntaxError(_))
            {
                errors.push(of_tera(name, &error));
            }
        }
        if errors.is_empty()
            && let Err(error) = tera.add_raw_templates(all.iter().map(|(name, text)| (name.as_str(), *text)))
        {
            errors.push(of_tera("", &error));
        }
        if errors.is_empty() { Ok(Self { tera }) } else { Err(errors) }
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
        let found = self.tera.get_template_variables(&full_name(sheet)).map_err(|error| of_tera(sheet, &error))?;
        let mut names: Vec<String> = found.into_iter().map(str::to_owned).collect();
        names.sort();
        Ok(names)
    }

    /// Fills in a sheet's template and reads it as blocks.
    ///
    /// # Errors
    /// A variable that is not there, a call that fails; or every fault of the filled-in text.
    pub fn render(&self, sheet: &str, data: &SheetData, parts: &Parts) -> Result<Vec<Block>, Vec<TemplateError>> {
        let text = self.tera.render(&full_name(sheet), &data.context).map_err(|error| vec![of_tera(sheet, &error)])?;
        let told = |fault: markdown::Fault| TemplateError {
            template: short_name(sheet).to_owned(),
            place: Place::FilledIn(fault.line),
            message: fault.message,
        };
        markdown::blocks(&text, parts).map_err(|faults| faults.into_iter().map(told).collect())
    }
}

fn print_inert(value: &str, output: &mut dyn Write) -> std::io::Result<()> {
    output.write_all(inert(value).as_bytes())
}

fn full_name(name: &str) -> String {
    format!("{}{SUFFIX}", short_name(name))
}

fn short_name(name: &str) -> &str {
    name.strip_suffix(SUFFIX).unwrap_or(name)
}

fn of_tera(template: &str, error: &tera::Error) -> TemplateError {
    match error.kind() {
        ErrorKind::SyntaxError(report) | ErrorKind::RenderingError(report) => {
            let named = if report.filename().is_empty() { template } else { report.filename() };
            let place = Place::Template(report.span().start_line, report.span().start_col + 1);
            TemplateError { template: short_name(named).to_owned(), place, message: report.message().to_owned() }
        }
        other => {
            TemplateError { template: short_name(template).to_owned(), place: Place::Whole, message: other.to_string() }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::{Inlines, List};

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
        let overrides = [("thre".to_owned(), String::new())];
        let errors = Engine::of(&built_in, &overrides).map(|_| ()).unwrap_err();
        let told: Vec<&str> = errors.iter().map(|error| error.template.as_str()).collect();
        assert_eq!(told, ["thre", "one", "two"]);
    }

    #[test]
    fn a_shops_own_template_takes_the_place_of_ours() {
        let overrides = [("sheet".to_owned(), "theirs".to_owned())];
        let engine = Engine::of(&[("sheet", "ours")], &overrides).unwrap_or_else(|errors| panic!("{errors:?}"));
        let blocks = engine.render("sheet", &SheetData::default(), &Parts::default()).unwrap();
        assert_eq!(blocks, [Block::paragraph("theirs")]);
    }

    #[test]
    fn faults_of_the_filled_in_text_carry_its_lines() {
        let template = "one\n\n{% for n in list %}<i>{{ n }}</i>\n\n{% endfor %}```figure face\n```";
        let data = SheetData::default().with("list", &["a", "b"]);
        let errors = engine(template).render("sheet", &data, &Parts::default()).unwrap_err();
        let lines: Vec<Place> = errors.iter().map(|error| error.place).collect();
        assert_eq!(lines, [3, 3, 5, 5, 7].map(Place::FilledIn), "{errors:?}");
    }
}
