//! The order of the house: no room imports from a room above it, and no files import each
//! other in a circle. Read from the `use` lines and the paths of `src`, tests left out.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::path::{Path, PathBuf};

/// The rooms of the library from the ground up; over them stands the binary.
const ROOMS: [&str; 10] =
    ["units", "reader", "artwork", "laws", "stock", "run", "job", "newjob", "advice", "sheet"];

/// Modules by their paths, `::` between the parts, each with its file; the root is empty.
type Modules = BTreeMap<String, PathBuf>;
/// What each file imports from.
type Imports = BTreeMap<String, BTreeSet<String>>;

fn source() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

fn modules() -> Modules {
    fn walk(folder: &Path, path: &[String], into: &mut Modules) {
        for entry in std::fs::read_dir(folder).unwrap() {
            let file = entry.unwrap().path();
            let name = file.file_stem().unwrap().to_str().unwrap().to_string();
            let within = [path, std::slice::from_ref(&name)].concat();
            if file.is_dir() {
                walk(&file, &within, into);
            } else if file.extension().is_some_and(|e| e == "rs") {
                let own = if name == "mod" { path } else { &within };
                into.insert(own.join("::"), file);
            }
        }
    }
    let mut all = Modules::new();
    walk(&source(), &[], &mut all);
    all
}

/// Code without comments, texts and characters.
fn bare(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let at = |k: usize| chars.get(k).copied().unwrap_or('\0');
    let mut out = String::new();
    let mut k = 0;
    while k < chars.len() {
        match (at(k), at(k + 1)) {
            ('/', '/') => {
                while k < chars.len() && at(k) != '\n' {
                    k += 1;
                }
            }
            ('r', '"' | '#') if !k.checked_sub(1).is_some_and(|b| is_word(at(b))) => {
                let hashes = chars[k + 1..].iter().take_while(|c| **c == '#').count();
                let end: String = format!("\"{}", "#".repeat(hashes));
                k += 2 + hashes;
                while k < chars.len() && !chars[k..].iter().copied().take(end.len()).eq(end.chars())
                {
                    k += 1;
                }
                k += end.len();
            }
            ('"', _) => {
                k += 1;
                while k < chars.len() && at(k) != '"' {
                    k += if at(k) == '\\' { 2 } else { 1 };
                }
                k += 1;
            }
            ('\'', '\\') => {
                k += 3;
                while k < chars.len() && at(k) != '\'' {
                    k += 1;
                }
                k += 1;
            }
            // A character; a lifetime has no second mark.
            ('\'', _) if at(k + 2) == '\'' => k += 3,
            (c, _) => {
                out.push(c);
                k += 1;
            }
        }
    }
    out
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// Code without what is built for tests alone.
fn untested(code: &str) -> String {
    const MARK: &str = "#[cfg(test)]";
    let Some((before, after)) = code.split_once(MARK) else {
        return code.into();
    };
    let (mut depth, mut end) = (0_i32, after.len());
    for (k, c) in after.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 && matches!(c, ';' | '}') {
            end = k + 1;
            break;
        }
    }
    format!("{before}{}", untested(&after[end..]))
}

/// The paths of a `use` tree, each with the name that it gets.
fn tree(text: &str) -> Vec<(String, String)> {
    let text = text.trim();
    let Some((before, rest)) = text.split_once('{') else {
        let (path, name) = text.split_once(" as ").unwrap_or((text, ""));
        let path = path.trim().trim_end_matches("::self").to_string();
        let last = path.rsplit("::").next().unwrap_or_default().to_string();
        return vec![(path, if name.is_empty() { last } else { name.trim().into() })];
    };
    let inside = &rest[..rest.rfind('}').unwrap_or(rest.len())];
    let (mut parts, mut depth) = (vec![String::new()], 0);
    for c in inside.chars() {
        depth += i32::from(c == '{') - i32::from(c == '}');
        match c {
            ',' if depth == 0 => parts.push(String::new()),
            _ => parts.last_mut().unwrap().push(c),
        }
    }
    let full = |part: &String| tree(&format!("{}{}", before.trim(), part.trim()));
    parts.iter().filter(|part| !part.trim().is_empty()).flat_map(full).collect()
}

