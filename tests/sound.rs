//! What must hold of every commission that is read, however it was spoiled: findings inside their files, and
//! where nothing stops the packet, figures that can be cut.
//!
//! Uses nothing but the library, so that the fuzz target in `tests/fuzz` holds its inputs against the same.

use kerfbook::checks;
use kerfbook::design::Design;
use kerfbook::design::board::outline::Outline;
use kerfbook::diag::render::{Context, findings, human, short, steers, to_json};
use kerfbook::diag::{Diagnostic, Report, Severity, codes};
use kerfbook::geom::Point;
use kerfbook::model::{Model, ResolvedValue, resolve};
use kerfbook::packet::{self, InputFile, Inputs, Options, PacketFile, Templates};
use kerfbook::sheets::{self, Cell, Job, Sheet};
use kerfbook::source::{FileId, SourceFile, Sources};
use kerfbook::spec;

/// How far a figure may be wrong by arithmetic alone, in millimetres.
const ARITHMETIC: f64 = 1e-6;

/// What a finding says before the words of the waiver that accepts it.
const WAIVED: &str = ": waived by ";

/// Columns whose figures may be less than nothing: places, angles, the lower end of a tolerance of the shop's own.
const SIGNED: [&str; 4] = ["x", "y", "angle", "low"];

/// A commission that was read, resolved, computed and checked.
pub(crate) struct Examined {
    sources: Sources,
    commission: FileId,
    shop: Option<FileId>,
    report: Report,
    found: Option<(Model, Design, checks::Outcome)>,
}

impl Examined {
    /// Reads, resolves, computes and checks.
    pub(crate) fn of(commission: &str, shop: Option<&str>) -> Self {
        let mut sources = Sources::default();
        let mut report = Report::default();
        let file = sources.add(SourceFile::new("spoiled.toml", commission));
        let shop = shop.map(|text| sources.add(SourceFile::new("shop.toml", text)));
        let written = spec::read(&sources, file, &mut report);
        let shop_file = shop.map(|file| spec::read_shop(&sources, file, &mut report));
        let found = resolve::resolve(&written, shop_file.as_ref(), &mut report).map(|model| {
            let design = Design::of(&model);
            let outcome = checks::run(&model, &design);
            report.extend(outcome.findings.iter().cloned());
            (model, design, outcome)
        });
        report.sort();
        Self { sources, commission: file, shop, report, found }
    }

    /// The findings.
    pub(crate) fn findings(&self) -> &[Diagnostic] {
        self.report.findings()
    }

    /// Whether nothing stops the packet.
    pub(crate) fn passes(&self) -> bool {
        !self.report.has_errors() && self.found.is_some()
    }

    /// Asserts what must hold of it, passed or not.
    pub(crate) fn assert_sound(&self) {
        self.assert_findings();
        self.assert_renderings();
        if let (true, Some((model, design, outcome))) = (self.passes(), &self.found) {
            let job = Job { model, design, findings: self.findings(), left_out: &outcome.left_out, ranges: &[] };
            assert_values(model);
            assert!(!format!("{design:?}").contains("NaN"), "a figure of the design is none: {design:?}");
            assert_slots(design);
            let accepted = self.findings().iter().any(|finding| finding.message.contains(WAIVED));
            assert_tables(&sheets::make(&job), accepted);
        }
    }

    /// Every label lies inside its file and on whole characters; every error says something.
    fn assert_findings(&self) {
        for finding in self.findings() {
            assert!(!finding.message.is_empty(), "{finding:?}");
            for label in finding.primary.iter().chain(&finding.related) {
                let text = self.sources.get(label.span.file).text();
                assert!(text.get(label.span.start..label.span.end).is_some(), "outside its file: {finding:?}");
            }
        }
        let errors = self.findings().iter().any(|finding| finding.severity == Severity::Error);
        assert!(errors || self.found.is_some(), "what is no instrument is an error");
    }

    /// The findings can be shown in each form; what came from the checks holds no figure that is none.
    fn assert_renderings(&self) {
        let context = Context { sources: &self.sources, commission: self.commission };
        let said = human(self.findings(), context, false);
        assert!(said.chars().all(|sign| sign == '\n' || !steers(sign)), "it steers the terminal: {said:?}");
        let lines = short(self.findings(), context, false).lines().count();
        assert_eq!(lines, self.findings().len(), "one line a finding");
        assert!(to_json(&findings(self.findings(), context)).starts_with('['));
        let checked = self.found.iter().flat_map(|(_, _, outcome)| &outcome.findings);
        for finding in checked {
            let words = finding.help.iter().chain([&finding.message]).map(String::as_str);
            for text in words {
                // What a waiver says is the builder's own text.
                let text = text.split(WAIVED).next().unwrap_or(text);
                assert!(finding.code == codes::SPEC_20 || !no_figures(text), "{}: {text}", finding.code);
            }
        }
    }

