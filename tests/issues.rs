//! Issues, drafts, reprints: what `issue` keeps, what a build then prints, and what a broken issues file says.

use crate::support::{Run, Shop};

const LIT: &str = include_str!("../src/diag/pages/_lit.toml");

/// The sample commission with one line changed.
fn with(from: &str, to: &str) -> String {
    assert!(LIT.contains(from), "{from}");
    LIT.replace(from, to)
}

fn issue(shop: &Shop, changed: &str, date: &str) -> Run {
    shop.run(&["issue", "a.toml", "--by", "bench one", "--changed", changed, "--date", date])
}

fn json(shop: &Shop, file: &str) -> serde_json::Value {
    let folder = std::fs::read_dir(shop.path("packets")).unwrap().next().unwrap().unwrap().path();
    serde_json::from_slice(&std::fs::read(folder.join(file)).unwrap()).unwrap()
}

/// The stamps of the packet that lies there, by sheet.
fn stamps(shop: &Shop) -> Vec<(String, String)> {
    let manifest = json(shop, "manifest.json");
    let text = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    manifest["sheets"].as_array().unwrap().iter().map(|sheet| (text(&sheet["sheet"]), text(&sheet["stamp"]))).collect()
}

fn radius(inches: &str) -> String {
    with("board = \"356 mm\"", &format!("board = \"{inches}\""))
}

#[test]
fn a_build_that_equals_the_last_issue_prints_its_letter_and_any_other_is_a_draft() {
    let shop = Shop::new().with("a.toml", LIT);
    let build = |expected: &str| {
        let run = shop.run(&["build", "a.toml"]);
        assert_eq!(run.status, 0, "{}", run.err);
        let manifest = json(&shop, "manifest.json");
        assert_eq!(manifest["issue"].as_str().unwrap_or("draft"), expected, "{}", run.out);
        assert_eq!(manifest["date"].is_null(), manifest["issue"].is_null());
        assert_eq!(json(&shop, "packet.json")["issue"], manifest["issue"]);
    };
    build("draft");
    let never = stamps(&shop);
    assert_eq!(issue(&shop, "first issue", "2026-03-02").status, 0);
    build("A");
    assert_eq!(stamps(&shop), never, "neither letter nor date moves a stamp");
    assert_eq!(json(&shop, "manifest.json")["date"], "2026-03-02");
    shop.write("a.toml", radius("10 in"));
    build("draft");
    let draft = stamps(&shop);
    assert!(draft.iter().any(|(sheet, _)| sheet == "changes"));
    assert_eq!(issue(&shop, "radius 10 in", "2026-03-09").status, 0);
    build("B");
    assert_eq!(stamps(&shop), draft, "the draft that was issued bears the stamps of the issue");
    // The same radius in other words is the same value.
    shop.write("a.toml", radius("254 mm"));
    build("B");
    shop.write("a.toml", LIT);
    build("draft");
}

#[test]
fn what_equals_the_last_issue_or_has_errors_is_not_issued() {
    let shop = Shop::new().with("a.toml", LIT);
    assert_eq!(issue(&shop, "first", "2026-03-02").status, 0);
    let file = shop.files(".").into_iter().find(|(name, _)| name == "a.issues.toml").unwrap();
    let again = issue(&shop, "again", "2026-03-03");
    assert_eq!(again.status, 1);
    assert_eq!(again.err, "kerfbook: a.toml: not issued: nothing has changed since issue A of 2026-03-02\n");
    shop.write("a.toml", radius("10 in"));
    assert_eq!(
        issue(&shop, "earlier", "2026-03-01").err,
        "kerfbook: a.toml: not issued: issue A is of 2026-03-02, and 2026-03-01 lies before it\n"
    );
    for (by, changed, date) in [("", "x", "2026-03-09"), ("x", " ", "2026-03-09"), ("x", "y", "2026-02-30")] {
        let run = shop.run(&["issue", "a.toml", "--by", by, "--changed", changed, "--date", date]);
        assert_eq!(run.status, 2, "{}", run.err);
    }
    shop.write("a.toml", with("kerf", "curf"));
    let faulty = issue(&shop, "x", "2026-03-09");
    assert_eq!(faulty.status, 1);
    assert!(faulty.err.contains("error[SPEC-01]"), "{}", faulty.err);
    let now = shop.files(".").into_iter().find(|(name, _)| name == "a.issues.toml").unwrap();
    assert_eq!(file, now, "nothing was written");
}

