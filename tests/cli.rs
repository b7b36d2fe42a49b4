//! The program from outside: what it says, where it says it, and with which exit status it ends.

use crate::support::Shop;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");

#[test]
fn help_shows_the_commands_with_examples() {
    let run = Shop::new().run(&["--help"]);
    assert_eq!(run.status, 0);
    insta::assert_snapshot!(run.out);
}

#[test]
fn every_command_has_help_with_examples() {
    for command in ["check", "build", "sheet", "issue", "compare", "stamp", "watch", "explain", "catalog", "templates"]
    {
        let run = Shop::new().run(&[command, "--help"]);
        assert_eq!(run.status, 0, "{command}");
        assert!(run.out.contains(&format!("Examples:\n  kerfbook {command}")), "{command}: {}", run.out);
        assert!(run.err.is_empty(), "{command}: {}", run.err);
    }
}

#[test]
fn a_wrong_command_line_is_a_problem_of_its_own() {
    for arguments in [
        &[][..],
        &["bild", "specs"],
        &["build"],
        &["build", "x.toml", "--paper", "a3"],
        &["build", "x.toml", "--only", "fret-tabel"],
        &["sheet", "x.toml", "fret-tabel"],
        &["check", "x.toml", "--format", "xml"],
        &["explain"],
        &["explain", "CHAN-99"],
        &["catalog", "wods"],
        &["templates"],
        &["templates", "--list", "--force"],
        &["templates", "--list", "--write", "x"],
    ] {
        let run = Shop::new().run(arguments);
        assert_eq!(run.status, 2, "{arguments:?}: {}", run.err);
        assert!(run.out.is_empty() && !run.err.is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_misspelt_name_gets_the_nearest() {
    let shop = Shop::new();
    let said = |arguments: &[&str]| shop.run(arguments).err;
    assert_eq!(said(&["explain", "chan-1"]), "kerfbook: there is no code `chan-1`; did you mean CHAN-01?\n");
    assert_eq!(said(&["catalog", "wods"]), "kerfbook: there is no table `wods`; did you mean `woods`?\n");
    assert_eq!(
        said(&["build", "x.toml", "--only", "taper,wireing"]),
        "kerfbook: there is no sheet `wireing`; did you mean `wiring`?\n"
    );
}

#[test]
fn a_file_that_is_not_there_is_named() {
    let shop = Shop::new();
    for command in
        [&["check", "specs/K-1.toml"][..], &["build", "specs/K-1.toml"], &["sheet", "specs/K-1.toml", "taper"]]
    {
        let run = shop.run(command);
        assert_eq!(run.status, 3, "{command:?}");
        assert_eq!(run.err, "kerfbook: specs/K-1.toml: cannot be read: there is no such file or folder\n");
    }
    assert!(shop.files(".").is_empty(), "and nothing is written");
}

#[test]
fn a_folder_without_commissions_is_named() {
    let shop = Shop::new().with("specs/shop.toml", "").with("specs/notes.toml", "title = \"none\"\n");
    let run = shop.run(&["build", "specs"]);
    assert_eq!(run.status, 2);
    assert!(run.err.starts_with("kerfbook: specs: no commission below this folder\n"), "{}", run.err);
    assert!(!shop.path("packets").exists());
}

#[test]
fn a_file_that_is_not_text_is_an_error_at_its_place() {
    let shop = Shop::new().with("a.toml", b"[commission]\ntitle = \"caf\xe9\"\n");
    let run = shop.run(&["check", "a.toml", "--format", "short"]);
    assert_eq!(run.status, 1);
    assert_eq!(run.out, "a.toml:2:13: error SPEC-12: not UTF-8 text from here on\n");
}

#[test]
fn an_empty_file_is_an_error_and_not_a_packet() {
    let shop = Shop::new().with("a.toml", "");
    assert_eq!(shop.run(&["check", "a.toml"]).status, 1);
    let run = shop.run(&["build", "a.toml"]);
    assert_eq!(run.status, 1);
    assert!(run.out.starts_with("a.toml: not built: "), "{}", run.out);
    assert!(!shop.path("packets").exists());
}

#[test]
fn findings_are_results_of_check_and_problems_of_build() {
    let shop = Shop::new().with("a.toml", "[commission]\nnumber = 7\n");
    let check = shop.run(&["check", "a.toml"]);
    assert!(check.out.contains("error[SPEC-") && check.err.is_empty());
    let build = shop.run(&["build", "a.toml"]);
    assert!(build.err.contains("error[SPEC-") && !build.out.contains("error["));
}

#[test]
fn json_is_one_array_over_all_commissions() {
    let text = "[commission]\nnumber = 7\ntytle = \"x\"\n";
    let shop = Shop::new().with("specs/a.toml", text).with("specs/deep/b.toml", text);
    let run = shop.run(&["check", "specs", "--format", "json"]);
    assert_eq!(run.status, 1);
    let value: serde_json::Value = serde_json::from_str(&run.out).unwrap();
    let array = value.as_array().unwrap();
    for file in ["specs/a.toml", "specs/deep/b.toml"] {
        assert!(array.iter().any(|finding| finding["file"] == file), "{file}");
    }
    for finding in array {
        for field in ["file", "severity", "code", "message", "help", "place"] {
            assert!(finding[field].is_string(), "{field} of {finding}");
        }
        for field in ["line", "column", "end_line", "end_column"] {
            assert!(finding[field].as_u64().is_some_and(|number| number > 0), "{field} of {finding}");
        }
        assert!(finding["related"].is_array());
    }
}

#[test]
fn a_number_used_twice_stops_both() {
    let text = "[commission]\nnumber = \"K-1\"\ntitle = \"x\"\n";
    let shop = Shop::new().with("specs/a.toml", text).with("specs/b.toml", text);
    let run = shop.run(&["check", "specs", "--format", "short"]);
    assert!(
        run.out.contains(
            "specs/b.toml:2:10: error SPEC-13: commission.number = `K-1` is also the number of specs/a.toml\n"
        ),
        "{}",
        run.out
    );
    assert_eq!(run.out.matches("SPEC-13").count(), 1, "one mistake, one finding");
    let build = shop.run(&["build", "specs"]);
    assert_eq!(build.status, 1);
    assert!(build.out.contains("specs/a.toml: not built: its number is also claimed by specs/b.toml"), "{}", build.out);
    assert!(!shop.path("packets").exists());
}

#[test]
fn a_packet_is_marked_when_its_commission_has_lost_its_number() {
    let shop = Shop::new().with("specs/a.toml", PLAIN).with("specs/b.toml", PLAIN.replace("S-1", "S-2"));
    assert_eq!(shop.run(&["build", "specs"]).status, 0);
    let number = PLAIN.lines().find(|line| line.starts_with("number")).unwrap();
    let shop = shop.with("specs/a.toml", PLAIN.replace(number, "number = \"S-1"));
    let run = shop.run(&["build", "specs"]);
    assert_eq!(run.status, 1);
    assert!(shop.path("packets/S-1/NOT-CURRENT.txt").exists(), "{}\n{}", run.out, run.err);
    assert!(!shop.path("packets/S-2/NOT-CURRENT.txt").exists());
    assert!(run.out.contains("S-1 keeps its last packet, marked NOT-CURRENT.txt"), "{}", run.out);
    // A commission that never had a packet marks none.
    let other = shop.with("specs/c.toml", PLAIN.replace(number, "number = 3"));
    let run = other.run(&["build", "specs/c.toml"]);
    assert!(run.err.contains("none could be marked as not current"), "{}", run.err);
    assert!(!other.path("packets/S-2/NOT-CURRENT.txt").exists());
}

#[test]
fn a_commission_cannot_steer_the_terminal() {
    let text = "[commission]\nnumber = \"\\u001b[2J\"\ntitle = \"\\u001b]0;x\\u0007\"\n\"\\u001b[31m\" = 1\n";
    let shop = Shop::new().with("a.toml", text);
    for format in ["human", "short", "json"] {
        let run = shop.run(&["check", "a.toml", "--format", format, "--verbose"]);
        assert_eq!(run.status, 1);
        assert!(!run.out.contains(['\u{1b}', '\u{7}']), "{format}: {:?}", run.out);
    }
    let run = shop.run(&["build", "a.toml"]);
    assert!(!run.err.contains(['\u{1b}', '\u{7}']) && !run.out.contains('\u{1b}'));
}

#[test]
fn every_code_is_listed_and_explained() {
    let shop = Shop::new();
    let list = shop.run(&["explain", "--all"]);
    assert_eq!(list.status, 0);
    for row in kerfbook::diag::codes::CODES {
        assert!(list.out.lines().any(|line| line.starts_with(row.code.as_str())), "{}", row.code);
    }
    let page = shop.run(&["explain", "chan-01"]);
    assert_eq!((page.status, page.out.lines().next()), (0, Some("# CHAN-01: wood between slot and channel")));
}

#[test]
fn every_table_of_the_catalogue_is_shown_with_its_sources() {
    let shop = Shop::new();
    let contents = shop.run(&["catalog"]).out;
    for table in kerfbook::catalog::tables() {
        assert!(contents.lines().any(|line| line.starts_with(table.name)), "{}", table.name);
        let run = shop.run(&["catalog", table.name]);
        assert_eq!(run.status, 0, "{}", table.name);
        for source in &table.sources {
            assert!(run.out.contains(source), "{}", table.name);
        }
        let csv = shop.run(&["catalog", table.name, "--format", "csv"]).out;
        assert_eq!(csv.lines().count(), table.rows.len() + 1, "{}", table.name);
        let json = shop.run(&["catalog", table.name, "--format", "json"]).out;
        let rows: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert_eq!(rows.as_array().unwrap().len(), table.rows.len(), "{}", table.name);
    }
    insta::assert_snapshot!(shop.run(&["catalog", "papers"]).out, @r"
    papers that packets are printed on, upright

    paper   width_mm  height_mm
    a4           210        297
    letter     215.9      279.4

    source: a4: ISO 216:2007
    source: letter: ANSI/ASME Y14.1, size A
    ");
}
