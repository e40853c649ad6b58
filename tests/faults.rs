//! What a machine does to a program: folders that cannot be written, full disks, closed pipes,
//! a kill in the middle, huge and strange files, two at once, clocks that jump.

mod common;

use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

const FERN: &str = "data-demo/fern-pin.toml";

/// The command, ready to start in the project's folder.
fn command(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_restbite"));
    command.args(args).current_dir(common::root()).env("XDG_CONFIG_HOME", "/no-such-folder");
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

/// Refused with exit code 2, in words and without a panic, and with nothing on standard output.
fn refused(out: &Output, word: &str) {
    let message = String::from_utf8_lossy(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{message}");
    assert!(out.stdout.is_empty(), "{message}");
    assert!(message.contains(word) && !message.contains("panicked"), "{message}");
}

/// Every file of a folder, hidden ones too.
fn files(folder: &Path) -> Vec<(String, String)> {
    let entries = fs::read_dir(folder).unwrap().map(|e| e.unwrap());
    let mut list: Vec<_> = entries
        .map(|e| {
            let text = fs::read(e.path()).unwrap();
            let name = e.file_name().into_string().unwrap();
            (name, String::from_utf8_lossy(&text).into_owned())
        })
        .collect();
    list.sort();
    list
}

#[test]
fn folders_that_cannot_be_written() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("a-file");
    fs::write(&file, "mine").unwrap();
    for out in [file.clone(), file.join("deeper")] {
        let run = command(&["plan", FERN, "--out", out.to_str().unwrap(), "--force"]).output();
        refused(&run.unwrap(), "folder");
    }
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
}

#[cfg(unix)]
#[test]
fn a_folder_that_may_only_be_read() {
    use std::os::unix::fs::PermissionsExt;
    let dir = tempfile::tempdir().unwrap();
    let locked = dir.path().join("locked");
    fs::create_dir(&locked).unwrap();
    fs::set_permissions(&locked, fs::Permissions::from_mode(0o555)).unwrap();
    if fs::write(locked.join("probe"), "").is_ok() {
        return; // whoever runs this may write anywhere
    }
    let run = command(&["plan", FERN, "--out", locked.to_str().unwrap()]).output();
    refused(&run.unwrap(), "cannot be written to");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_behind_standard_output() {
    for args in [&["plan", FERN][..], &["trace", FERN, "--json"]] {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
        let out = command(args).stdout(full).output().unwrap();
        let message = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(2), "{message}");
        assert!(message.contains("cannot be printed"), "{message}");
    }
}

#[test]
fn a_reader_that_goes_after_a_line() {
    let mut child = command(&["trace", FERN, "--points", "100000"]).spawn().unwrap();
    let mut first = [0; 20];
    child.stdout.take().unwrap().read_exact(&mut first).unwrap();
    let out = child.wait_with_output().unwrap();
    assert_eq!(out.status.code(), Some(0));
    assert!(out.stderr.is_empty(), "{}", String::from_utf8_lossy(&out.stderr));
}

/// Killed at any time, every file is whole: the old one or the new one.
#[test]
fn killed_in_the_middle_of_writing() {
    let dir = tempfile::tempdir().unwrap();
    let out = dir.path().to_str().unwrap();
    // trace writes as plan does and thinks less, so that more kills fall into the writing.
    let args = |depth: &'static str| {
        ["trace", FERN, "--out", out, "--force", "--points", "2", "--set", depth]
    };
    let whole = |depth| {
        assert!(command(&args(depth)).status().unwrap().success());
        let began = Instant::now();
        assert!(command(&args(depth)).status().unwrap().success());
        (files(dir.path()), began.elapsed())
    };
    let (old, _) = whole("piece.depth=0.3 mm");
    let (new, took) = whole("piece.depth=0.35 mm");
    let mut cut_short = 0;
    for k in 0..60u32 {
        let depth = ["piece.depth=0.3 mm", "piece.depth=0.35 mm"][k as usize % 2];
        let mut child = command(&args(depth)).spawn().unwrap();
        std::thread::sleep(took * (k % 30) / 25);
        let _ = child.kill();
        cut_short += u32::from(!child.wait().unwrap().success());
        for (name, text) in files(dir.path()) {
            // What a kill leaves half written is hidden and no result by its name.
            if name.starts_with('.') {
                assert!(!name.ends_with(".svg"), "{name}");
                continue;
            }
            let is = |(n, t): &(String, String)| *n == name && *t == text;
            assert!(old.iter().any(is) || new.iter().any(is), "{name} is neither old nor new");
        }
    }
    assert!(cut_short > 0);
}