#[test]
fn an_issue_goes_behind_what_stands_there_and_any_text_comes_back_as_it_was() {
    let shop = Shop::new().with("a.toml", LIT);
    let hostile = "a \"b\" \\ | <b>#\u{1b}[31m\u{202e}\n[[issue]]\tñ ½";
    assert_eq!(issue(&shop, hostile, "2026-03-02").status, 0);
    let first = std::fs::read_to_string(shop.path("a.issues.toml")).unwrap();
    assert!(!first.contains(['\u{1b}', '\u{202e}']), "what steers a terminal is written as an escape");
    let commented = format!("# the customer's first wish\n{first}# he slept over it");
    shop.write("a.issues.toml", &commented);
    shop.write("a.toml", radius("10 in"));
    assert_eq!(issue(&shop, "radius", "2026-03-09").status, 0);
    let second = std::fs::read_to_string(shop.path("a.issues.toml")).unwrap();
    assert!(second.starts_with(&commented), "comments stay, and so does all else");
    // Read by the TOML library itself.
    let parsed = toml::de::DeTable::parse(&second).unwrap();
    let issues = parsed.get_ref()["issue"].as_ref().as_array().unwrap();
    let text = |place: usize, key: &str| {
        let issue = issues.get(place).unwrap().get_ref().as_table().unwrap();
        issue[key].get_ref().as_str().unwrap().to_owned()
    };
    assert_eq!(text(0, "changed"), hostile);
    assert_eq!(text(1, "letter"), "B");
    let build = shop.run(&["build", "a.toml"]);
    assert_eq!(build.status, 0, "{}", build.err);
    let leftovers = shop.files(".").into_iter().filter(|(name, _)| name.ends_with(".new")).count();
    assert_eq!(leftovers, 0);
}

#[test]
fn the_day_is_today_where_none_is_told() {
    let shop = Shop::new().with("a.toml", LIT);
    let run = shop.run(&["issue", "a.toml", "--by", "bench one", "--changed", "first"]);
    assert_eq!(run.status, 0, "{}", run.err);
    assert!(run.out.starts_with("a.toml: issue A of 20"), "{}", run.out);
}

/// An issued commission, its issues file changed by hand, and what `check` says of it.
fn edited(edit: impl Fn(&str) -> String) -> String {
    let shop = Shop::new().with("a.toml", LIT);
    assert_eq!(issue(&shop, "first", "2026-03-02").status, 0);
    shop.write("a.toml", radius("10 in"));
    assert_eq!(issue(&shop, "second", "2026-03-09").status, 0);
    let text = std::fs::read_to_string(shop.path("a.issues.toml")).unwrap();
    shop.write("a.issues.toml", edit(&text));
    let run = shop.run(&["check", "a.toml", "--format", "short", "--verbose"]);
    let before = shop.files(".");
    let build = shop.run(&["build", "a.toml"]);
    assert_eq!((run.status, build.status), (1, 1), "{}", run.out);
    assert_eq!(issue(&shop, "third", "2026-03-10").status, 1);
    assert_eq!(shop.files("."), before, "nothing is written");
    run.out
}

