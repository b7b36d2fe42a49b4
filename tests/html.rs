//! `packet.html`: whole, told apart, and inert whatever stands in the commission.

use std::collections::{BTreeMap, BTreeSet};

use kerfbook::packet::{InputFile, Inputs, Options, Templates, compile};
use kerfbook::source::{SourceFile, Sources};

const COMMISSION: &str = include_str!("../specs/T-204-lantern-street.toml");
const SHOP: &str = include_str!("../specs/shop.toml");
/// Commissions of both hands, in both units, with and without lamps, one of them on a fan.
const OTHERS: [&str; 4] = [
    include_str!("../specs/T-211-windowsill.toml"),
    include_str!("../specs/T-215-breakwater.toml"),
    include_str!("../specs/T-218-short-crossing.toml"),
    include_str!("../specs/T-221-other-hand.toml"),
];
/// Elements that HTML's syntax gives no end tag (WHATWG HTML, section 13.1.2), as far as they occur here.
const VOID: [&str; 3] = ["meta", "input", "br"];

/// The files of a commission's packet.
pub(crate) fn packet(commission: &str) -> Vec<(String, String)> {
    let mut sources = Sources::default();
    let mut input =
        |name: &str, text: &str| InputFile { id: sources.add(SourceFile::new(name, text)), path: name.to_owned() };
    let (commission, shop) = (input("T-204.toml", commission), Some(input("shop.toml", SHOP)));
    let compiled = compile(
        &Inputs { sources, commission, shop, issues: None, templates: Templates::default() },
        &Options::default(),
    );
    let files = compiled.packet.expect("the commission has no errors").files;
    files.into_iter().map(|file| (file.path, String::from_utf8_lossy(&file.bytes).into_owned())).collect()
}

pub(crate) fn file<'a>(files: &'a [(String, String)], path: &str) -> &'a str {
    &files.iter().find(|(name, _)| name == path).unwrap().1
}

/// Each tag of a file, an end tag with its `/`; the content of style and script is passed over.
fn tags(html: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut rest = html;
    while let Some(start) = rest.find('<') {
        let end = start + rest[start..].find('>').expect("a tag is closed");
        let tag = rest[start + 1..end].to_owned();
        rest = &rest[end + 1..];
        let raw = ["style", "script"].into_iter().find(|name| tag == *name);
        found.push(tag);
        if let Some(name) = raw {
            rest = &rest[rest.find(&format!("</{name}>")).expect("raw text ends")..];
        }
    }
    found
}

fn name(tag: &str) -> &str {
    tag.split([' ', '/']).next().unwrap()
}

/// The value of an attribute, if a tag has it.
fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let start = tag.find(&format!(" {name}=\""))? + name.len() + 3;
    tag[start..].split('"').next()
}

/// The section of one sheet.
fn section<'a>(html: &'a str, sheet: &str) -> &'a str {
    let start = html.find(&format!("<section id=\"{sheet}\" ")).unwrap_or_else(|| panic!("no section {sheet}"));
    html[start..].split("</section>").next().unwrap()
}

/// A drawing of a sheet, as against a pattern or a gauge strip at full size, which is for paper.
fn is_drawing(path: &str) -> bool {
    let is_pattern = ["drawings/pattern-", "drawings/gauge-"].iter().any(|stem| path.starts_with(stem));
    path.starts_with("drawings/") && path.ends_with(".svg") && !is_pattern
}

/// Elements end where they should, everything named is there, and nothing acts or is fetched.
pub(crate) fn assert_whole(html: &str) {
    assert!(html.starts_with("<!DOCTYPE html>\n<html lang=\"en\">"));
    let mut open: Vec<&str> = Vec::new();
    let tags = tags(html);
    let ids: Vec<&str> = tags.iter().filter_map(|tag| attribute(tag, "id")).collect();
    let known: BTreeSet<&str> = ids.iter().copied().collect();
    assert!(ids.len() > 40 && known.len() == ids.len(), "an identifier is there twice");
    for tag in tags.iter().skip(1) {
        if let Some(end) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(end));
        } else if !tag.ends_with('/') && !VOID.contains(&name(tag)) {
            open.push(name(tag));
        }
        if let Some(target) = attribute(tag, "href") {
            assert!(target.strip_prefix('#').is_some_and(|id| known.contains(id)), "{target} leads nowhere");
        }
        if let Some(named) = attribute(tag, "aria-labelledby") {
            assert!(named.split(' ').all(|id| known.contains(id)), "{named} is not there");
        }
        // Whatever takes a value can be told by its name: its own, or the label around it.
        if name(tag) == "input" {
            assert!(attribute(tag, "aria-label").is_some() || open.contains(&"label"), "{tag} has no name");
        }
        for handler in ["src", "style", "onclick", "onload", "onerror", "action", "srcset"] {
            assert!(attribute(tag, handler).is_none(), "{tag}");
        }
    }
    assert!(open.is_empty(), "{open:?}");
    let known = |name: &str| tags.iter().filter(|tag| self::name(tag) == name).count();
    assert_eq!((known("script"), known("style")), (1, 1));
    for fetching in ["img", "link", "iframe", "object", "embed", "base", "form", "use", "image", "audio", "video"] {
        assert_eq!(known(fetching), 0, "<{fetching}>");
    }
}