#[cfg(unix)]
#[test]
fn a_symbolic_link_where_a_file_goes() {
    let dir = tempfile::tempdir().unwrap();
    let (mine, out) = (dir.path().join("mine"), dir.path().join("out"));
    fs::write(&mine, "mine").unwrap();
    fs::create_dir(&out).unwrap();
    std::os::unix::fs::symlink(&mine, out.join("sag.svg")).unwrap();
    let args = ["trace", FERN, "--out", out.to_str().unwrap()];
    refused(&command(&args).output().unwrap(), "is there already");
    // With --force the link is replaced; what it points to stays.
    assert!(command(&[&args[..], &["--force"]].concat()).status().unwrap().success());
    assert_eq!(fs::read_to_string(&mine).unwrap(), "mine");
    assert!(fs::read_to_string(out.join("sag.svg")).unwrap().contains("<svg"));
}

#[test]
fn two_at_once_in_one_folder() {
    let dir = tempfile::tempdir().unwrap();
    for (n, force) in [(0, false), (1, false), (2, true), (3, true)] {
        let out = dir.path().join(format!("out{n}"));
        let mut args = vec!["trace", FERN, "--out", out.to_str().unwrap()];
        args.extend(force.then_some("--force"));
        let both: Vec<_> = (0..2).map(|_| command(&args).spawn().unwrap()).collect();
        let ended: Vec<Output> = both.into_iter().map(|c| c.wait_with_output().unwrap()).collect();
        let well = ended.iter().filter(|o| o.status.success()).count();
        assert_eq!(well, if force { 2 } else { 1 });
        ended.iter().filter(|o| !o.status.success()).for_each(|o| refused(o, "sag.svg"));
        let names: Vec<String> = files(&out).into_iter().map(|(name, _)| name).collect();
        assert_eq!(names, ["charge.svg", "depth.svg", "heat.svg", "sag.svg"]);
        for (name, text) in files(&out) {
            assert!(text.trim_end().ends_with("</svg>"), "{name} is not whole");
        }
    }
}

/// Runs in 400 MB of address space, where the system can hold a program to that.
fn in_little_memory(args: &[&str], folder: &Path) -> Output {
    let held = format!("ulimit -v 400000; exec {} \"$@\"", env!("CARGO_BIN_EXE_restbite"));
    let mut command = Command::new(if cfg!(unix) { "sh" } else { env!("CARGO_BIN_EXE_restbite") });
    if cfg!(unix) {
        command.args(["-c", &held, "sh"]);
    }
    command.args(args).current_dir(folder).env("XDG_CONFIG_HOME", "/no-such-folder");
    command.stdin(Stdio::null()).output().unwrap()
}

#[test]
fn a_gigabyte_wherever_a_file_is_read() {
    let dir = tempfile::tempdir().unwrap();
    for name in ["huge.toml", "huge.csv", "huge.png"] {
        fs::File::create(dir.path().join(name)).unwrap().set_len(1 << 30).unwrap();
    }
    let fern = fs::read_to_string(common::root().join(FERN)).unwrap();
    let put = |name: &str, text: String| fs::write(dir.path().join(name), text).unwrap();
    put("job.toml", fern.clone());
    put("profiled.toml", format!("profile = \"huge.toml\"\n{fern}"));
    let artwork = "artwork = \"huge.png\"\nartwork_width = \"42 mm\"";
    put("drawn.toml", fern.replace("exposed = \"34 %\"", artwork));
    put(
        "day.toml",
        "[[piece]]\njob = \"huge.toml\"\n[[source]]\nkind = \"supply\"\nvoltage = \"3 V\"\n".into(),
    );
    put(
        "log.toml",
        "[[run]]\njob = \"huge.toml\"\n[[run.reading]]\nat = \"1 min\"\namps = \"1 A\"\n".into(),
    );
    let began = Instant::now();
    for (args, word) in [
        (&["plan", "huge.toml"][..], "too long"),
        (&["learn", "huge.toml"], "too long"),
        (&["learn", "huge.csv"], "too long"),
        (&["day", "huge.toml"], "too long"),
        (&["compare", "job.toml", "--source", "huge.toml"], "too long"),
        (&["plan", "profiled.toml"], "too long"),
        (&["plan", "drawn.toml"], "not a PNG file"),
        (&["day", "day.toml"], "too long"),
        (&["learn", "log.toml"], "too long"),
    ] {
        refused(&in_little_memory(args, dir.path()), word);
    }
    assert!(began.elapsed() < Duration::from_secs(60), "a gigabyte was read");
    fs::rename(dir.path().join("huge.toml"), dir.path().join("stock.toml")).unwrap();
    refused(&in_little_memory(&["plan", "job.toml"], dir.path()), "stock.toml: too long");
}