#[test]
fn an_issues_file_that_a_hand_was_in_is_told_at_its_place() {
    let letters = edited(|text| text.replace("letter  = \"B\"", "letter  = \"C\""));
    assert!(
        letters.contains("error ORDER-11: issue 2 of this file bears the letter \"C\": \"B\" is its turn"),
        "{letters}"
    );
    assert!(letters.lines().any(|line| line.starts_with("a.issues.toml:")), "{letters}");
    let twice = edited(|text| text.replace("letter  = \"B\"", "letter  = \"A\""));
    assert!(twice.contains("\"B\" is its turn"), "{twice}");
    let back = edited(|text| text.replace("2026-03-09", "2026-03-01"));
    assert!(back.contains("ORDER-11: issue 2 is of 2026-03-01, before issue A of 2026-03-02"), "{back}");
    let figure = edited(|text| text.replacen("[\"2\", ", "[\"two\", ", 1));
    assert!(figure.contains("give the stamp") && figure.contains("is written"), "{figure}");
    let unknown = edited(|text| text.replacen("by      =", "buy     =", 1));
    assert!(unknown.contains("SPEC-01") && unknown.contains("did you mean `by`?"), "{unknown}");
    let missing = edited(|text| text.replacen("program = ", "# program = ", 1));
    assert!(missing.contains("error SPEC-02: `issue[1].program` is missing"), "{missing}");
    let broken = edited(|text| text.replacen("letter  = \"A\"", "letter  = \"A", 1));
    assert!(broken.contains("SPEC-12"), "{broken}");
    // What is not whole in the third issue says nothing against the tables of the first two.
    let begun = edited(|text| format!("{text}[[issue\n"));
    assert!(begun.contains("SPEC-12: the header `[[issue` is not whole"), "{begun}");
    assert!(
        !begun.contains("twice") && !begun.contains("ORDER-11") && begun.matches(": error ").count() == 1,
        "{begun}"
    );
    let doubled = edited(|text| text.replace("[issue.values]", "[issue.values]\n[issue.values]"));
    assert_eq!(doubled.matches("is there twice").count(), 2, "once in each issue: {doubled}");
    let other = edited(|text| text.replace("of      = [\"", "of      = [\"X"));
    assert!(other.contains("this is an issue of `X") && other.contains("a copy begins without issues"), "{other}");
    let all = edited(|text| text.replace("letter  = \"B\"", "letter  = \"C\"").replacen("by      =", "buy     =", 1));
    assert!(all.contains("ORDER-11") && all.contains("SPEC-01"), "all at once: {all}");
}

#[test]
fn any_bytes_for_an_issues_file_end_in_words() {
    for text in [
        &b"\xff\xfe"[..],
        b"issue = 3",
        b"[[issue]]\n[[issue]]\n",
        b"issue = []\n",
        b"x = 1",
        b"[issue.values]\na = 1\n",
    ] {
        let shop = Shop::new().with("a.toml", LIT).with("a.issues.toml", text);
        let run = shop.run(&["check", "a.toml", "--format", "short"]);
        assert!([0, 1].contains(&run.status), "{text:?}: {}", run.err);
        assert_eq!(
            issue(&shop, "first", "2026-03-02").status == 0,
            run.status == 0 && text != b"issue = []\n",
            "{text:?}"
        );
    }
}

#[test]
fn only_what_moved_is_reprinted_and_a_part_is_never_the_packet() {
    let shop = Shop::new().with("a.toml", LIT);
    let never = shop.run(&["build", "a.toml", "--reprint"]);
    assert!(never.out.contains("not issued yet, so nothing to reprint"), "{}", never.out);
    assert_eq!(issue(&shop, "first", "2026-03-02").status, 0);
    let same = shop.run(&["build", "a.toml", "--reprint"]);
    assert!(same.out.contains("issue A; nothing to reprint"), "{}", same.out);
    let old = stamps(&shop);
    shop.write("a.toml", radius("10 in"));
    let run = shop.run(&["build", "a.toml", "--reprint"]);
    let listed = run.out.split("reprint.pdf: ").nth(1).unwrap().split(';').next().unwrap().trim().to_owned();
    let listed: Vec<&str> = listed.split(", ").collect();
    for (sheet, stamp) in stamps(&shop) {
        assert_eq!(listed.contains(&sheet.as_str()), !old.contains(&(sheet.clone(), stamp)), "{sheet}");
    }
    assert!(listed.contains(&"slot-depth") && !listed.contains(&"fret-table"), "{listed:?}");
    let files = shop.files("packets");
    let size = |name: &str| files.iter().find(|(path, _)| path.ends_with(name)).map(|(_, bytes)| bytes.len());
    assert!(size("/reprint.pdf").unwrap() < size("/packet.pdf").unwrap());
    let whole = shop.run(&["build", "a.toml"]);
    assert_eq!(whole.status, 0);
    assert!(!shop.files("packets").iter().any(|(path, _)| path.ends_with("reprint.pdf")), "it would be stale");
}

