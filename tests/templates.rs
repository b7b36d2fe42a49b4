//! A shop's own templates: untouched they change nothing, empty they hide nothing that must be seen, broken they stop
//! the packets with file, line and column, and none makes work without end.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use kerfbook::design::Design;
use kerfbook::diag::Report;
use kerfbook::model::resolve;
use kerfbook::packet::{Compiled, InputFile, Inputs, Options, Packet, TemplateFile, Templates, check, compile};
use kerfbook::paper::{Paper, Sheet, compose};
use kerfbook::sheets::{self, Job};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec;
use kerfbook::template::{Engine, Override};

use crate::support::Shop;
use crate::{pdf, sample};

fn demo(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("specs").join(name)).unwrap()
}

/// The commissions of the demo shop, by the names of their files.
pub(crate) fn demos() -> Vec<String> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let mut names: Vec<String> = names.filter(|name| name != "shop.toml" && !name.ends_with(".issues.toml")).collect();
    names.sort();
    names
}

const SMALL: &str = "T-211-windowsill.toml";
const LIT: &str = "T-204-lantern-street.toml";
const ISSUED: &str = "T-230-second-thoughts.toml";

/// A commission of the demo shop with templates of the shop's own and lines added to its shop file.
fn inputs(commission: &str, own: &[(&str, &str)], print: &str) -> Inputs {
    let mut sources = Sources::default();
    let mut add =
        |name: &str, text: &str| InputFile { id: sources.add(SourceFile::new(name, text)), path: name.to_owned() };
    let spec = add(commission, &demo(commission));
    let shop = add("shop.toml", &format!("{}\n{print}", demo("shop.toml")));
    let issues = commission.replace(".toml", ".issues.toml");
    let issues = (commission == ISSUED).then(|| add(&issues, &demo(&issues)));
    let files = own
        .iter()
        .map(|(name, text)| TemplateFile { name: (*name).to_owned(), file: add(&format!("own/{name}.md"), text) });
    let templates = Templates { files: files.collect(), ..Templates::default() };
    Inputs { sources, commission: spec, shop: Some(shop), issues, templates }
}

fn compiled(commission: &str, own: &[(&str, &str)], print: &str) -> Compiled {
    compile(&inputs(commission, own, print), &Options::default())
}

fn packet(commission: &str, own: &[(&str, &str)], print: &str) -> Packet {
    let compiled = compiled(commission, own, print);
    compiled.packet.unwrap_or_else(|| panic!("{commission}: {:?}", compiled.template_faults))
}

fn faults(compiled: &Compiled) -> Vec<String> {
    compiled.template_faults.iter().map(ToString::to_string).collect()
}

fn manifest(packet: &Packet) -> serde_json::Value {
    serde_json::from_slice(packet.file("manifest.json").unwrap()).unwrap()
}

/// The stamps of a packet's sheets, by sheet.
fn stamps(packet: &Packet) -> BTreeMap<String, String> {
    let word = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    manifest(packet)["sheets"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| (word(&row["sheet"]), word(&row["stamp"])))
        .collect()
}

/// The sheets that have pages, in their order.
fn printed(packet: &Packet) -> Vec<String> {
    let sheets = manifest(packet)["sheets"].as_array().unwrap().clone();
    let with_pages = sheets.iter().filter(|row| !row["pages"].is_null());
    with_pages.map(|row| row["sheet"].as_str().unwrap().to_owned()).collect()
}

/// The text of each page of a packet, its lines joined by spaces.
fn pages(packet: &Packet, file: &str) -> Vec<String> {
    let document = pdf::read(packet.file(file).unwrap());
    document.pages().iter().map(|page| pdf::texts(page).join(" ")).collect()
}

/// The text of each sheet that is printed, by its name.
fn texts(packet: &Packet) -> BTreeMap<String, String> {
    let pages = pages(packet, "packet.pdf");
    let text = |row: &serde_json::Value| {
        let page = |at: usize| usize::try_from(row["pages"][at].as_u64().unwrap()).unwrap();
        (row["sheet"].as_str().unwrap().to_owned(), pages[page(0) - 1..page(1)].join(" "))
    };
    let manifest = manifest(packet);
    let rows = manifest["sheets"].as_array().unwrap().iter().filter(|row| !row["pages"].is_null());
    rows.map(text).collect()
}

