//! The packages that this one is built from: each is named in DEVELOPERS.md with why it is
//! there, and each, with all that it brings along, has a licence that asks for little.

mod common;

use serde_json::Value;
use std::process::Command;

/// The SPDX names of licences that let a program be used, changed and passed on, if the notice
/// stays.
const PERMISSIVE: [&str; 9] = [
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Zlib",
    "Unicode-3.0",
    "CC0-1.0",
];
/// More of them, which say even less.
const PUBLIC: [&str; 3] = ["Unlicense", "0BSD", "BSL-1.0"];

/// What `cargo metadata` says of this machine's packages, all of them downloaded already.
fn metadata() -> Value {
    let rustc = Command::new("rustc").arg("-vV").output().unwrap();
    let about = String::from_utf8(rustc.stdout).unwrap();
    let host = about.lines().find_map(|l| l.strip_prefix("host: ")).unwrap();
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--offline", "--filter-platform", host])
        .current_dir(common::root())
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}

/// Whether an SPDX expression can be kept: of an "or" one side is enough, of an "and" both are
/// needed. The "/" of old packages is an "or", "WITH" an exception that allows more.
fn permissive(expression: &str) -> bool {
    let expression = expression.replace('/', " OR ").replace(['(', ')'], " ");
    expression.split(" AND ").all(|all| {
        all.split(" OR ").any(|one| {
            let name = one.trim().split(" WITH ").next().unwrap_or_default().trim();
            PERMISSIVE.contains(&name) || PUBLIC.contains(&name)
        })
    })
}

#[test]
fn every_licence_is_permissive() {
    let metadata = metadata();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() > 50, "{}", packages.len());
    let own = |p: &&Value| p["source"].is_null();
    let wrong: Vec<String> = packages
        .iter()
        .filter(|p| !own(p))
        .filter(|p| !p["license"].as_str().is_some_and(permissive))
        .map(|p| format!("{} {}: {}", p["name"], p["version"], p["license"]))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(!permissive("GPL-3.0-only") && !permissive("MIT AND GPL-2.0-or-later"));
    assert!(permissive("(MIT OR Apache-2.0) AND Unicode-3.0") && permissive("Unlicense/MIT"));
}

#[test]
fn every_package_is_named_in_developers_md_with_why() {
    let text = std::fs::read_to_string(common::root().join("DEVELOPERS.md")).unwrap();
    let why = text.split("## Packages and why").nth(1).unwrap();
    let named = |name: &str| {
        let ends = |c: char| !(c.is_ascii_alphanumeric() || c == '_' || c == '-');
        why.split(ends).any(|word| word == name)
    };
    let metadata = metadata();
    let packages = metadata["packages"].as_array().unwrap();
    let own = packages.iter().find(|p| p["name"] == "restbite").unwrap();
    let used = own["dependencies"].as_array().unwrap();
    assert!(used.len() > 15);
    let names = used.iter().map(|d| d["name"].as_str().unwrap());
    let missing: Vec<&str> = names.filter(|name| !named(name)).collect();
    assert!(missing.is_empty(), "{missing:?} stand in Cargo.toml and not in DEVELOPERS.md");
}

#[test]
fn no_unsafe_code_anywhere() {
    for file in ["src/lib.rs", "src/main.rs"] {
        let text = std::fs::read_to_string(common::root().join(file)).unwrap();
        assert!(text.contains("#![forbid(unsafe_code)]"), "{file}");
    }
    let manifest = std::fs::read_to_string(common::root().join("Cargo.toml")).unwrap();
    assert!(manifest.contains("unsafe_code = \"forbid\""), "tests and benches too");
}
