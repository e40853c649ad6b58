//! The first hour: help, where to begin, completions and the man page, a file of the wrong kind,
//! an interrupt.

mod common;

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

const FERN: &str = "data-demo/fern-pin.toml";

/// The verbs that `restbite --help` lists.
fn verbs() -> Vec<String> {
    let help = common::answer(&["--help"], 0);
    let listed = help.lines().skip_while(|l| !l.starts_with("Commands:")).skip(1);
    let lines = listed.take_while(|l| l.starts_with("  "));
    // What goes on from the line before stands further in.
    let verbs = lines.filter(|l| !l.starts_with("   "));
    let verbs = verbs.filter_map(|l| l.split_whitespace().next().map(str::to_string));
    verbs.filter(|verb| verb != "help").collect()
}

#[test]
fn help_of_every_verb_opens_with_an_example_that_works() {
    let verbs = verbs();
    assert!(verbs.len() >= 8, "{verbs:?}");
    for verb in verbs {
        let help = common::answer(&[&verb, "--help"], 0);
        let line = help.lines().next().unwrap().strip_prefix("Example: restbite ");
        let line = line.unwrap_or_else(|| panic!("{verb}: {help}"));
        let dir = tempfile::tempdir().unwrap();
        let folder = dir.path().join("out").display().to_string();
        let args: Vec<String> =
            line.split(' ').map(|w| w.replace("plots-of-mine", &folder)).collect();
        let out = common::restbite(&args.iter().map(String::as_str).collect::<Vec<_>>());
        let message = String::from_utf8_lossy(&out.stderr);
        assert!(matches!(out.status.code(), Some(0 | 1)), "{line}: {message}");
        assert!(!out.stdout.is_empty(), "{line}");
    }
}

#[test]
fn the_command_alone_says_where_to_begin() {
    let text = common::answer(&[], 0);
    assert!(text.lines().count() <= 10, "{text}");
    let commands = text.lines().filter_map(|l| l.strip_prefix("  restbite "));
    let commands: Vec<&str> = commands.map(|l| l.split("  ").next().unwrap()).collect();
    assert_eq!(commands.len(), 3, "{text}");
    for command in commands {
        common::answer(&command.split(' ').collect::<Vec<_>>(), 0);
    }
    assert_eq!(common::restbite(&["plant"]).status.code(), Some(2));
}

/// Runs a program on a text, if it is on this machine; its exit code and output.
fn through(program: &str, args: &[&str], text: &str) -> Option<(bool, String)> {
    use std::io::Write;
    let child = Command::new(program)
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn();
    let mut child = child.ok()?;
    let mut stdin = child.stdin.take()?;
    let text = text.to_string();
    let feed = std::thread::spawn(move || stdin.write_all(text.as_bytes()));
    let out = child.wait_with_output().ok()?;
    let _ = feed.join();
    let said = [out.stdout, out.stderr].concat();
    Some((out.status.success(), String::from_utf8_lossy(&said).into_owned()))
}

#[test]
fn completions_know_the_verbs_and_shells_can_read_them() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = common::answer(&["--completions", shell], 0);
        for verb in verbs() {
            assert!(script.contains(&verb), "{shell}: {verb}");
        }
        // With -n these three read a script and run nothing of it.
        let read = ["bash", "zsh", "fish"].contains(&shell);
        if let Some((fine, said)) = read.then(|| through(shell, &["-n"], &script)).flatten() {
            assert!(fine, "{shell}: {said}");
        }
    }
    let out = common::restbite(&["--completions", "bash", "plan", FERN]);
    assert_eq!(out.status.code(), Some(2));
    assert!(out.stdout.is_empty());
}

#[test]
fn the_man_page_has_every_verb_and_renders() {
    let page = common::answer(&["--man"], 0);
    assert!(page.contains(".TH restbite"), "{page}");
    for verb in verbs() {
        assert!(page.contains(&format!(".SH \"{}\"", verb.to_uppercase())), "{verb}");
    }
    if let Some((fine, said)) = through("groff", &["-man", "-Tutf8", "-ww"], &page) {
        // Bold and underlined letters are struck over themselves.
        let letters: Vec<char> = said.chars().collect();
        let kept = |k: &usize| letters[*k] != '\u{8}' && letters.get(k + 1) != Some(&'\u{8}');
        let said: String = (0..letters.len()).filter(kept).map(|k| letters[k]).collect();
        assert!(fine && said.contains("--completions"), "{said}");
        assert!(!said.contains("warning"), "{said}");
    }
}

#[test]
fn a_file_of_another_kind_gets_one_complaint_that_says_so() {
    for (args, word) in [
        (["day", FERN], "this is a job file; `plan` reads it"),
        (["plan", "data-demo/day.toml"], "this is a day file; `day` reads it"),
        (["size", "data-demo/day.toml"], "this is a day file"),
        (["plan", "data-demo/log.toml"], "this is a log of measured runs; `learn` reads it"),
        (["learn", FERN], "this is a job file"),
        (["plan", "data-demo/sources.toml"], "this is a file of sources; `compare"),
        (["plan", "tests/bad_stock/cell-name-twice.toml"], "this is a stock file"),
    ] {
        let out = common::restbite(&args);
        let message = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{args:?}: {message}");
        assert!(out.stdout.is_empty());
        assert_eq!(message.lines().count(), 1, "{message}");
        assert!(message.contains(word), "{message}");
    }
}

