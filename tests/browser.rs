//! `packet.html` in a real browser, where one is found; passed over with a line to say so where none is.
//!
//! `KERFBOOK_BROWSER` names a program that knows the switches below; then a browser that does not answer fails the test.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::html::{file, packet};

const COMMISSION: &str = include_str!("../specs/T-204-lantern-street.toml");
const PROGRAMS: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "chrome"];
/// Starting a browser takes a second; a machine at work on other things takes longer.
const PATIENCE: Duration = Duration::from_secs(90);

/// Types into the page as a hand at the bench would, and leaves what came of it in the page.
const HAND: &str = r##"
const sheets = [...document.querySelectorAll("#slot-depth .sign, #sign-off .sign")].filter(f => f.dataset.step === "slots");
const boxes = [...sheets[0].querySelectorAll("[data-key]")];
function type(box, text) { box.value = text; box.dispatchEvent(new Event("input", { bubbles: true })); }
const lines = [], at = () => lines.push(sheets.map(f => f.querySelector("code").textContent));
at();
type(boxes[0], boxes[0].dataset.low);
at();
type(boxes[1], " 1000 mm ");
type(sheets[1].querySelector("[data-by]"), "O'Hara; rm");
at();
const verdicts = boxes.slice(0, 2).map(box => box.parentNode.querySelector(".verdict").textContent);
for (const text of [boxes[0].dataset.low.replace(".", ","), "1,000.5", "near enough"]) {
  type(boxes[1], text);
  verdicts.push(boxes[1].parentNode.querySelector(".verdict").textContent);
  at();
}
const tick = document.querySelector("#sign-off input[type=checkbox][data-key]");
tick.click();
const dark = document.getElementById("light");
const before = getComputedStyle(document.body).backgroundColor;
dark.click();
const told = {
  lines, keys: boxes.map(box => box.dataset.key), low: boxes[0].dataset.low, unit: boxes[0].dataset.unit,
  verdicts,
  tick: tick.closest(".sign").querySelector("code").textContent,
  turned: before !== getComputedStyle(document.body).backgroundColor,
  wide: document.documentElement.scrollWidth > document.documentElement.clientWidth,
};
const out = document.createElement("pre");
out.id = "told";
out.textContent = btoa(unescape(encodeURIComponent(JSON.stringify(told))));
document.body.append(out);
"##;

/// The browser, and whether somebody asked for it by name.
fn browser() -> Option<(PathBuf, bool)> {
    if let Some(asked) = std::env::var_os("KERFBOOK_BROWSER") {
        return Some((asked.into(), true));
    }
    let folders = std::env::var_os("PATH")?;
    let found = std::env::split_paths(&folders)
        .flat_map(|folder| PROGRAMS.map(|name| folder.join(name)))
        .find(|path| path.is_file())?;
    Some((found, false))
}

/// The page as it stands once its script has run.
fn shown(browser: &Path, folder: &Path, page: &Path) -> Option<String> {
    let out = folder.join("out.html");
    let mut child = Command::new(browser)
        .args(["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-extensions", "--dump-dom"])
        .arg(format!("--user-data-dir={}", folder.join("profile").display()))
        .arg(format!("file://{}", page.display()))
        .stdout(std::fs::File::create(&out).ok()?)
        .stderr(Stdio::null())
        .spawn()
        .ok()?;
    let start = Instant::now();
    while child.try_wait().ok()?.is_none() {
        if start.elapsed() > PATIENCE {
            let _ = child.kill();
            let _ = child.wait();
            return None;
        }
        std::thread::sleep(Duration::from_millis(50));
    }
    std::fs::read_to_string(&out).ok().filter(|html| html.contains("</html>"))
}

#[test]
#[expect(clippy::print_stdout, reason = "a test that is passed over says so")]
fn the_page_works_in_a_browser() {
    let Some((browser, asked)) = browser() else {
        println!("passed over: no browser found; KERFBOOK_BROWSER may name one");
        return;
    };
    let files = packet(COMMISSION);
    let html = file(&files, "packet.html");
    let folder = tempfile::tempdir().unwrap();
    let page = folder.path().join("packet.html");
    std::fs::write(&page, html).unwrap();
    let Some(plain) = shown(&browser, folder.path(), &page) else {
        assert!(!asked, "{} does not answer", browser.display());
        println!("passed over: {} does not answer", browser.display());
        return;
    };
    // The button is shown by the script alone: its digest in the policy is right.
    let button = plain.split("<button type=\"button\" id=\"light\"").nth(1).unwrap().split('>').next().unwrap();
    assert!(!button.contains("hidden"), "the script was not let in");

    let policy = html.split("<meta http-equiv=\"Content-Security-Policy\"").nth(1).unwrap().split('>').next().unwrap();
    let policy = format!("<meta http-equiv=\"Content-Security-Policy\"{policy}>");
    let by_hand = html.replace(&policy, "").replace("</body>", &format!("<script>{HAND}</script></body>"));
    std::fs::write(&page, by_hand).unwrap();
    let answer = shown(&browser, folder.path(), &page).expect("it answered before");
    let told = answer.split("<pre id=\"told\">").nth(1).expect("the hand's script ran").split('<').next().unwrap();
    let told: serde_json::Value = serde_json::from_slice(&decoded(told)).unwrap();
    let text = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    let (low, unit) = (text(&told["low"]), text(&told["unit"]));
    let key = |index: usize| text(&told["keys"][index]);
    let start = "kerfbook sign T-204.toml slots";
    for sheet in 0..2 {
        let line = |moment: usize| text(&told["lines"][moment][sheet]);
        assert_eq!(line(0), start);
        assert_eq!(line(1), format!("{start} --by NAME --measured '{}={low} {unit}'", key(0)));
        let end = format!("--measured '{}={low} {unit}' --measured '{}=1000 mm'", key(0), key(1));
        assert_eq!(line(2), format!("{start} --by 'O'\\''Hara; rm' {end}"));
        // A decimal comma is a point; what is no figure stays as it was typed.
        assert!(line(3).ends_with(&format!("'{}={low} {unit}'", key(1))), "{}", line(3));
        assert!(line(4).ends_with(&format!("'{}=1,000.5'", key(1))), "{}", line(4));
    }
    assert_eq!(told["verdicts"][2], "within");
    for index in 3..5 {
        assert_eq!(told["verdicts"][index], format!("not judged: type a figure in {unit}"));
    }
    assert_eq!(told["verdicts"][0], "within");
    assert!(text(&told["verdicts"][1]).starts_with("OUTSIDE"));
    assert!(text(&told["tick"]).ends_with("=ok"), "{}", told["tick"]);
    assert_eq!(told["turned"], true, "dark is not dark");
    assert_eq!(told["wide"], false, "the page runs over the screen's edge");
}

/// Base 64 (RFC 4648, section 4).
fn decoded(text: &str) -> Vec<u8> {
    const SIGNS: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let (mut bits, mut held, mut out) = (0_u32, 0, Vec::new());
    for sign in text.trim_end_matches('=').chars() {
        bits = bits << 6 | u32::try_from(SIGNS.find(sign).unwrap()).unwrap();
        held += 6;
        if held >= 8 {
            held -= 8;
            out.push(u8::try_from(bits >> held & 0xff).unwrap());
        }
    }
    out
}
