//! The declared table of what waits for which value, held against what the sheets leave out when it is open.

use std::collections::BTreeSet;
use std::path::Path;

use kerfbook::design::Design;
use kerfbook::design::needs::need_of;
use kerfbook::diag::Report;
use kerfbook::model::{Model, resolve};
use kerfbook::sheets::{self, Cell, Job, Sheet};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec;

fn text(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("specs").join(name)).unwrap()
}

/// The sheets of a commission; none where it has an error.
fn sheets_of(commission: &str) -> Option<(Model, Vec<Sheet>)> {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let file = sources.add(SourceFile::new("needs.toml", commission));
    let shop = sources.add(SourceFile::new("shop.toml", text("shop.toml")));
    let written = spec::read(&sources, file, &mut report);
    let shop = spec::read_shop(&sources, shop, &mut report);
    let model = resolve::resolve(&written, Some(&shop), &mut report)?;
    let design = Design::of(&model);
    if report.has_errors() {
        return None;
    }
    let sheets = sheets::make(&Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] });
    Some((model, sheets))
}

fn waits(sheet: &Sheet) -> bool {
    sheet.tables.iter().flat_map(|table| &table.rows).flatten().any(|cell| *cell == Cell::Waits)
}

/// Whether a sheet says less than it did: a cell waits, a row or a printed figure is gone.
fn says_less(left: &Sheet, whole: &Sheet) -> bool {
    let rows = |sheet: &Sheet| sheet.tables.iter().map(|table| table.rows.len()).sum::<usize>();
    waits(left) || rows(left) < rows(whole) || whole.data.keys().any(|name| !left.data.contains_key(name))
}

/// Each key of the file whose value is a quantity, with the file in which it is open.
pub(crate) fn opened(commission: &str) -> Vec<(String, String)> {
    let lines: Vec<&str> = commission.lines().collect();
    let mut table = String::new();
    let mut opened = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        if let Some(header) = line.strip_prefix('[') {
            table = header.trim_end_matches(']').to_owned();
        }
        let Some((key, value)) = line.split_once(" = ") else { continue };
        let is_quantity =
            value.starts_with('"') && value[1..].starts_with(|c: char| c.is_ascii_digit()) || value.starts_with('[');
        if line.starts_with(' ') || !is_quantity || table == "commission" {
            continue;
        }
        let mut changed: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
        changed[index] = format!("{key} = \"open\"");
        if value.trim_end() == "[" || value.starts_with("[  ") || value.trim_start_matches('[').trim().starts_with('#')
        {
            // A list over several lines goes as a whole.
            let end = lines[index..].iter().position(|line| line.starts_with(']')).unwrap() + index;
            changed.drain(index + 1..=end);
        }
        opened.push((format!("{table}.{}", key.trim()), changed.join("\n")));
    }
    opened
}

#[test]
fn what_an_open_value_leaves_out_is_what_the_table_says() {
    // Sheets that every commission has; they list what is open by themselves.
    let always = ["materials-list", "safety-notes", "sign-off", "set-up-cards"];
    let mut keys = 0;
    let mut wrong = Vec::new();
    for name in ["T-204-lantern-street.toml", "T-218-short-crossing.toml", "T-215-breakwater.toml"] {
        let commission = text(name);
        let (_, whole) = sheets_of(&commission).unwrap();
        assert!(!whole.iter().any(|sheet| sheet.id != "materials-list" && waits(sheet)), "{name}");
        for (key, changed) in opened(&commission) {
            // Where "open" is not a word for the key, there is nothing to wait.
            let Some((model, left)) = sheets_of(&changed) else { continue };
            keys += 1;
            let lost: BTreeSet<&str> = whole
                .iter()
                .filter(|sheet| !always.contains(&sheet.id))
                .filter(|sheet| left.iter().find(|own| own.id == sheet.id).is_none_or(|own| says_less(own, sheet)))
                .map(|sheet| sheet.id)
                .collect();
            let declared: BTreeSet<&str> = need_of(&key, &model)
                .into_iter()
                .flat_map(|need| need.waits.iter().map(|(sheet, _)| *sheet))
                .filter(|sheet| whole.iter().any(|own| own.id == *sheet) && !always.contains(sheet))
                .collect();
            if lost != declared {
                wrong.push(format!("{name}: {key}: {lost:?}, declared {declared:?}"));
            }
        }
    }
    assert!(keys > 60, "{keys}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Fills in every sheet of a commission, the cover too; what does not fit, by sheet.
fn unfit(commission: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let file = sources.add(SourceFile::new("needs.toml", commission));
    let shop = sources.add(SourceFile::new("shop.toml", text("shop.toml")));
    let written = spec::read(&sources, file, &mut report);
    let shop = spec::read_shop(&sources, shop, &mut report);
    let Some(model) = resolve::resolve(&written, Some(&shop), &mut report) else { return Vec::new() };
    if report.has_errors() {
        return Vec::new();
    }
    let design = Design::of(&model);
    let outcome = kerfbook::checks::run(&model, &design);
    let job =
        Job { model: &model, design: &design, findings: &outcome.findings, left_out: &outcome.left_out, ranges: &[] };
    let mut all = sheets::make(&job);
    let stamps: Vec<_> = all.iter().map(|sheet| sheet.stamp(&job)).collect();
    let pages = vec![Some(sheets::PageRange { first: 1, last: 2 }); all.len()];
    let history = sheets::History::of(&job, &all, &[]);
    all.push(sheets::cover::sheet(&job, &history, &all, &stamps, &pages));
    let engine = kerfbook::template::Engine::built_in();
    let faults = all.iter().filter_map(|sheet| kerfbook::packet::blocks(engine, &job, sheet).err());
    faults.flatten().map(|fault| fault.to_string()).collect()
}

#[test]
fn every_template_fits_its_sheet_whatever_value_is_open() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let mut filled = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        if name == "shop.toml" || name.ends_with(".issues.toml") {
            continue;
        }
        let commission = text(&name);
        assert_eq!(unfit(&commission), Vec::<String>::new(), "{name}");
        for (key, changed) in opened(&commission) {
            assert_eq!(unfit(&changed), Vec::<String>::new(), "{name}: {key}");
            filled += 1;
        }
    }
    assert!(filled > 150, "{filled}");
}