#[test]
fn a_key_without_its_table_is_told_its_full_name() {
    for (set, hint) in [
        ("depth=0.4 mm", "did you mean \"piece.depth\"?"),
        ("gap=3 mm", "did you mean \"bath.gap\"?"),
        ("temperature=3 degC", "did you mean \"room.temperature\" or \"bath.temperature\"?"),
    ] {
        let out = common::restbite(&["plan", FERN, "--set", set]);
        let message = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{message}");
        assert!(message.contains(hint), "{message}");
    }
}

#[test]
fn files_that_cannot_be_read_are_told_in_words() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("latin.toml");
    fs::write(&path, b"title = \"x\"\n[piece]\nmetal = \"\xe4\"\n").unwrap();
    for (name, word) in [
        ("no-such.toml", "no-such.toml: no such file\n"),
        (path.to_str().unwrap(), "latin.toml:3:10: not UTF-8 text"),
        ("data-demo", "data-demo: a folder, not a file\n"),
    ] {
        for verb in ["plan", "day"] {
            let out = common::restbite(&[verb, name]);
            let message = String::from_utf8_lossy(&out.stderr);
            assert_eq!(out.status.code(), Some(2), "{message}");
            assert!(message.contains(word) && !message.contains("os error"), "{message}");
        }
    }
}

#[test]
fn a_concentration_may_be_weighed() {
    // Cu(NO3)2.3H2O 241.60 g/mol: 108.72 g/L is 0.45 mol/L, what the demo has.
    let set = "bath.concentration=108.72 g/L Cu(NO3)2.3H2O";
    let kappa = |args: &[&str]| {
        let args = [&["trace", FERN, "--json", "--points", "2"], args].concat();
        common::json(&args, 0)["resolved"]["bath.kappa25_s_per_m"].as_f64().unwrap()
    };
    let (weighed, moles) = (kappa(&["--set", set]), kappa(&[]));
    assert!((weighed / moles - 1.0).abs() < 1e-4, "{weighed} {moles}");
}

#[test]
fn nothing_but_the_answer_in_a_pipe_however_long_it_takes() {
    let out = common::restbite(&["plan", FERN, "--draws", "20000"]);
    assert_eq!(out.status.code(), Some(0));
    assert!(out.stderr.is_empty(), "{}", String::from_utf8_lossy(&out.stderr));
}

/// Files of a folder.
fn files(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten();
    entries.map(|e| e.unwrap().file_name().into_string().unwrap()).collect()
}

/// Ends a command that writes into `out` by a signal, once `ready` says so.
#[cfg(unix)]
fn interrupted(args: &[&str], signal: &str, ready: impl Fn() -> bool) -> Option<i32> {
    let mut child = Command::new(env!("CARGO_BIN_EXE_restbite"))
        .args(args)
        .current_dir(common::root())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    while !ready() && child.try_wait().unwrap().is_none() {
        std::thread::yield_now();
    }
    let id = child.id().to_string();
    // It may have ended meanwhile; then there is nothing to interrupt.
    let _ = Command::new("kill").args(["-s", signal, &id]).stderr(Stdio::null()).status();
    child.wait().unwrap().code()
}

#[cfg(unix)]
#[test]
fn an_interrupt_in_the_long_work_leaves_nothing() {
    for signal in ["INT", "KILL"] {
        let dir = tempfile::tempdir().unwrap();
        let out = dir.path().join("new");
        let args = ["plan", FERN, "--draws", "1000000", "--out", out.to_str().unwrap()];
        let code = interrupted(&args, signal, || out.exists());
        assert_eq!(code, (signal == "INT").then_some(130), "{signal}");
        let left = files(&out);
        // Opening the folder tries whether it can be written to, with a file that is gone at
        // once; only a kill in that moment leaves it.
        assert!(left.is_empty() || signal == "KILL", "{signal}: {left:?}");
        assert!(left.iter().all(|name| !name.ends_with(".svg")), "{signal}: {left:?}");
    }
}

#[cfg(unix)]
#[test]
fn an_interrupt_while_files_are_written_leaves_whole_ones_only() {
    for round in 0..8 {
        let dir = tempfile::tempdir().unwrap();
        let args = ["trace", FERN, "--points", "20000", "--out", dir.path().to_str().unwrap()];
        // The first file that is there means that the writing has begun.
        interrupted(&args, "INT", || !files(dir.path()).is_empty());
        for name in files(dir.path()) {
            let text = fs::read_to_string(dir.path().join(&name)).unwrap();
            let whole = name.ends_with(".svg") && text.trim_end().ends_with("</svg>");
            assert!(whole, "round {round}: {name} is no whole file");
        }
    }
}
