//! The bench sheet in a browser. These need Chromium (`RESTBITE_CHROMIUM` names another than
//! `chromium`), so they are asked for: `cargo test --test browser -- --ignored`.
//! With `RESTBITE_AXE=path/to/axe.min.js` axe-core looks over the sheet as well.

mod client;
#[path = "../common/mod.rs"]
mod common;

use client::{Browser, url};
use serde_json::{Value, json};
use std::path::PathBuf;

const FERN: &str = "data-demo/fern-pin.toml";
const WICKED: &str = "<script>alert(1)</script><img src=x onerror=a()>\"'&]]>";

/// A sheet in a folder of its own.
struct Sheet {
    _folder: tempfile::TempDir,
    file: PathBuf,
}

fn sheet(job: &str, sets: &[&str], code: i32) -> Sheet {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let mut args = vec!["plan", job, "--draws", "100", "--out", out];
    args.extend(sets.iter().flat_map(|set| ["--set", set]));
    common::answer(&args, code);
    let file = folder.path().join("sheet.html");
    Sheet { _folder: folder, file }
}

/// One of each kind: cells, a supply, an adapter, a job that cannot be done, a refused one,
/// rests, many cells and many looks, a wicked title.
fn all() -> Vec<(&'static str, Sheet)> {
    let wicked = format!("title={}", toml::Value::from(WICKED));
    let long = format!("title={}", "fern".repeat(60));
    let many = ["source.series=12", "source.parallel=6", "bath.gap=45 mm", "source.cell=HR20"];
    vec![
        ("fern pin", sheet(FERN, &[], 0)),
        ("moon dial", sheet("data-demo/moon-dial.toml", &[], 0)),
        ("sundial", sheet("data-demo/sundial.toml", &[], 0)),
        ("out of time", sheet(FERN, &["limits.time=2 min"], 1)),
        ("hot", sheet(FERN, &["limits.cell_temperature=22 degC"], 1)),
        ("rested", sheet(FERN, &["limits.cell_temperature=23 degC", "limits.time=4 h"], 1)),
        ("refused", sheet(FERN, &["bath.electrolyte=brine"], 1)),
        ("many cells", sheet(FERN, &many, 0)),
        ("wicked", sheet(FERN, &[&wicked], 0)),
        ("long", sheet(FERN, &[&long], 0)),
    ]
}

#[test]
#[ignore = "needs Chromium"]
fn it_fits_the_screen_and_asks_for_nothing() {
    let mut browser = Browser::start();
    for (name, sheet) in all() {
        for width in [360, 1200] {
            browser.width(width);
            browser.open(&sheet.file);
            browser.eval("document.querySelectorAll('details').forEach(d => d.open = true)");
            let wide = browser.eval(
                "(() => { const e = document.documentElement;
                   return [e.scrollWidth, e.clientWidth, window.innerWidth]; })()",
            );
            assert!(wide[0].as_f64() <= wide[1].as_f64(), "{name} at {width}: {wide}");
            assert_eq!(wide[2].as_f64(), Some(f64::from(width)), "{name}");
            let asked = browser.requests();
            let own = url(&sheet.file);
            assert!(asked.iter().all(|a| *a == own || a.starts_with("data:")), "{asked:?}");
            assert!(asked.contains(&own));
            assert_eq!(browser.faults(), Vec::<String>::new(), "{name} at {width}");
        }
    }
}

#[test]
#[ignore = "needs Chromium"]
fn it_prints_on_two_pages_at_most() {
    let mut browser = Browser::start();
    let at = |job: &str, sets: &[&str], code| (format!("{job} {sets:?}"), sheet(job, sets, code));
    for (name, sheet) in [
        at(FERN, &[], 0),
        at("data-demo/moon-dial.toml", &[], 0),
        at("data-demo/sundial.toml", &[], 0),
        at(FERN, &["limits.time=2 min"], 1),
    ] {
        browser.open(&sheet.file);
        // A4 (ISO 216) and Letter (ANSI Y14.1), in inches.
        for (paper, width, height) in [("A4", 8.27, 11.69), ("Letter", 8.5, 11.0)] {
            let params = json!({ "paperWidth": width, "paperHeight": height });
            let pdf = browser.call("Page.printToPDF", params);
            let bytes = base64(pdf["data"].as_str().unwrap());
            let pages = pages(&bytes);
            assert!((1..=2).contains(&pages), "{name} on {paper}: {pages} pages");
        }
    }
}