#[test]
fn another_edition_that_moves_a_figure_makes_a_draft_and_says_which() {
    let shop = Shop::new().with("a.toml", LIT);
    assert_eq!(issue(&shop, "first", "2026-03-02").status, 0);
    // What another edition would have written: one figure, and the stamps over it.
    let text = std::fs::read_to_string(shop.path("a.issues.toml")).unwrap();
    let old = edition_of(&text);
    shop.write("a.issues.toml", old);
    let run = shop.run(&["build", "a.toml"]);
    assert_eq!(run.status, 0, "{}", run.err);
    assert!(run.out.contains("DRAFT after A"), "{}", run.out);
    assert!(run.err.contains("warning[ORDER-10]") && run.err.contains("slot-depth (kerf: 9.99, now "), "{}", run.err);
    assert!(run.err.contains("issue A was worked out by kerfbook 0.0.9, this is kerfbook"), "{}", run.err);
    assert!(json(&shop, "manifest.json")["issue"].is_null());
    assert_eq!(issue(&shop, "the new edition's figures are right", "2026-03-09").status, 0);
    let again = shop.run(&["build", "a.toml"]);
    assert!(again.out.contains("issue B") && !again.err.contains("ORDER-10"), "{}", again.out);
}

/// The issues file as an edition would have written it that prints another kerf on the slot depth.
fn edition_of(text: &str) -> String {
    use kerfbook::source::{SourceFile, Sources};
    use kerfbook::spec::issues;
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("a", text));
    let mut issue = issues::read_issues(&sources, file, None, &mut kerfbook::diag::Report::default()).remove(0);
    issue.program = "kerfbook 0.0.9".to_owned();
    let identity = issue.state.identity.clone();
    for sheet in issue.state.sheets.iter_mut().filter(|sheet| sheet.sheet == "slot-depth") {
        let row = sheet.printed[0].rows.iter_mut().find(|row| row[0] == "kerf").unwrap();
        row[1] = "9.99".to_owned();
        sheet.stamp = identity.stamp_of(&sheet.sheet, &sheet.printed).to_string();
    }
    let stamps = issue.state.sheets.iter().map(|sheet| (sheet.sheet.as_str(), sheet.stamp.as_str()));
    issue.stamp = identity.stamp_of_packet(stamps).to_string();
    issues::with_issue("", &[], &issue)
}

/// A commission with two issues and a change after them.
fn with_two_issues_and_a_draft() -> Shop {
    let shop = Shop::new().with("a.toml", LIT);
    assert_eq!(issue(&shop, "first", "2026-03-02").status, 0);
    shop.write("a.toml", radius("10 in"));
    assert_eq!(issue(&shop, "second", "2026-03-09").status, 0);
    shop.write("a.toml", radius("11 in"));
    shop
}

/// The stamp of a sheet in a state, by what `compare` tells scripts.
fn compared(shop: &Shop, old: &str, new: &str) -> serde_json::Value {
    let run = shop.run(&["compare", old, new, "--format", "json"]);
    assert!(run.err.is_empty(), "{}", run.err);
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    assert_eq!(run.status, i32::from(value["same"] != true));
    value
}

fn sheet<'v>(compared: &'v serde_json::Value, name: &str) -> &'v serde_json::Value {
    compared["sheets"].as_array().unwrap().iter().find(|sheet| sheet["sheet"] == name).unwrap()
}