/// No address at all, in a packet whose own texts have none.
fn assert_alone(html: &str) {
    assert!(!html.replace("http://www.w3.org/2000/svg", "").contains("://"), "something from outside");
}

#[test]
fn the_screen_shows_every_sheet_with_its_stamp_and_is_whole() {
    for commission in OTHERS.into_iter().chain([COMMISSION]) {
        let files = packet(commission);
        let html = file(&files, "packet.html");
        assert_whole(html);
        assert_alone(html);
        let manifest: serde_json::Value = serde_json::from_str(file(&files, "manifest.json")).unwrap();
        assert!(manifest["files"].as_array().unwrap().iter().any(|file| file["path"] == "packet.html"));
        let sheets = manifest["sheets"].as_array().unwrap();
        assert!(sheets.len() > 10);
        let contents = html.split("<nav ").nth(1).unwrap().split("</nav>").next().unwrap();
        for sheet in sheets {
            let (id, stamp) = (sheet["sheet"].as_str().unwrap(), sheet["stamp"].as_str().unwrap());
            let signs: String = stamp.chars().filter(char::is_ascii_alphanumeric).collect();
            for place in [section(html, id), contents] {
                let bare: String = place.chars().filter(char::is_ascii_alphanumeric).collect();
                assert!(bare.contains(&signs), "{id} without {stamp}");
            }
            assert!(contents.contains(&format!("href=\"#{id}\"")), "{id} is not listed");
        }
        for (path, what) in
            [("packet.pdf", "the same sheets"), ("full-size.pdf", "patterns"), ("full-size-roll.pdf", "")]
        {
            let is_there = files.iter().any(|(file, _)| file == path);
            assert_eq!(html.contains(&format!("<b>{path}</b>: {what}")), is_there, "{path}");
        }
        let drawings = files.iter().filter(|(path, _)| is_drawing(path)).count();
        assert!(html.matches("<svg ").count() >= drawings, "a drawing is missing");
    }
    assert_eq!(
        file(&packet(COMMISSION), "packet.html"),
        file(&packet(COMMISSION), "packet.html"),
        "the same bytes twice"
    );
}

/// Rounding to two decimals is done anew here, halves upward: fret 24 of 647.7 mm stands at 485.775. The file's figures
/// are unrounded.
#[test]
fn the_fret_table_on_the_screen_is_that_of_the_file() {
    let files = packet(COMMISSION);
    let section = section(file(&files, "packet.html"), "fret-table");
    let mut table = csv::Reader::from_reader(file(&files, "tables/fret-table.csv").as_bytes());
    let column = table.headers().unwrap().iter().position(|name| name == "from_nut_mm").unwrap();
    let figures: Vec<f64> = table.records().map(|row| row.unwrap()[column].parse().unwrap()).collect();
    assert!(figures.len() > 12);
    for figure in figures.iter().filter(|figure| **figure > 0.0) {
        let printed = format!("{:.2}", (figure * 100.0 + 1e-6).round() / 100.0);
        assert!(section.contains(&format!(">{printed}<")), "{printed} is not on the screen");
    }
}