/// Pages of a PDF whose page objects stand uncompressed, as Chromium writes them.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    text.split("/Type /Page").skip(1).filter(|rest| !rest.starts_with('s')).count()
}

/// RFC 4648, section 4.
fn base64(text: &str) -> Vec<u8> {
    const SIGNS: &[u8] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let values = text.bytes().filter_map(|b| SIGNS.iter().position(|s| *s == b));
    let (mut bits, mut held, mut out) = (0_u32, 0, Vec::new());
    for value in values {
        bits = bits << 6 | value as u32;
        held += 6;
        if held >= 8 {
            held -= 8;
            out.push((bits >> held & 0xff) as u8);
        }
    }
    out
}

#[test]
#[ignore = "needs Chromium"]
fn what_is_ticked_and_written_stays() {
    let (one, other) = (sheet(FERN, &[], 0), sheet(FERN, &["piece.depth=0.3 mm"], 0));
    let mut browser = Browser::start();
    browser.width(360);
    browser.open(&one.file);
    browser.eval("document.getElementById('look-1').click()");
    browser.eval("document.getElementById('step-2').closest('label').click()");
    browser.eval(
        "(() => { const f = document.getElementById('found-1'); f.value = '0.29 mm';
           f.dispatchEvent(new Event('input', { bubbles: true })); })()",
    );
    browser.reload();
    let kept = "[...document.querySelectorAll('input')]
        .filter(i => i.checked || i.type === 'text' && i.value).map(i => i.id)";
    assert_eq!(browser.eval(kept), json!(["step-2", "look-1", "found-1"]));
    assert_eq!(browser.eval("document.getElementById('found-1').value"), "0.29 mm");
    browser.open(&other.file);
    assert_eq!(browser.eval(kept), json!([]), "another job's sheet");
}

#[test]
#[ignore = "needs Chromium"]
fn without_storage_it_works_all_the_same() {
    let one = sheet(FERN, &[], 0);
    let mut browser = Browser::start();
    let source =
        "Object.defineProperty(window, 'localStorage', { get() { throw new Error('no'); } });
                  delete window.AudioContext; delete Navigator.prototype.vibrate;";
    browser.call("Page.addScriptToEvaluateOnNewDocument", json!({ "source": source }));
    browser.open(&one.file);
    browser.eval("document.getElementById('look-1').click()");
    browser.eval("document.getElementById('switch').click()");
    browser.until("document.getElementById('switch').textContent === 'Current off'");
    assert_eq!(browser.eval("document.getElementById('look-1').checked"), true);
    assert_eq!(browser.faults(), Vec::<String>::new());
}

/// Lets a test put the page's clock forward.
const SKEW: &str =
    "{ const real = Date.now; window.skew = 0; Date.now = () => real() + window.skew; }";