/// Every path in code that has `::` in it.
fn paths(code: &str) -> Vec<String> {
    let mut out = Vec::new();
    let mut path = String::new();
    let mut chars = code.chars().peekable();
    while let Some(c) = chars.next() {
        if is_word(c) {
            path.push(c);
        } else if c == ':' && chars.peek() == Some(&':') && !path.is_empty() {
            chars.next();
            path += "::";
        } else {
            out.push(std::mem::take(&mut path));
        }
    }
    out.push(path);
    out.retain(|path| path.contains("::"));
    out
}

/// A path from the root of the crate; none where it leads out of the house.
fn whole(
    path: &str,
    module: &str,
    names: &BTreeMap<String, String>,
    all: &Modules,
) -> Option<String> {
    let mut base: Vec<&str> = module.split("::").filter(|part| !part.is_empty()).collect();
    let mut parts: VecDeque<&str> = path.split("::").filter(|part| !part.is_empty()).collect();
    match *parts.front()? {
        "crate" | "restbite" => {
            base.clear();
            parts.pop_front();
        }
        "self" => {
            parts.pop_front();
        }
        "super" => {
            while parts.front() == Some(&"super") {
                parts.pop_front();
                base.pop();
            }
        }
        first => {
            let child = [base.as_slice(), &[first]].concat().join("::");
            if let Some(named) = names.get(first) {
                parts.pop_front();
                base = named.split("::").collect();
            } else if !all.contains_key(&child) {
                return None;
            }
        }
    }
    Some(base.into_iter().chain(parts).collect::<Vec<_>>().join("::"))
}

/// The module that a path leads to, and whether it names something in it.
fn module_of(path: &str, all: &Modules) -> Option<(String, bool)> {
    let parts: Vec<&str> = path.split("::").collect();
    let lengths = (1..=parts.len()).rev();
    let found = lengths.map(|n| (parts[..n].join("::"), n)).find(|(m, _)| all.contains_key(m));
    found.map(|(module, n)| (module, n < parts.len()))
}

/// The modules from which one imports, by its code.
fn imports_of(module: &str, code: &str, all: &Modules) -> BTreeSet<String> {
    let mut used = Vec::new();
    let mut names = BTreeMap::new();
    let mut others = String::new();
    let mut rest = code;
    while let Some(k) = use_at(rest) {
        let end = rest[k..].find(';').map_or(rest.len(), |n| k + n);
        others += &rest[..k];
        for (path, name) in tree(&rest[k + 4..end].replace('\n', " ")) {
            let Some(path) = whole(&path, module, &BTreeMap::new(), all) else { continue };
            if all.contains_key(&path) {
                names.insert(name, path);
            } else {
                used.push(path);
            }
        }
        rest = &rest[end..];
    }
    others += rest;
    used.extend(paths(&others).iter().filter_map(|path| whole(path, module, &names, all)));
    let found = used.iter().filter_map(|path| module_of(path, all));
    found.filter(|(to, item)| *item && to != module).map(|(to, _)| to).collect()
}

/// Where the next `use` stands.
fn use_at(code: &str) -> Option<usize> {
    let apart = |k: usize| !code[..k].chars().next_back().is_some_and(is_word);
    code.match_indices("use ").map(|(k, _)| k).find(|k| apart(*k))
}

fn imports() -> Imports {
    let mut all = modules();
    let mut texts = BTreeMap::new();
    for (module, file) in &all {
        texts.insert(module.clone(), bare(&std::fs::read_to_string(file).unwrap()));
    }
    // Modules of tests alone, with what is under them.
    let marked: Vec<String> = texts
        .iter()
        .flat_map(|(module, code)| {
            let after = code.split("#[cfg(test)]").skip(1);
            let name = |t: &str| {
                t.trim_start().strip_prefix("mod ")?.split_once(';').map(|n| n.0.to_string())
            };
            after.filter_map(name).map(move |name| format!("{module}::{name}"))
        })
        .collect();
    all.retain(|module, _| {
        !marked.iter().any(|m| module == m || module.starts_with(&format!("{m}::")))
    });
    let of = |module: &String| imports_of(module, &untested(&texts[module]), &all);
    all.keys().map(|module| (module.clone(), of(module))).collect()
}