#[test]
fn texts_that_are_no_files_of_ours() {
    let dir = tempfile::tempdir().unwrap();
    let deep = |open: &str, close: &str, n| format!("a = {}1{}", open.repeat(n), close.repeat(n));
    for (name, bytes, word) in [
        ("lists", deep("[", "]", 100_000).into_bytes(), "deep"),
        ("tables", deep("{a=", "}", 100_000).into_bytes(), "deep"),
        ("heads", format!("[{}]", vec!["a"; 100_000].join(".")).into_bytes(), "deep"),
        ("nul", b"title = \"a\0b\"\n".to_vec(), "U+0000"),
        ("latin", b"title = \"gr\xfcn\"\n".to_vec(), "UTF-8"),
        ("wide", "title = \"a\"\n".encode_utf16().flat_map(u16::to_le_bytes).collect(), "U+0000"),
    ] {
        let path = dir.path().join(name);
        fs::write(&path, bytes).unwrap();
        for verb in ["plan", "day", "learn"] {
            refused(&command(&[verb, path.to_str().unwrap()]).output().unwrap(), word);
        }
    }
    for verb in ["plan", "day", "learn", "rest"] {
        refused(&command(&[verb, dir.path().to_str().unwrap()]).output().unwrap(), "a folder");
    }
}

#[test]
fn files_that_name_themselves_or_each_other() {
    let dir = tempfile::tempdir().unwrap();
    let put = |name: &str, text: &str| fs::write(dir.path().join(name), text).unwrap();
    let fern = fs::read_to_string(common::root().join(FERN)).unwrap();
    put("job.toml", &format!("profile = \"job.toml\"\n{fern}"));
    let source = "[[source]]\nkind = \"supply\"\nvoltage = \"3 V\"\n";
    put("day.toml", &format!("[[piece]]\njob = \"day.toml\"\n{source}"));
    put(
        "log.toml",
        "[[run]]\njob = \"log.toml\"\n[[run.reading]]\nat = \"1 min\"\namps = \"1 A\"\n",
    );
    for (verb, name, word) in [
        ("plan", "job.toml", "profile"),
        ("day", "day.toml", "day.toml"),
        ("learn", "log.toml", "log.toml"),
    ] {
        refused(&common::restbite_in(dir.path(), &[verb, name], ""), word);
    }
}

#[cfg(unix)]
#[test]
fn pipes_and_devices_as_files() {
    refused(&in_little_memory(&["plan", "/dev/zero"], &common::root()), "too long");
    let dir = tempfile::tempdir().unwrap();
    let pipe = dir.path().join("pipe");
    assert!(Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    // A job through a pipe is as good as any: a shell makes one for <(...).
    let child = command(&["trace", pipe.to_str().unwrap()]).spawn().unwrap();
    let fern = fs::read(common::root().join(FERN)).unwrap();
    fs::OpenOptions::new().write(true).open(&pipe).unwrap().write_all(&fern).unwrap();
    assert!(child.wait_with_output().unwrap().status.success());
    // What a job names is a plain file: nobody would ever write into that pipe.
    let pipe = pipe.display();
    for sets in [
        vec![format!("profile=\"{pipe}\"")],
        vec!["profile=\"/dev/zero\"".to_string()],
        vec![format!(
            "piece={{ metal = \"copper\", outline = \"4 cm x 3 cm\", artwork = \"{pipe}\", \
            artwork_width = \"4 cm\", thickness = \"1 mm\", depth = \"0.3 mm\" }}"
        )],
    ] {
        let sets: Vec<&str> = sets.iter().flat_map(|s| ["--set", s]).collect();
        refused(&command(&[&["trace", FERN][..], &sets].concat()).output().unwrap(), "device");
    }
}

/// No answer hangs on what the clock says: nothing but the progress bar looks at one, and that
/// one never jumps.
#[test]
fn no_clock_is_read() {
    fn check(folder: &Path, seen: &mut usize) {
        for entry in fs::read_dir(folder).unwrap().map(|e| e.unwrap().path()) {
            if entry.is_dir() {
                check(&entry, seen);
            } else if entry.extension().is_some_and(|e| e == "rs") {
                let text = fs::read_to_string(&entry).unwrap();
                *seen += 1;
                assert!(!text.contains("SystemTime"), "{}", entry.display());
                let bar = entry.ends_with("src/bar.rs");
                assert!(bar || !text.contains("Instant::now"), "{}", entry.display());
            }
        }
    }
    let mut seen = 0;
    check(&common::root().join("src"), &mut seen);
    assert!(seen > 100, "{seen}");
}