    /// The whole packet, where nothing stops it.
    pub(crate) fn packet(&self) -> Option<Vec<PacketFile>> {
        let input = |id, path: &str| InputFile { id, path: path.to_owned() };
        let inputs = Inputs {
            sources: self.sources.clone(),
            commission: input(self.commission, "spoiled.toml"),
            shop: self.shop.map(|id| input(id, "shop.toml")),
            issues: None,
            templates: Templates::default(),
        };
        Some(packet::compile(&inputs, &Options::default()).packet?.files)
    }
}

/// Whether a text holds a figure that is none, as a word of its own.
fn no_figures(text: &str) -> bool {
    text.split(|sign: char| !sign.is_alphanumeric()).any(|word| matches!(word, "NaN" | "inf"))
}

fn assert_values(model: &Model) {
    for value in &model.values {
        if let ResolvedValue::Figure(figure, _) = value.value {
            assert!(figure.is_finite(), "{}: {figure}", value.key);
        }
    }
}

/// Every slot that is known lies on the board.
fn assert_slots(design: &Design) {
    let (Ok(slots), Ok(outline)) = (&design.slots, &design.outline) else { return };
    for (fret, slot) in slots {
        let Ok(slot) = slot else { continue };
        for point in [slot.cut.start, slot.cut.end, slot.crown.start, slot.crown.end] {
            assert!(on_board(outline, point), "fret {fret} at {point:?} is off the board {outline:?}");
        }
        assert!(slot.cut.start.y < slot.cut.end.y, "fret {fret} runs from bass to treble: {slot:?}");
    }
}

fn on_board(outline: &Outline, point: Point) -> bool {
    point.x.is_finite() && point.y.is_finite() && outline.area.distance_to(point) < ARITHMETIC
}

/// Every figure of every table is one, and none that measures wood or a tool is less than nothing, unless somebody
/// accepted that by name.
fn assert_tables(sheets: &[Sheet], accepted: bool) {
    for table in sheets.iter().flat_map(|sheet| &sheet.tables) {
        for row in &table.rows {
            assert_eq!(row.len(), table.columns.len(), "{}", table.name);
            for (column, cell) in table.columns.iter().zip(row) {
                let part = |word: &str| SIGNED.contains(&word.trim_end_matches(|sign: char| sign.is_ascii_digit()));
                let signed = accepted || column.key.split('_').any(part);
                match cell {
                    Cell::Figure(figure) => {
                        let sound = figure.is_finite() && (signed || *figure >= -ARITHMETIC);
                        assert!(sound, "{}: {} = {figure} in {row:?}", table.name, column.key);
                    }
                    Cell::Count(count) => assert!(*count >= 0, "{}: {} = {count}", table.name, column.key),
                    Cell::Words(words) => assert!(!no_figures(words), "{}: {words}", table.name),
                    Cell::Empty | Cell::Waits | Cell::Quoted(_) => {}
                }
            }
        }
    }
}

/// Every file of a packet is what its name says, and none holds a figure that is none.
pub(crate) fn assert_packet(files: &[PacketFile]) {
    for name in ["packet.pdf", "packet.html", "packet.json", "manifest.json"] {
        assert!(files.iter().any(|file| file.path == name), "{name} is missing");
    }
    for file in files {
        if file.path.ends_with(".pdf") {
            assert!(
                file.bytes.starts_with(b"%PDF-") && file.bytes.trim_ascii_end().ends_with(b"%%EOF"),
                "{}",
                file.path
            );
            continue;
        }
        let text = str::from_utf8(&file.bytes).unwrap_or_else(|fault| panic!("{}: {fault}", file.path));
        assert!(!text.is_empty(), "{}", file.path);
        if file.path.ends_with(".csv") {
            let figures = text.split([',', '\r', '\n']).any(|cell| matches!(cell, "NaN" | "inf" | "-inf"));
            assert!(!figures, "{}: {text}", file.path);
        }
        if file.path.ends_with(".svg") {
            assert_figures_of_attributes(&file.path, text);
        }
    }
}

/// No attribute of a drawing holds a figure that is none.
fn assert_figures_of_attributes(path: &str, text: &str) {
    for attribute in text.split('"').skip(1).step_by(2) {
        assert!(attribute.len() > 1_000_000 || !no_figures(attribute), "{path}: {attribute}");
    }
}