fn room(module: &str) -> &str {
    module.split("::").next().unwrap_or_default()
}

/// How high a room lies; the binary lies over all.
fn height(module: &str) -> usize {
    ROOMS.iter().position(|r| *r == room(module)).unwrap_or(ROOMS.len())
}

/// The shortest circle through a file.
fn circle(from: &str, imports: &Imports) -> Option<Vec<String>> {
    let mut came: BTreeMap<&str, &str> = BTreeMap::new();
    let mut next = VecDeque::from([from]);
    while let Some(here) = next.pop_front() {
        for there in imports.get(here).into_iter().flatten() {
            if there == from {
                let mut path = vec![from.to_string()];
                let mut back = here;
                while back != from {
                    path.push(back.to_string());
                    back = came[back];
                }
                path.push(from.to_string());
                path.reverse();
                return Some(path);
            }
            if !came.contains_key(there.as_str()) {
                came.insert(there, here);
                next.push_back(there);
            }
        }
    }
    None
}

#[test]
fn every_room_has_its_place() {
    let lib = std::fs::read_to_string(source().join("lib.rs")).unwrap();
    let declared = lib
        .lines()
        .filter_map(|l| l.trim_start_matches("pub ").strip_prefix("mod ")?.strip_suffix(';'));
    assert_eq!(declared.collect::<BTreeSet<_>>(), ROOMS.into_iter().collect());
}

#[test]
fn no_room_imports_from_above() {
    let mut wrong = Vec::new();
    for (from, list) in &imports() {
        let above = list.iter().filter(|to| height(to) > height(from));
        wrong.extend(above.map(|to| format!("{from} -> {to}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn no_files_import_each_other_in_a_circle() {
    let imports = imports();
    let mut told: BTreeSet<String> = BTreeSet::new();
    let mut wrong = Vec::new();
    for module in imports.keys() {
        if told.contains(module) {
            continue;
        }
        if let Some(path) = circle(module, &imports) {
            wrong.push(path.join(" -> "));
            told.extend(path);
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn imports_are_found_however_they_are_written() {
    let files = ["", "a", "a::b", "a::c", "d", "d::e", "d::f"];
    let all: Modules = files.iter().map(|m| ((*m).to_string(), PathBuf::new())).collect();
    let found = |code: &str| -> Vec<String> {
        imports_of("a::b", &untested(&bare(code)), &all).into_iter().collect()
    };
    assert_eq!(found("use crate::d::{self, e::X, f::{Y, Z as W}};"), ["d::e", "d::f"]);
    assert_eq!(found("use super::c;\nfn f() { c::g() }"), ["a::c"]);
    assert_eq!(found("use super::c;"), [""; 0]);
    assert_eq!(found("use crate::d as e;\nfn f() { e::f::g() }"), ["d::f"]);
    assert_eq!(found("fn f(x: crate::d::X) -> super::Y {}"), ["a", "d"]);
    assert_eq!(found("use super::*;\nuse restbite::d::Z;"), ["a", "d"]);
    assert_eq!(found("// use crate::d::X;\nconst C: &str = \"crate::d::X\";"), [""; 0]);
    assert_eq!(found("const C: &str = r#\"\"crate::d::X\"#; const D: char = '\"';"), [""; 0]);
    assert_eq!(
        found("#[cfg(test)]\nmod tests { use crate::d::X; }\nuse crate::d::e::X;"),
        ["d::e"]
    );
    assert_eq!(found("use std::fmt::Write;\nfn f<'a>(x: &'a d::X) {}"), [""; 0]);
}

#[test]
fn a_circle_is_found() {
    let of = |list: &[&str]| list.iter().map(|m| (*m).to_string()).collect::<BTreeSet<_>>();
    let imports: Imports =
        [("a", of(&["b"])), ("b", of(&["c", "d"])), ("c", of(&["a"])), ("d", of(&[]))]
            .map(|(from, to)| (from.to_string(), to))
            .into();
    assert_eq!(circle("a", &imports).unwrap().join(" "), "a b c a");
    assert_eq!(circle("d", &imports), None);
}
