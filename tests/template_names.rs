//! What the guide to the templates says of their data is what the sheets really set; a name that a shop's template may
//! use goes away only with a new version of the data.
//!
//! `INSTA_UPDATE=always cargo test template_names` writes that part of the guide anew.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::Path;

use kerfbook::design::Design;
use kerfbook::diag::Report;
use kerfbook::model::resolve;
use kerfbook::sheets::{self, Data, History, Job, PageRange, Sheet, Value};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec::issues::read_issues;
use kerfbook::template::{DATA_VERSION, Engine, GUIDE};
use kerfbook::{checks, packet, spec};

use crate::needs::opened;
use crate::templates::demos;

const PATH: &str = "src/template/guide.md";

/// Where the part begins that is made.
const MADE: &str = "## What every template knows\n";

fn text(path: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path)).unwrap()
}

const QUOTED: &str = "text of the commission or shop";

/// A name: its kind, in how many of the sheets it was there, and, of a list, in how many it had rows. A name of a list's
/// rows counts where every row has it.
#[derive(Default)]
struct Name {
    kind: &'static str,
    times: usize,
    filled: usize,
}

/// What the sheets of one kind set.
#[derive(Default)]
struct Names {
    sheets: usize,
    names: BTreeMap<String, Name>,
    tables: BTreeMap<String, usize>,
    drawings: BTreeMap<String, usize>,
}

impl Names {
    fn take(&mut self, sheet: &Sheet) {
        self.sheets += 1;
        self.take_data("", &sheet.data);
        for view in &sheet.views {
            *self.tables.entry(view.name.to_owned()).or_default() += 1;
        }
        for (name, _) in &sheet.drawings {
            *self.drawings.entry((*name).to_owned()).or_default() += 1;
        }
    }

    /// The names of a set; those of a list's rows once, however many rows it has.
    fn take_data(&mut self, above: &str, data: &Data) {
        for (name, value) in data {
            let name = format!("{above}{name}");
            let own = self.names.entry(name.clone()).or_default();
            own.times += 1;
            own.kind = match value {
                // A dash of ours may stand in for what a commission does not say.
                Value::Words(_) if own.kind == QUOTED => QUOTED,
                Value::Words(_) | Value::Prose(_) => "text or figure",
                Value::Quoted(_) => QUOTED,
                Value::Flag(_) => "yes or no",
                Value::List(_) => "list",
            };
            let Value::List(rows) = value else { continue };
            own.filled += usize::from(!rows.is_empty());
            let mut within = Names::default();
            rows.iter().for_each(|row| within.take_data(&format!("{name}[]."), row));
            for (inner, own) in &within.names {
                let list = inner.rsplit_once("[].").unwrap().0;
                let most = if list == name { rows.len() } else { within.names[list].filled };
                let entry = self.names.entry(inner.clone()).or_default();
                entry.kind = own.kind;
                entry.times += usize::from(own.times == most);
                entry.filled += usize::from(own.filled > 0);
            }
        }
    }
}

/// Every sheet of a commission, the cover and the list of changes too; none where it has an error.
fn every_sheet(path: &str, commission: &str, all: &mut BTreeMap<&'static str, Names>, common: &mut Names) {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let file = sources.add(SourceFile::new("names.toml", commission));
    let shop = sources.add(SourceFile::new("shop.toml", text("specs/shop.toml")));
    let written = spec::read(&sources, file, &mut report);
    let shop = spec::read_shop(&sources, shop, &mut report);
    let Some(model) = resolve::resolve(&written, Some(&shop), &mut report) else { return };
    if report.has_errors() {
        return;
    }
    let design = Design::of(&model);
    let outcome = checks::run(&model, &design);
    let (findings, left_out) = (&outcome.findings, &outcome.left_out);
    let ranges: Vec<_> =
        checks::range::DIMENSIONS.iter().filter_map(|dimension| checks::range::of(&model, *dimension)).collect();
    let job = Job { model: &model, design: &design, findings, left_out, ranges: &ranges };
    let mut made = sheets::make(&job);
    let beside = path.replace(".toml", ".issues.toml");
    let issues = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(beside)).map_or_else(
        |_| Vec::new(),
        |text| {
            let file = sources.add(SourceFile::new("names.issues.toml", text));
            read_issues(&sources, file, None, &mut Report::default())
        },
    );
    let history = History::of(&job, &made, &issues);
    made.extend(sheets::of_history(&job, &history));
    let stamps: Vec<_> = made.iter().map(|sheet| sheet.stamp(&job)).collect();
    let pages = vec![Some(PageRange { first: 1, last: 2 }); made.len()];
    made.push(sheets::cover::sheet(&job, &history, &made, &stamps, &pages));
    for sheet in &made {
        all.entry(sheet.id).or_default().take(sheet);
        let names = packet::names(&job, sheet);
        assert!(!sheet.data.contains_key("job"), "{}: `job` is what every template knows", sheet.id);
        common.sheets += 1;
        common.take_data("job.", &names);
    }
}