#[test]
#[ignore = "needs Chromium"]
fn the_clock_counts_and_calls_for_looks() {
    let one = sheet(FERN, &[], 0);
    let mut browser = Browser::start();
    browser.call("Page.addScriptToEvaluateOnNewDocument", json!({ "source": SKEW }));
    browser.open(&one.file);
    let looks =
        browser.eval("[...document.querySelectorAll('tr[data-at]')].map(r => +r.dataset.at)");
    let looks: Vec<f64> = looks.as_array().unwrap().iter().filter_map(Value::as_f64).collect();
    assert!(looks.len() >= 2, "{looks:?}");
    let (first, last) = (looks[0], looks[looks.len() - 1]);
    let minute = (first / 60.0).floor();
    let next = |b: &mut Browser| b.eval("document.getElementById('next').textContent");
    assert!(next(&mut browser).as_str().unwrap().starts_with(&format!("Next look at {minute}")));
    browser.eval("document.getElementById('switch').click()");
    browser.until("document.getElementById('run').textContent !== '0:00'");
    browser.eval(&format!("window.skew += {} * 1000", first - 30.0));
    let before =
        format!("/ {}:/.test(' ' + document.getElementById('run').textContent)", minute - 1.0);
    browser.until(&before);
    assert_eq!(browser.eval("document.getElementById('ring').textContent"), "");
    browser.eval("window.skew += 31000");
    browser.until("document.getElementById('ring').textContent.startsWith('Look now')");
    browser.until("document.title.startsWith('! Look now')");
    assert_eq!(
        browser.eval("document.querySelector('tr.due th').textContent.slice(0, 2)"),
        json!(minute.to_string())
    );
    // Off: time stands still, also over a reload.
    browser.eval("document.getElementById('switch').click()");
    browser.eval("window.skew += 600000");
    let shown = browser.eval("document.getElementById('run').textContent");
    browser.reload();
    assert_eq!(browser.eval("document.getElementById('run').textContent"), shown);
    assert_eq!(browser.eval("document.getElementById('ring').textContent"), "", "rings once");
    // On to the end; a running clock runs on over a reload.
    browser.eval("document.getElementById('switch').click()");
    browser.reload();
    browser.until("document.getElementById('switch').textContent === 'Current off'");
    browser.eval(&format!("window.skew += {} * 1000", last - first + 2.0));
    browser.until("document.getElementById('ring').textContent.startsWith('Stop')");
    browser.until("document.getElementById('next').textContent.includes('stop')");
    assert_eq!(browser.faults(), Vec::<String>::new());
}

#[test]
#[ignore = "needs Chromium"]
fn the_clock_calls_for_rests() {
    let rested = sheet(FERN, &["limits.cell_temperature=23 degC", "limits.time=4 h"], 1);
    let mut browser = Browser::start();
    browser.call("Page.addScriptToEvaluateOnNewDocument", json!({ "source": SKEW }));
    browser.open(&rested.file);
    let seconds = |b: &mut Browser, key: &str| {
        b.eval(&format!("+document.getElementById('clock').dataset.{key}")).as_f64().unwrap()
    };
    let (on, off) = (seconds(&mut browser, "on"), seconds(&mut browser, "off"));
    assert!(on >= 60.0 && off >= 60.0, "{on} {off}");
    for (skew, call) in [(on, "Rest: current off"), (off, "Rested: current on"), (on, "Rest: ")] {
        browser.eval("document.getElementById('switch').click()");
        browser.eval(&format!("window.skew += ({skew} - 20) * 1000"));
        std::thread::sleep(std::time::Duration::from_millis(1200));
        assert_eq!(browser.eval("document.getElementById('ring').textContent"), "", "{call}");
        browser.eval("window.skew += 20000");
        browser.until(&format!("document.getElementById('ring').textContent.startsWith('{call}')"));
    }
    assert_eq!(browser.faults(), Vec::<String>::new());
}

#[test]
#[ignore = "needs Chromium"]
fn nothing_is_lost_without_a_script() {
    let mut browser = Browser::start();
    for (name, sheet) in all() {
        browser.call("Emulation.setScriptExecutionDisabled", json!({ "value": false }));
        browser.open(&sheet.file);
        let text = "document.querySelector('main').innerText.replace(/\\s+/g, ' ')";
        browser.eval("{ const c = document.getElementById('clock'); if (c) c.hidden = true; }");
        let with = browser.eval(text);
        browser.call("Emulation.setScriptExecutionDisabled", json!({ "value": true }));
        browser.open(&sheet.file);
        let without = browser.eval(text);
        assert!(with.as_str().unwrap().len() > 100, "{name}");
        assert_eq!(with, without, "{name}");
        let shown = "(() => { const c = document.getElementById('clock');
                       return !!c && c.getClientRects().length > 0; })()";
        assert_eq!(browser.eval(shown), false, "{name}: a clock that nothing drives");
    }
}

#[test]
#[ignore = "needs Chromium"]
fn a_users_text_stays_text() {
    let title = format!("title={}", toml::Value::from(WICKED));
    let cell = format!("source.cell={{ like = \"LR20\", name = {} }}", toml::Value::from(WICKED));
    let wicked = sheet(FERN, &[&title, &cell], 0);
    let mut browser = Browser::start();
    browser.open(&wicked.file);
    assert_eq!(browser.eval("document.querySelector('h1').textContent"), WICKED);
    assert_eq!(browser.eval("document.scripts.length"), 1);
    assert_eq!(browser.eval("document.images.length"), 0);
    assert_eq!(browser.eval("document.querySelectorAll('[onerror]').length"), 0);
    assert_eq!(browser.faults(), Vec::<String>::new());
}