#[test]
fn compare_tells_what_moved_and_which_prints_go() {
    let shop = with_two_issues_and_a_draft();
    let changed = compared(&shop, "a.toml@A", "a.toml@B");
    assert_eq!(changed["values"].as_array().unwrap().len(), 1);
    assert_eq!(changed["values"][0], serde_json::json!({ "key": "radius.board", "was": "356 mm", "is": "254 mm" }));
    assert_eq!(sheet(&changed, "slot-depth")["fate"], "bin");
    assert!(!sheet(&changed, "slot-depth")["figures"].as_array().unwrap().is_empty());
    assert_eq!(sheet(&changed, "fret-table")["fate"], "keep");
    assert_eq!(sheet(&changed, "wiring")["fate"], "keep");
    assert_eq!(compared(&shop, "a.toml@B", "a.toml@B")["same"], true);
    shop.write("first.toml", LIT);
    assert_eq!(compared(&shop, "a.toml@A", "first.toml")["same"], true);
    let text = shop.run(&["compare", "a.toml@A", "a.toml@B"]).out;
    assert!(
        text.starts_with("radius.board: 356 mm, now 254 mm\n\nBIN\n") && text.contains("\nKEEP\n  fret-table"),
        "{text}"
    );
    assert!(!shop.path("packets").exists(), "it needs no packet and makes none");
    let number = LIT.lines().find(|line| line.starts_with("number")).unwrap();
    shop.write("other.toml", LIT.replace(number, "number = \"X-1\""));
    let other = shop.run(&["compare", "a.toml", "other.toml"]);
    assert!(other.status == 2 && other.err.contains("are two commissions"), "{}", other.err);
    assert_eq!(shop.run(&["compare", "a.toml", "a.toml@C"]).status, 2);
}

/// Runs git in a shop, with a name of its own.
fn git(shop: &Shop, arguments: &[&str]) -> bool {
    let identity = ["-c", "user.name=demo", "-c", "user.email=demo@example.invalid", "-c", "init.defaultBranch=main"];
    let run = std::process::Command::new("git").args(identity).args(arguments).current_dir(shop.path(".")).output();
    run.is_ok_and(|output| output.status.success())
}

#[test]
fn compare_reads_a_revision_with_its_shop_file_and_its_issues() {
    let shop = Shop::new().with("specs/a.toml", LIT).with("shop.toml", "[epoxy]\npour_depth = \"5 mm\"\n");
    if !git(&shop, &["init", "-q"]) {
        return;
    }
    assert!(git(&shop, &["add", "-A"]) && git(&shop, &["commit", "-qm", "one"]));
    shop.write("shop.toml", "[epoxy]\npour_depth = \"6 mm\"\n");
    let changed = compared(&shop, "specs/a.toml@HEAD", "specs/a.toml");
    assert_eq!(changed["values"][0]["key"], "epoxy.pour_depth", "the shop file is the one of that revision: {changed}");
    assert_eq!(changed["values"].as_array().unwrap().len(), 1);
    for (revision, said) in [
        ("nowhere", "neither an issue nor a revision has this name"),
        ("B", "neither an issue nor a revision has this name"),
        ("--output=x", "that is neither the letter of an issue nor the name of a revision"),
        ("-p", "that is neither the letter of an issue nor the name of a revision"),
        ("HEAD:shop.toml", "that is neither the letter of an issue nor the name of a revision"),
        ("$(touch x)", "that is neither the letter of an issue nor the name of a revision"),
        ("", "that is neither the letter of an issue nor the name of a revision"),
    ] {
        let run = shop.run(&["compare", &format!("specs/a.toml@{revision}"), "specs/a.toml"]);
        assert_eq!((run.status, run.err), (2, format!("kerfbook: specs/a.toml@{revision}: {said}\n")));
    }
    shop.write("specs/b.toml", LIT);
    let missing = shop.run(&["compare", "specs/b.toml@HEAD", "specs/b.toml"]);
    assert_eq!(missing.err, "kerfbook: specs/b.toml@HEAD: that revision has no such file\n");
    assert_eq!(missing.status, 2);
    // A state with errors is told with its findings, at the revision's own lines.
    shop.write("specs/a.toml", LIT.replacen("[scale]", "[scael]", 1));
    assert!(git(&shop, &["add", "-A"]) && git(&shop, &["commit", "-qm", "two"]));
    shop.write("specs/a.toml", LIT);
    let faulty = shop.run(&["compare", "specs/a.toml@HEAD", "specs/a.toml"]);
    assert_eq!((faulty.status, faulty.out.as_str()), (1, ""));
    assert!(faulty.err.contains("error[") && faulty.err.contains("specs/a.toml@HEAD:"), "{}", faulty.err);
    assert!(!shop.path("x").exists() && !shop.path("specs/x").exists());
}