/// What the sheets set, as the guide tells it.
fn made() -> (String, BTreeMap<&'static str, Names>) {
    let (mut all, mut common) = (BTreeMap::new(), Names::default());
    let demo = demos().into_iter().map(|name| format!("specs/{name}"));
    let others = ["fan", "cone", "smallest", "zero-fret"].map(|name| format!("examples/{name}.toml"));
    for path in demo.chain(others) {
        let commission = text(&path);
        every_sheet(&path, &commission, &mut all, &mut common);
        for (_, changed) in opened(&commission) {
            every_sheet(&path, &changed, &mut all, &mut common);
        }
        let changes = [
            ("[commission]\n", "[commission]\nprint_in = \"in\"\n"),
            // Wood still to come off the face.
            ("[slots]\n", "[slots]\nskim = \"0.2 mm\"\n"),
            // A listed species.
            ("wood      = \"ebony\"", "wood      = \"indian rosewood\""),
            // Something with papers.
            (
                "[commission]\n",
                "[[materials]]\nwhat = \"inlay\"\nquantity = 1\nunit = \"pc\"\npapers = \"asked for\"\n\n[commission]\n",
            ),
            // What was issued last, without a change since.
            ("dot       = \"5 mm\" ", "dot       = \"6 mm\" "),
        ];
        for (from, to) in changes.into_iter().filter(|(from, _)| commission.contains(from)) {
            every_sheet(&path, &commission.replacen(from, to, 1), &mut all, &mut common);
        }
    }
    let mut guide = format!(
        "\nVersion {DATA_VERSION} of the data. A name goes away, or means something else, only with a new version.\n\n"
    );
    list(&mut guide, &common);
    guide.push_str("\n## What each sheet's template knows\n\nA name that stands with “if” is there only where the commission gives it: ask with `is defined`, or give a\n`default`. `cards[].value` is the `value` of each row of the list `cards`. Where a drawing could be made, its name under\n`draws_…` is there to ask for.\n");
    for id in sheets::ids() {
        let _ = write!(guide, "\n### {id}\n\n");
        let names = all.get(id).unwrap_or_else(|| panic!("no commission has the sheet `{id}`"));
        list(&mut guide, names);
    }
    (guide, all)
}

fn list(guide: &mut String, names: &Names) {
    let optional = |times: usize| if times < names.sheets { ", if" } else { "" };
    for (name, own) in &names.names {
        // A name within a list is there wherever its list is, if it is in every row.
        let most = name.rsplit_once("[].").map_or(names.sheets, |(list, _)| names.names[list].filled);
        let _ = writeln!(guide, "- `{name}`: {}{}", own.kind, if own.times < most { ", if" } else { "" });
    }
    for (kind, of) in [("table", &names.tables), ("figure", &names.drawings)] {
        for (name, times) in of {
            let asks = if kind == "figure" {
                format!(", asked for by `draws_{}`", name.replace('-', "_"))
            } else {
                String::new()
            };
            let _ = writeln!(guide, "- `{kind} {name}`{}{asks}", optional(*times));
        }
    }
    if names.names.is_empty() && names.tables.is_empty() && names.drawings.is_empty() {
        guide.push_str("Nothing beside what every template knows.\n");
    }
}

/// The names of a guide by sheet, without what is said of them.
fn promised(guide: &str) -> BTreeSet<String> {
    let mut sheet = String::new();
    let mut all = BTreeSet::new();
    for line in guide.split_once(MADE).unwrap().1.lines() {
        if let Some(id) = line.strip_prefix("### ") {
            id.clone_into(&mut sheet);
        } else if let Some(rest) = line.strip_prefix("- `") {
            let (name, says) = rest.split_once('`').unwrap();
            let kind = says.trim_start_matches(": ").split(", if").next().unwrap();
            all.insert(format!("{sheet}: {name}, {kind}"));
        }
    }
    all
}

fn version(guide: &str) -> u32 {
    let rest = guide.split_once("\nVersion ").unwrap().1;
    rest.split(' ').next().unwrap().parse().unwrap()
}

#[test]
fn the_guide_tells_what_the_sheets_set_and_takes_nothing_back() {
    let (made, all) = made();
    let (head, written) = GUIDE.split_once(MADE).unwrap();
    let whole = format!("{head}{MADE}{made}");
    if written != made {
        let gone: Vec<String> = promised(GUIDE).difference(&promised(&whole)).cloned().collect();
        let is_new = !written.contains("Version ") || version(GUIDE) < DATA_VERSION;
        assert!(
            gone.is_empty() || is_new,
            "a shop's template may use these: raise DATA_VERSION, or keep them: {gone:?}"
        );
        if std::env::var("INSTA_UPDATE").is_ok_and(|word| word == "always") {
            fs::write(Path::new(env!("CARGO_MANIFEST_DIR")).join(PATH), &whole).unwrap();
        } else {
            panic!("{PATH} is not what the sheets set: INSTA_UPDATE=always cargo test template_names");
        }
    }
    let bare: Vec<_> =
        all.values().flat_map(|names| &names.names).filter(|(_, own)| own.kind == "list" && own.filled == 0).collect();
    assert!(
        bare.is_empty(),
        "no commission fills these lists: {:?}",
        bare.iter().map(|(name, _)| name).collect::<Vec<_>>()
    );
    // What the built-in templates ask for is among the names.
    for id in sheets::ids() {
        let known = &all[id];
        for variable in Engine::built_in().variables(id).unwrap() {
            let draws = variable.strip_prefix("draws_").map(|name| name.replace('_', "-"));
            let is_drawing = draws.is_some_and(|name| known.drawings.contains_key(&name));
            assert!(known.names.contains_key(&variable) || is_drawing || variable == "job", "{id}: `{variable}`");
        }
    }
}