/// Each row of the sign-off has a box of its own in its step, with the bounds of the file, and the same box on the
/// sheet of its station.
#[test]
fn what_is_measured_has_one_name_in_its_step_and_the_bounds_of_the_file() {
    for (index, commission) in OTHERS.into_iter().chain([COMMISSION]).enumerate() {
        let files = packet(commission);
        let html = file(&files, "packet.html");
        // Inches are the working unit of the third: its bounds are the file's, divided by the inch of 25.4 mm.
        let inch = if file(&files, "packet.html").contains("data-unit=\"in\"") { 25.4 } else { 1.0 };
        let decimals = if inch > 1.0 { 3 } else { 2 };
        let mut forms: BTreeMap<String, Vec<String>> = BTreeMap::new();
        let mut step = "";
        let signing = tags(section(html, "sign-off"));
        for tag in &signing {
            step = attribute(tag, "data-step").unwrap_or(step);
            if attribute(tag, "data-key").is_some() {
                forms.entry(step.to_owned()).or_default().push(tag.clone());
            }
        }
        let mut rows = csv::Reader::from_reader(file(&files, "tables/sign-off.csv").as_bytes());
        let headers = rows.headers().unwrap().clone();
        let mut places: BTreeMap<String, usize> = BTreeMap::new();
        let mut count = 0;
        for row in rows.records().map(Result::unwrap) {
            let cell = |name: &str| &row[headers.iter().position(|header| header == name).unwrap()];
            let place = places.entry(cell("step").to_owned()).or_default();
            let tag = &forms[cell("step")][*place];
            *place += 1;
            count += 1;
            let scale = if cell("unit") == "mm" { inch } else { 1.0 };
            let places = if cell("unit") == "mm" { decimals } else { 2 };
            for bound in ["low", "high"] {
                let shown: Option<f64> = attribute(tag, &format!("data-{bound}")).map(|text| text.parse().unwrap());
                let written: Option<f64> = cell(bound).parse().ok();
                assert_eq!(shown.is_some(), written.is_some(), "{tag}");
                if let (Some(shown), Some(written)) = (shown, written) {
                    let unit = 0.5 * 10_f64.powi(-places) + 1e-9;
                    assert!((shown - written / scale).abs() <= unit, "{tag}: {written} / {scale}");
                }
            }
        }
        assert_eq!(count, forms.values().map(Vec::len).sum::<usize>(), "commission {index}");
        for (step, tags) in &forms {
            let keys: BTreeSet<&str> = tags.iter().filter_map(|tag| attribute(tag, "data-key")).collect();
            assert_eq!(keys.len(), tags.len(), "two values of step {step} have one name");
        }
        // What stands on a station's sheet stands among the rows of its step too.
        let mut step = "";
        for tag in &tags(html) {
            step = attribute(tag, "data-step").unwrap_or(step);
            if let Some(key) = attribute(tag, "data-key") {
                assert!(forms[step].iter().any(|tag| attribute(tag, "data-key") == Some(key)), "{step} {key}");
            }
        }
    }
}

#[test]
fn text_from_a_commission_stays_text() {
    let title = r#"</script><script>alert(1)</script>\"'><img src=x onerror=alert(1)>&amp;<!--\u202Eevil"#;
    let line = COMMISSION.lines().find(|line| line.starts_with("title")).unwrap();
    let files = packet(&COMMISSION.replace(line, &format!("title = \"{title}\"")));
    let html = file(&files, "packet.html");
    assert_whole(html);
    assert!(html.contains("&lt;/script&gt;&lt;script&gt;alert(1)"), "the title is not shown");
    assert!(html.contains("&quot;&#39;&gt;&lt;img src=x onerror=alert(1)&gt;&amp;amp;&lt;!--"), "the title is changed");
    assert!(!html.contains('\u{202e}') && !html.contains("<!--"));
}

/// A file's name reaches the line that signs, which somebody pastes into a shell.
#[test]
fn the_line_that_signs_quotes_the_file_as_one_argument() {
    let mut sources = Sources::default();
    let path = "it's $(rm x) \"now\".toml";
    let commission = InputFile { id: sources.add(SourceFile::new(path, COMMISSION)), path: path.to_owned() };
    let shop = Some(InputFile { id: sources.add(SourceFile::new("shop.toml", SHOP)), path: "shop.toml".to_owned() });
    let compiled = compile(
        &Inputs { sources, commission, shop, issues: None, templates: Templates::default() },
        &Options::default(),
    );
    let files = compiled.packet.unwrap().files;
    let html = files.iter().find(|file| file.path == "packet.html").unwrap();
    let html = String::from_utf8(html.bytes.clone()).unwrap();
    assert_whole(&html);
    let line = "kerfbook sign &#39;it&#39;\\&#39;&#39;s $(rm x) &quot;now&quot;.toml&#39; slots<";
    assert!(html.contains(line), "the line is not quoted");
}
