//! The README's "two minutes": every command of it, word for word and in order, in a copy of
//! the project, and what it says one sees.

#![cfg(unix)] // the commands are written for a Unix shell

mod common;

use std::fs;
use std::os::unix::fs::symlink;
use std::process::Command;

/// The section's blocks: kind and lines.
fn blocks() -> Vec<(String, String)> {
    let readme = fs::read_to_string(common::root().join("README.md")).unwrap();
    let section = readme.split("\n## ").find(|s| s.starts_with("Two minutes")).unwrap();
    let parts: Vec<&str> = section.split("```").collect();
    let inside = parts.iter().skip(1).step_by(2);
    let block = |text: &&str| text.split_once('\n').map(|(k, b)| (k.to_string(), b.to_string()));
    inside.map(|text| block(text).unwrap()).collect()
}

#[test]
fn the_two_minutes_of_the_readme() {
    // The build itself is what made the command under test; its stand-in takes that line alone.
    const BUILD: &str = "cargo() { test \"$*\" = \"build --release\"; }\n";
    let dir = tempfile::tempdir().unwrap();
    let release = dir.path().join("target").join("release");
    fs::create_dir_all(&release).unwrap();
    symlink(env!("CARGO_BIN_EXE_restbite"), release.join("restbite")).unwrap();
    symlink(common::root().join("data-demo"), dir.path().join("data-demo")).unwrap();
    let (mut before, mut seen, mut ran) = (String::from(BUILD), String::new(), 0);
    for (kind, block) in blocks() {
        if kind == "sh" {
            // What came before is the folder and the path; a block is a line of its own.
            let script = format!("set -e\n{before}{block}");
            let out = Command::new("sh").args(["-c", &script]).current_dir(dir.path()).output();
            let out = out.unwrap();
            let message = String::from_utf8_lossy(&out.stderr);
            assert!(out.status.success(), "{block}: {message}");
            seen = String::from_utf8(out.stdout).unwrap();
            let exports = block.lines().filter(|l| l.starts_with("export "));
            before.extend(exports.map(|l| format!("{l}\n")));
            ran += block.lines().count();
        } else {
            for line in block.lines() {
                assert!(seen.contains(line), "not seen: {line}\n{seen}");
            }
        }
    }
    assert!(ran >= 7, "{ran} commands");
    assert!(dir.path().join("my-pin").join("sag.svg").exists());
}