/// The text of the pages of one sheet.
fn sheet_text(packet: &Packet, sheet: &str) -> String {
    texts(packet)[sheet].clone()
}

/// One sheet of a demo commission, for whoever looks at it alone.
fn of_sheet(commission: &str, id: &str, look: impl FnOnce(&Job<'_>, &sheets::Sheet)) {
    let inputs = inputs(commission, &[], "");
    let mut report = Report::default();
    let written = spec::read(&inputs.sources, inputs.commission.id, &mut report);
    let shop = inputs.shop.as_ref().map(|shop| spec::read_shop(&inputs.sources, shop.id, &mut report));
    let model = resolve::resolve(&written, shop.as_ref(), &mut report).unwrap();
    let design = Design::of(&model);
    let outcome = kerfbook::checks::run(&model, &design);
    let (findings, left_out) = (&outcome.findings, &outcome.left_out);
    let job = Job { model: &model, design: &design, findings, left_out, ranges: &[] };
    let all = sheets::make(&job);
    look(&job, all.iter().find(|sheet| sheet.id == id).unwrap());
}

/// All built-in templates, as they are.
fn untouched() -> Vec<(&'static str, &'static str)> {
    Engine::names().map(|name| (name, Engine::text(name).unwrap())).collect()
}

#[test]
fn untouched_templates_give_the_same_bytes() {
    let with_windows_line_ends: Vec<(&str, String)> =
        untouched().into_iter().map(|(name, text)| (name, format!("\u{feff}{}", text.replace('\n', "\r\n")))).collect();
    let mut held = 0;
    for commission in demos() {
        let ours = packet(&commission, &[], "");
        let from_elsewhere: Vec<_> = with_windows_line_ends.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let ways = if commission == SMALL { vec![untouched(), from_elsewhere] } else { vec![untouched()] };
        for own in ways {
            let theirs = packet(&commission, &own, "");
            for (ours, theirs) in ours.files.iter().zip(&theirs.files) {
                // The manifest names the files that a packet was made from, templates too.
                assert!(ours.path == "manifest.json" || ours == theirs, "{commission}: {}", ours.path);
                held += 1;
            }
            assert_eq!(ours.files.len(), theirs.files.len());
            assert_eq!(stamps(&ours), stamps(&theirs));
            let inputs = manifest(&theirs)["inputs"].as_array().unwrap().len();
            assert_eq!(inputs, manifest(&ours)["inputs"].as_array().unwrap().len() + own.len());
        }
    }
    assert!(held > 200, "{held}");
}

#[test]
fn empty_templates_hide_nothing_that_must_be_seen() {
    let empty: Vec<(&str, &str)> = Engine::names().map(|name| (name, "")).collect();
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    for commission in demos() {
        let (ours, theirs) = (packet(&commission, &[], ""), packet(&commission, &empty, ""));
        assert_eq!(stamps(&ours), stamps(&theirs), "{commission}: a template moves no stamp");
        assert_eq!(printed(&ours), printed(&theirs));
        let (our_texts, texts) = (texts(&ours), texts(&theirs));
        for (sheet, stamp) in stamps(&ours) {
            let text = &texts[&sheet];
            for must in ["Valid only if", "Issue", "HANDED", &stamp[..4]] {
                assert!(text.contains(must), "{commission}, {sheet}: {must}: {text}");
            }
            // What the program puts there itself stands there as before.
            for own in [
                "Measure from:",
                "go on only with initials",
                "Hold: measure",
                "must be known before",
                "breath",
                "CAUTION",
            ] {
                let (there, here) = (our_texts[&sheet].contains(own), text.contains(own));
                let of_template = sheet == "safety-notes" || sheet == "potting";
                assert!(here == there || of_template, "{commission}, {sheet}: {own}");
                *seen.entry(own).or_default() += usize::from(here);
            }
            assert!(texts["cover"].contains(&stamp[..4]), "{commission}: the cover lists every stamp");
        }
        for (sheet, must) in
            [("cover", "accepted only with initials"), ("cover", "what waits for it"), ("sign-off", "measured")]
        {
            let there = our_texts.get(sheet).is_some_and(|text| text.contains(must));
            assert!(!there || texts[sheet].contains(must), "{commission}, {sheet}: {must}");
            *seen.entry(must).or_default() += usize::from(there);
        }
        assert!(texts["safety-notes"].len() > 400, "{commission}: {}", texts["safety-notes"]);
    }
    assert!(seen.len() > 5 && seen["Measure from:"] > 5 && seen["what waits for it"] > 0, "{seen:?}");
    let bin = sheet_text(&packet(ISSUED, &empty, ""), "changes").to_lowercase();
    assert!(bin.contains("drilling"), "the prints that are good no more are listed: {bin}");
}

#[test]
fn letterhead_and_footer_stand_where_they_belong_and_move_no_stamp() {
    let own = [
        ("_parts/letterhead", "**{{ job.shop }}**{% for row in job.letterhead %} · {{ row.line }}{% endfor %}"),
        ("_parts/footer", "*Asked at {{ job.shop }}: {{ job.number }}, {{ job.sheet }}.*"),
    ];
    let (ours, theirs) = (packet(LIT, &[], ""), packet(LIT, &own, ""));
    assert_eq!(stamps(&ours), stamps(&theirs));
    let cover = sheet_text(&theirs, "cover");
    let head = cover.find("the old tram depot").unwrap();
    assert!(head < cover.find("handed").unwrap(), "{cover}");
    for sheet in printed(&theirs) {
        let text = sheet_text(&theirs, &sheet);
        assert_eq!(text.matches("Asked at Larch Lane Workshop: T-204").count(), 1, "{sheet}");
        assert_eq!(text.contains("the old tram depot"), sheet == "cover", "{sheet}");
    }
    for broken in ["a\n\n---\n\nb", "```back b\n```"] {
        let told = faults(&compiled(LIT, &[("_parts/footer", broken)], ""));
        assert_eq!(told, ["own/_parts/footer.md: no new page begins in a letterhead or a footer"]);
    }
}

#[test]
fn a_broken_template_names_file_line_column_and_what_names_exist() {
    for (name, text, place, words) in [
        ("slot-depth", "Set it\nto {{ set_to }}\n", "own/slot-depth.md:2:7: ", vec!["`set_to`", "unit"]),
        (
            "slot-depth",
            "a\n\n```table slots\n```\n",
            "own/slot-depth.md:3:1: ",
            vec!["no table `slots`", "`slot-depth`"],
        ),
        ("slot-depth", "a\n\n{% if deep %}\nx", "own/slot-depth.md:", vec![]),
        ("cover", "```figure face\n```\n", "own/cover.md:1:1: ", vec!["no figure `face`"]),
        ("cover", "\n{% include \"footer.md\" %}", "own/cover.md:2:12: ", vec!["`footer.md`", "`_parts/footer.md`"]),
        ("cover", "\n{{ customer | upper }}", "own/cover.md:2:15: ", vec!["`default`", "`length`"]),
        ("_parts/footer", "a {{ shop }}", "own/_parts/footer.md:1:6: ", vec!["`shop`", "job"]),
    ] {
        for found in [compiled(LIT, &[(name, text)], ""), check(&inputs(LIT, &[(name, text)], ""))] {
            assert!(found.packet.is_none() && !found.report.has_errors());
            let told = faults(&found);
            assert!(told[0].starts_with(place), "{told:?}");
            assert!(words.iter().all(|word| told[0].contains(word)), "{words:?}: {told:?}");
            assert!(told.iter().all(|fault| fault.starts_with("own/")), "{told:?}");
        }
    }
    let two = [("cover", "{{ a }"), ("taper", "{{ b }")];
    let told = faults(&check(&inputs(LIT, &two, "")));
    assert!(told.len() == 2 && told[0].contains("cover") && told[1].contains("taper"), "all at once: {told:?}");
}

#[test]
fn the_shops_choice_of_sheets_is_settled_in_the_packet() {
    let ours = packet(LIT, &[], "");
    let print = "[print]\nsheets = [\"taper\", \"cover\", \"fret-table\"]\n";
    let theirs = packet(LIT, &[], print);
    assert_eq!(stamps(&ours), stamps(&theirs), "no stamp moves, also of what is left out");
    assert_eq!(printed(&theirs), ["cover", "taper", "fret-table", "safety-notes"]);
    let cover = sheet_text(&theirs, "cover");
    let left_out = stamps(&ours).len() - 4;
    assert_eq!(cover.matches("not in this packet").count(), left_out, "{cover}");
    for stamp in stamps(&ours).values() {
        assert!(cover.contains(&stamp[..4]), "also of what is left out: {cover}");
    }
    let all = pages(&theirs, "packet.pdf");
    let sheet_numbers: Vec<usize> =
        (1..=4).map(|n| all.iter().filter(|page| page.contains(&format!("{n} / 4"))).count()).collect();
    assert!(sheet_numbers.iter().all(|pages| *pages > 0), "{sheet_numbers:?}");
    // Figures stay in the files, and a sheet that is asked for is set.
    assert_eq!(ours.file("tables/slot-depth.csv"), theirs.file("tables/slot-depth.csv"));
    let options = Options { only: vec!["slot-depth".to_owned()], ..Options::default() };
    let only = compile(&inputs(LIT, &[], print), &options).packet.unwrap();
    assert!(pages(&only, "only.pdf")[0].contains("not in the packet"));
    let issued = packet(ISSUED, &[], "[print]\nsheets = [\"wiring\", \"fret-table\"]\n");
    assert_eq!(printed(&issued), ["cover", "changes", "fret-table", "safety-notes"], "no lamps in it, no wiring");
    for (sheets, word) in [
        ("\"taper\", \"taper\"", "there twice"),
        ("\"tapr\"", "did you mean `taper`?"),
        ("\"nothing\"", "`fret-table`"),
    ] {
        let found = check(&inputs(LIT, &[], &format!("[print]\nsheets = [{sheets}]\n")));
        let errors: Vec<_> = found.report.findings().iter().filter(|one| one.code.as_str() == "SPEC-06").collect();
        assert!(errors.len() == 1 && found.report.has_errors(), "{sheets}");
        assert!(format!("{} {}", errors[0].message, errors[0].help.join(" ")).contains(word), "{errors:?}");
    }
}

/// Templates that mean harm, or slipped.
fn nasty() -> Vec<(&'static str, String)> {
    let loops = |deep: usize, inner: &str| {
        let heads: String = (0..deep).map(|n| format!("{{% for a{n} in rows %}}")).collect();
        format!("{heads}{inner}{}", "{% endfor %}".repeat(deep))
    };
    let text = |text: &str| text.to_owned();
    vec![
        ("nothing", String::new()),
        ("loops within loops", loops(8, "x")),
        ("loops too deep", loops(40, "x")),
        ("a loop in each branch", format!("{{% if rows %}}{}{{% endif %}}", loops(3, "abc"))),
        ("much text in a loop", loops(2, &"x".repeat(8_000))),
        ("figures in a loop", loops(3, "{{ loop.index }}")),
        ("a range", text("{% for a in range(end=1000000000) %}x{% endfor %}")),
        ("a range in a value", text("{{ range(end=1000000000) }}")),
        ("a billion", text("{{ 1000000000 * 1000000000 }}")),
        ("a power", text("{{ 10 ** 1000000000 }}")),
        ("a list", text("{{ [1, 2, 3] }}")),
        (
            "a text that grows",
            text("{% set a = \"x\" %}{% for r in rows %}{% set_global a = a ~ a %}{% endfor %}{{ a }}"),
        ),
        ("it includes itself", text("{% include \"set-up-cards.md\" %}")),
        ("it includes another that includes it", text("{% include \"_parts/footer.md\" %}")),
        ("it includes what is not there", text("{% include \"/etc/passwd\" %}")),
        ("it includes by steps", text("{% include \"../../etc/passwd\" %}")),
        ("it includes by a value", text("{% include rows %}")),
        ("it extends", text("{% extends \"cover.md\" %}")),
        ("a macro that calls itself", text("{% macro a() %}{{ self::a() }}{% endmacro %}{{ self::a() }}")),
        ("a component", text("{% component a() %}{{ <a()> }}{% endcomponent a %}{{ <a() /> }}")),
        ("questions too deep", text("{% if rows %}").repeat(3_000)),
        ("elifs without end", format!("{{% if rows %}}{}{{% endif %}}", "{% elif rows %}".repeat(1_500))),
        ("brackets too deep", format!("{{{{ {}rows{} }}}}", "(".repeat(9_000), ")".repeat(9_000))),
        ("nots without end", format!("{{{{ {}rows }}}}", "not ".repeat(7_000))),
        ("ors without end", format!("{{% if rows{} %}}{{% endif %}}", " or rows".repeat(3_500))),
        ("filters without end", format!("{{{{ rows{} }}}}", " | default(value=rows)".repeat(1_400))),
        ("a path without end", format!("{{{{ rows{} }}}}", ".a".repeat(15_000))),
        ("too long", "x ".repeat(40_000)),
        ("a tag that never ends", format!("{{{{ {}", "a ".repeat(10_000))),
        ("a comment that never ends", format!("{{# {}", "a ".repeat(10_000))),
        ("a text that never ends", text("{{ \"a }}")),
        ("raw", text("{% raw %}{{ rows }}{% endraw %}{{ nothing }}")),
        ("quotations too deep", "> ".repeat(15_000)),
        ("lists too deep", (0..120).map(|n| format!("{}- a\n", "  ".repeat(n))).collect()),
        ("a list on one line", "- ".repeat(15_000)),
        ("stars", "*".repeat(30_000)),
        ("stars and letters", "*a **b ".repeat(4_000)),
        ("brackets", "[".repeat(30_000)),
        ("links within links", format!("{}a{}", "[".repeat(5_000), "](#cover)".repeat(2_500))),
        ("backticks", (1..170).map(|n| format!("{} ", "`".repeat(n))).collect()),
        ("fences within fences", (4..90).rev().map(|n| format!("{}group\n", "`".repeat(n))).collect()),
        ("new pages", "a\n\n---\n\n".repeat(3_000)),
        ("new pages in a loop", loops(1, "\n\na\n\n---\n\n")),
        ("backs", "```back a\n```\n".repeat(1_500)),
        ("the same table again and again", "```table jigs\n```\n".repeat(1_500)),
        ("settings without end", format!("```setting\n{}```\n", "value: 1\n\n".repeat(3_000))),
        ("settings without a value", format!("```setting\n{}```\n", "label: 1\n\n".repeat(3_000))),
        ("facts without end", format!("```facts\n{}```\n", "a: b\n".repeat(6_000))),
        ("boxes without end", format!("```write-in\n{}```\n", "a | b\n".repeat(5_000))),
        ("tasks without end", "- [ ] a ______ mm\n".repeat(1_700)),
        ("paragraphs without end", "a\n\n".repeat(10_000)),
        ("headings without end", "## a\n".repeat(6_000)),
        ("headings in a loop", loops(2, "\n## a\n\nb\n")),
        ("a word without end", "x".repeat(32_000)),
        ("a table too wide", format!("|{}\n|{}\n|{}\n", "a|".repeat(3_000), "-|".repeat(3_000), "b|".repeat(3_000))),
        ("a table too long", format!("|a|b|\n|-|-|\n{}", "|c|d|\n".repeat(5_000))),
        ("a heading too long for a page", format!("## {}", "word ".repeat(6_000))),
        ("a caution too long for a page", format!("```caution\n{}\n```", "word ".repeat(6_000))),
        ("a group too long for a page", format!("````group\n{}````\n", "- a\n".repeat(5_000))),
        (
            "a setting too large",
            format!("```setting\nvalue: {}\nunit: {}\n```\n", "9".repeat(9_000), "m".repeat(9_000)),
        ),
        ("marks of ours", "\u{100000}\u{108000}a\u{10fffd}\u{f000a}## b".repeat(2_000)),
        ("signs that turn or hide", "\u{202e}\u{200b}\u{0}\u{1b}[31m\u{feff}".repeat(2_000)),
        ("raw HTML", "<script>alert(1)</script>\n\n".repeat(1_000)),
    ]
}

/// From here on it hangs, also on a slow machine and unoptimized. What each takes stands beside it with `TIMES=1`.
const HANGS: Duration = Duration::from_secs(60);

#[test]
#[expect(clippy::print_stdout, reason = "`TIMES=1` shows what each takes")]
fn no_template_makes_the_program_break_or_hang() {
    let mut stopped = 0;
    of_sheet(LIT, "set-up-cards", |job, sheet| {
        for (name, text) in nasty() {
            let own = |name: &str, text: &str| Override {
                name: name.to_owned(),
                file: format!("own/{name}.md"),
                text: text.to_owned(),
            };
            let mut overrides = vec![own("set-up-cards", &text)];
            if name.contains("another") {
                overrides.push(own("_parts/footer", "{% include \"set-up-cards.md\" %}"));
            }
            let start = Instant::now();
            let made =
                Engine::with_overrides(&overrides).and_then(|engine| kerfbook::packet::blocks(&engine, job, sheet));
            let pages = made.as_ref().ok().map(|blocks| {
                let frame = sample::frame(Paper::A4, "Nasty", "T-0", None);
                let composition = compose(&Sheet { name: "nasty".to_owned(), frame, blocks: blocks.clone() });
                composition.page_count()
            });
            let took = start.elapsed();
            let told: Vec<String> = made.err().into_iter().flatten().map(|fault| fault.to_string()).collect();
            if std::env::var_os("TIMES").is_some() {
                println!("{:>6} ms  {name}: {pages:?}", took.as_millis());
            }
            assert!(took < HANGS, "{name}: {took:?}");
            stopped += usize::from(!told.is_empty());
            assert!(told.len() <= 20 && told.iter().all(|fault| fault.starts_with("own/")), "{name}: {told:?}");
            assert!(told.iter().all(|fault| fault.len() < 2_000), "{name}");
        }
    });
    assert!(stopped > 40, "{stopped} of {}", nasty().len());
    let long = format!("{}{}", "a\n\n---\n\n".repeat(50), "b\n\n".repeat(940));
    let long = faults(&check(&inputs(SMALL, &[("set-up-cards", &long)], "")));
    assert!(long.len() == 1 && long[0].contains("pages; a sheet has no more than 60"), "{long:?}");
}

/// A shop with a folder of templates, and one commission built before the folder was there.
fn shop_with(own: &[(&str, &[u8])]) -> Shop {
    let shop = Shop::new().with("specs/shop.toml", demo("shop.toml")).with("specs/a.toml", demo(SMALL));
    assert_eq!(shop.run(&["build", "specs"]).status, 0);
    for (name, bytes) in own {
        shop.write(&format!("specs/own/{name}"), bytes);
    }
    shop.write("specs/shop.toml", format!("{}\n[print]\ntemplates = \"own\"\n", demo("shop.toml")));
    shop
}

#[test]
fn what_the_program_writes_is_read_again_and_changes_nothing() {
    let shop = Shop::new().with("specs/shop.toml", demo("shop.toml")).with("specs/a.toml", demo(SMALL));
    assert_eq!(shop.run(&["build", "specs", "--out", "ours"]).status, 0);
    let run = shop.run(&["templates", "--write", "specs/own"]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    let files: Vec<String> = shop.files("specs/own").into_iter().map(|(name, _)| format!("specs/own/{name}")).collect();
    let mut said: Vec<&str> = run.out.lines().collect();
    said.sort_unstable();
    assert_eq!(said, files, "it says what it wrote, and leaves nothing else");
    let listed = shop.run(&["templates", "--list"]).out;
    assert!(listed.lines().all(|name| files.contains(&format!("specs/own/{name}"))));
    assert_eq!(listed.lines().count() + 1, files.len(), "the templates and a README.md");
    shop.write("specs/shop.toml", format!("{}\n[print]\ntemplates = \"own\"\n", demo("shop.toml")));
    let run = shop.run(&["build", "specs", "--out", "theirs"]);
    assert_eq!((run.status, run.err.matches("SPEC-21").count()), (0, 0), "{}", run.err);
    for ((name, ours), (_, theirs)) in shop.files("ours").into_iter().zip(shop.files("theirs")) {
        assert!(name.ends_with("manifest.json") || ours == theirs, "{name}");
    }
}

#[test]
fn what_somebody_changed_is_not_written_over() {
    let shop = Shop::new().with("own/taper.md", "Ours").with("own/_parts/footer.md", "Ours too");
    let run = shop.run(&["templates", "--write", "own"]);
    assert!(run.status == 3 && run.out.is_empty(), "{}", run.out);
    assert!(
        run.err.contains("own/taper.md (and 1 more): says something else") && run.err.contains("--force"),
        "{}",
        run.err
    );
    assert_eq!(shop.files("own").len(), 2, "nothing was written");
    assert_eq!(shop.run(&["templates", "--write", "own", "--force"]).status, 0);
    assert_eq!(fs::read_to_string(shop.path("own/taper.md")).unwrap(), Engine::text("taper").unwrap());
    let again = shop.run(&["templates", "--write", "own"]);
    assert_eq!(again.status, 0, "what is as it should be is in nobody's way: {}", again.err);
    let run = shop.with("a-file", "").run(&["templates", "--write", "a-file/below"]);
    assert!(run.status == 3 && run.err.contains("cannot be written"), "{}", run.err);
}

#[cfg(unix)]
#[test]
fn nothing_is_written_through_a_link() {
    let shop = Shop::new().with("precious.md", "precious").with("own/x", "");
    std::os::unix::fs::symlink(shop.path("precious.md"), shop.path("own/taper.md")).unwrap();
    assert_eq!(shop.run(&["templates", "--write", "own"]).status, 3);
    assert_eq!(shop.run(&["templates", "--write", "own", "--force"]).status, 0);
    assert_eq!(fs::read_to_string(shop.path("precious.md")).unwrap(), "precious");
    assert!(fs::symlink_metadata(shop.path("own/taper.md")).unwrap().is_file());
}

#[test]
fn a_folder_of_templates_is_read_beside_the_shop_file() {
    let shop = shop_with(&[
        ("cover.md", b"A word of our own.\n\n```table cover-sheets\n```\n"),
        ("README.md", b"no template"),
        ("notes.txt", b"no template"),
        (".#taper.md", b"an editor's"),
        ("tapr.md", b"never seen"),
        ("_parts/foot.md", b"never seen"),
    ]);
    let run = shop.run(&["build", "specs", "--out", "new"]);
    assert_eq!(run.status, 0, "{}", run.err);
    for (stranger, near) in [("own/tapr.md", "did you mean `taper.md`?"), ("own/_parts/foot.md", "`_parts/footer.md`")]
    {
        assert!(
            run.err.contains(&format!("`{stranger}` takes no template's place")) && run.err.contains(near),
            "{}",
            run.err
        );
    }
    assert_eq!(run.err.matches("warning[SPEC-21]").count(), 2, "{}", run.err);
    let manifest = shop.files("new").into_iter().find(|(name, _)| name.ends_with("manifest.json")).unwrap().1;
    let manifest: serde_json::Value = serde_json::from_slice(&manifest).unwrap();
    let inputs: Vec<&str> =
        manifest["inputs"].as_array().unwrap().iter().map(|row| row["path"].as_str().unwrap()).collect();
    assert_eq!(inputs, ["a.toml", "shop.toml", "own/cover.md"]);
    let pdf = fs::read(shop.path("new/T-211/packet.pdf")).unwrap();
    assert!(pdf::texts(&pdf::read(&pdf).pages()[0]).join(" ").contains("A word of our own."));
    // A commission in a folder below names it from there.
    shop.write("specs/deep/b.toml", demo(SMALL).replace("T-211", "T-999"));
    assert_eq!(shop.run(&["build", "specs/deep/b.toml", "--out", "deep"]).status, 0);
    assert!(fs::read_to_string(shop.path("deep/T-999/manifest.json")).unwrap().contains("\"../own/cover.md\""));
}

#[test]
fn a_template_that_is_broken_marks_the_last_packet_and_stops_every_commission_of_its_shop() {
    for (name, bytes, place) in [
        ("cover.md", b"a\nb {{ c }}".as_slice(), "specs/own/cover.md:2:6: "),
        ("cover.md", b"a\nb \xff", "specs/own/cover.md:2:3: not UTF-8"),
        ("cover.md", &[b'x'; 300_000], "specs/own/cover.md: it is larger than 256 kB"),
    ] {
        let shop = shop_with(&[(name, bytes)])
            .with("elsewhere/shop.toml", demo("shop.toml"))
            .with("elsewhere/b.toml", demo(SMALL).replace("T-211", "T-999"));
        let before = shop.files("packets");
        let run = shop.run(&["build", "specs", "elsewhere"]);
        assert_eq!(run.status, 3, "{}", run.err);
        assert_eq!(run.err.matches(&format!("kerfbook: {place}")).count(), 1, "{}", run.err);
        let mark = fs::read_to_string(shop.path("packets/T-211/NOT-CURRENT.txt")).unwrap();
        assert!(mark.contains("specs/own/cover.md is broken") && mark.contains(place), "{mark}");
        let after: Vec<_> = shop
            .files("packets")
            .into_iter()
            .filter(|(name, _)| name.starts_with("T-211") && !name.ends_with("NOT-CURRENT.txt"))
            .collect();
        assert_eq!(before, after, "the last packet stays");
        assert!(shop.path("packets/T-999/packet.pdf").exists(), "another shop's commission goes on");
        let run = shop.run(&["check", "specs/a.toml", "--format", "short"]);
        assert!(run.status == 3 && run.err.contains(place), "{}", run.err);
        fs::remove_dir_all(shop.path("specs/own")).unwrap();
        let run = shop.run(&["check", "specs/a.toml"]);
        assert!(
            run.status == 3 && run.err.contains("specs/shop.toml:") && run.err.contains("there is no folder `own`"),
            "{}",
            run.err
        );
    }
}

#[cfg(unix)]
#[test]
fn nothing_outside_the_folder_is_read() {
    let shop = shop_with(&[("taper.md", b"```table taper\n```\n")]);
    shop.write("secret.md", "SECRET");
    std::os::unix::fs::symlink(shop.path("secret.md"), shop.path("specs/own/cover.md")).unwrap();
    let run = shop.run(&["check", "specs"]);
    assert!(run.status == 3 && run.err.contains("own/cover.md: the link leads out of the folder"), "{}", run.err);
    fs::remove_file(shop.path("specs/own/cover.md")).unwrap();
    std::os::unix::fs::symlink("/dev/zero", shop.path("specs/own/cover.md")).unwrap();
    assert_eq!(shop.run(&["check", "specs"]).status, 3);
    fs::remove_dir_all(shop.path("specs/own")).unwrap();
    std::os::unix::fs::symlink(shop.path(""), shop.path("specs/own")).unwrap();
    let run = shop.run(&["check", "specs"]);
    assert!(run.status == 3 && run.err.contains("leads out of the shop file's folder"), "{}", run.err);
    for path in ["..", "/etc", "a/../..", "C:\\\\x"] {
        shop.write("specs/shop.toml", format!("{}\n[print]\ntemplates = \"{path}\"\n", demo("shop.toml")));
        let run = shop.run(&["check", "specs"]);
        assert!(run.status == 1 && run.out.contains("error[SPEC-06]"), "{path}: {}", run.out);
    }
}