#[test]
#[ignore = "needs Chromium"]
fn axe_finds_nothing_serious() {
    let Ok(path) = std::env::var("RESTBITE_AXE") else {
        eprintln!("skipped: RESTBITE_AXE names no axe.min.js");
        return;
    };
    let axe = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"));
    let mut browser = Browser::start();
    for (name, sheet) in all() {
        for scheme in ["light", "dark"] {
            browser.width(360);
            browser.scheme(scheme);
            browser.open(&sheet.file);
            browser.eval("document.querySelectorAll('details').forEach(d => d.open = true)");
            browser.eval(&format!("{axe}; 0"));
            let found = browser.eval(
                "axe.run().then(r => ({ passes: r.passes.length, violations: r.violations.map(v =>
                   ({ id: v.id, impact: v.impact, nodes: v.nodes.map(n => n.html.slice(0, 200)) })) }))",
            );
            assert!(found["passes"].as_u64().unwrap() > 10, "{found}");
            let violations = found["violations"].as_array().unwrap();
            let grave = |v: &&Value| matches!(v["impact"].as_str(), Some("serious" | "critical"));
            let grave: Vec<&Value> = violations.iter().filter(grave).collect();
            assert!(grave.is_empty(), "{name}, {scheme}: {grave:#?}");
            if !violations.is_empty() {
                eprintln!("{name}, {scheme}: {violations:?}");
            }
        }
    }
}

/// What is typed moves the stop as `look` would have it, and taken out again moves it back.
#[test]
#[ignore = "needs Chromium"]
fn readings_move_the_stop() {
    let sheet = sheet(FERN, &["limits.time=4 h"], 0);
    let mut browser = Browser::start();
    browser.width(390);
    browser.open(&sheet.file);
    let rows = "[...document.querySelectorAll('tr[data-at]')].map(r => r.textContent).join('|')";
    let planned = browser.eval(rows);
    let corrected = "document.getElementById('corrected').textContent";
    assert_eq!(browser.eval(corrected), "");
    let mut type_in = |id: &str, text: &str| {
        let typed = format!(
            "(() => {{ const f = document.getElementById('{id}'); f.value = '{text}';
               f.dispatchEvent(new Event('input')); }})()"
        );
        browser.eval(&typed);
        let told = browser.eval(corrected);
        (told.as_str().unwrap().to_string(), browser.eval(rows))
    };
    for (amps, depth, args) in [
        ("1.6 A", "", &["--at", "60 s", "--amps", "1.6 A"][..]),
        ("1900 mA", "", &["--at", "60 s", "--amps", "1.9 A"]),
        (
            "1.6",
            "0,24 mm",
            &["--at", "60 s", "--amps", "1.6 A", "--at", "15 min", "--depth", "0.24 mm"],
        ),
    ] {
        type_in("found-amps", amps);
        let (told, _) = type_in("found-1", depth);
        let look = common::json(
            &[&["look", FERN, "--set", "limits.time=4 h", "--json"][..], args].concat(),
            0,
        );
        let want = look["done_s"]["p50"].as_f64().unwrap();
        // "By what you found: stop after about 22 min 30 s (20 min to 26 min)."
        let said = told.split("about ").nth(1).unwrap().split(" (").next().unwrap();
        let number = |unit: &str| {
            let words: Vec<&str> = said.split(' ').collect();
            let at = words.iter().position(|w| *w == unit);
            at.map_or(0.0, |at| words[at - 1].parse::<f64>().unwrap())
        };
        let got = 60.0 * number("min") + number("s");
        // To half a minute, as it is said, and 3 %, as the sheet says.
        assert!((got - want).abs() < 15.0 + 0.03 * want, "{told}: {want}");
    }
    // Nonsense is no reading.
    let (told, _) = type_in("found-amps", "a lot");
    assert!(told.contains("By what you found"), "{told}");
    type_in("found-amps", "");
    let (told, rows) = type_in("found-1", "");
    assert_eq!((told.as_str(), rows), ("", planned));
}