#[test]
fn stamp_tells_whether_a_print_is_good_and_since_when() {
    let shop = with_two_issues_and_a_draft();
    let first = compared(&shop, "a.toml@A", "a.toml@B");
    let code = |name: &str, side: &str| sheet(&first, name)[side].as_str().unwrap().to_owned();
    let current = shop.run(&["stamp", &code("fret-table", "is"), "a.toml"]);
    assert_eq!(current.status, 0, "{}", current.err);
    assert!(current.out.ends_with(": current, since issue A of 2026-03-02\n"), "{}", current.out);
    let old = shop.run(&["stamp", &code("slot-depth", "was"), "."]);
    assert_eq!(old.status, 1);
    assert!(old.out.contains("NOT CURRENT: good up to issue A of 2026-03-02\ninto the bin"), "{}", old.out);
    assert!(old.out.contains("set the blade to: "), "it says what differs: {}", old.out);
    let issued = shop.run(&["stamp", &code("slot-depth", "is"), "a.toml"]);
    assert!(
        issued.status == 1 && issued.out.contains("good for the last issue, but DRAFT after B differs"),
        "{}",
        issued.out
    );
    // Typed as one types in a shop: small letters, without gaps, in groups that the shell has torn apart.
    let table = code("fret-table", "is");
    let groups: Vec<&str> = table.split(' ').collect();
    let joined = groups.concat().to_lowercase();
    for arguments in [vec!["stamp", &joined, "a.toml"], vec!["stamp", groups[0], groups[1], groups[2], "a.toml"]] {
        assert_eq!(shop.run(&arguments).out, current.out, "{arguments:?}");
    }
    let mut wrong: Vec<char> = table.chars().collect();
    wrong[2] = if wrong[2] == 'Z' { 'Y' } else { 'Z' };
    let run = shop.run(&["stamp", &wrong.iter().collect::<String>(), "a.toml"]);
    assert_eq!(run.status, 2);
    assert!(
        run.err.contains("the last sign does not fit") && run.err.contains(&format!("did you mean {table} (")),
        "{}",
        run.err
    );
    let foreign = kerfbook::stamp::Stamp::over("another commission");
    let run = shop.run(&["stamp", foreign.as_str(), "a.toml"]);
    assert!(run.status == 1 && run.out.contains("UNKNOWN: no sheet of these commissions"), "{}", run.out);
    assert!(run.out.contains("ask the builder before you cut from it"), "{}", run.out);
    assert_eq!(shop.run(&["stamp", "7K3M"]).status, 2);
    // Nobody is told to throw a good print away because its commission cannot be read just now.
    shop.write("a.toml", "[commission]\nnumber = 7\n");
    let run = shop.run(&["stamp", &table, "a.toml"]);
    assert_eq!(run.status, 1);
    assert!(run.err.contains("has errors: its stamps cannot be told"), "{}", run.err);
    assert!(run.out.contains("UNKNOWN: it may be of a commission that has errors"), "{}", run.out);
    let run = shop.run(&["stamp", &table, "nowhere.toml"]);
    assert!(run.status == 3 && run.out.contains("UNKNOWN: it may be"), "{}", run.out);
}

#[test]
fn an_issue_that_is_not_there_is_told_with_those_that_are() {
    let shop = with_two_issues_and_a_draft();
    for name in ["Z", "b", "HEAD"] {
        let run = shop.run(&["compare", &format!("a.toml@{name}"), "a.toml"]);
        assert_eq!(run.status, 2, "{}", run.err);
        let said = format!("kerfbook: a.toml@{name}: no issue has this name, and the folder is in no git repository\n");
        assert_eq!(run.err, format!("{said}  help: the issues of this commission: A, B\n"));
    }
}
