//! `stock`, and the stock that every verb works with: built in, and the user's own over it.

use super::{Answer, Failure, Outcome};
use crate::cli;
use crate::input::{read_text, stock_files};
use anyhow::{Context, anyhow};
use restbite::job::nearest;
use restbite::sheet::{self, json_stock, text_stock};
use restbite::stock::{KINDS, Shelf, Stock, shelves};
use std::path::Path;

/// The stock for a job: what is built in, under it the user's own for every job, and first of
/// all what stands beside the job file.
pub fn stock_for(job: &Path) -> Result<Stock, Failure> {
    let mut stock = Stock::builtin().context("stock")?;
    for path in stock_files(job) {
        let (text, name) = read_text(&path)?;
        stock = stock.with_own(&text, &name).map_err(Failure::Job)?;
    }
    Ok(stock)
}

/// `stock`
pub fn stock(args: &cli::Stock) -> Outcome {
    let all = shelves(&stock_for(Path::new("stock.toml"))?);
    let what = args.what.join(" ");
    let units = args.units.into();
    let kind = KINDS.iter().find(|(kind, _)| is_kind(kind, &what));
    let (chosen, in_full): (Vec<Shelf>, bool) = match kind {
        _ if what.trim().is_empty() => (all, false),
        Some((kind, _)) => (all.into_iter().filter(|s| s.kind == *kind).collect(), false),
        None => (called(&all, &what)?, true),
    };
    let text = if args.json {
        sheet::json::print(&json_stock::stock(&chosen))
    } else if in_full {
        let entry = |s: &Shelf| text_stock::entry(s, &s.entries[0], units);
        chosen.iter().map(entry).collect::<Vec<_>>().join("\n")
    } else {
        text_stock::list(&chosen, kind.is_none(), units)
    };
    Ok(Answer { text, code: 0 })
}

/// "cells" and "cell" alike.
fn is_kind(kind: &str, what: &str) -> bool {
    let what = what.trim();
    kind.eq_ignore_ascii_case(what)
        || kind.strip_suffix('s').is_some_and(|one| one.eq_ignore_ascii_case(what))
}

/// The entry of that name on each shelf that has one.
fn called(all: &[Shelf], what: &str) -> Result<Vec<Shelf>, Failure> {
    let of = |shelf: &Shelf| {
        let entry = shelf.entries.iter().find(|e| e.is_called(what))?;
        Some(Shelf { entries: vec![entry.clone()], ..shelf.clone() })
    };
    let found: Vec<Shelf> = all.iter().filter_map(of).collect();
    if !found.is_empty() {
        return Ok(found);
    }
    let entries = all.iter().flat_map(|s| &s.entries);
    let names = entries.flat_map(|e| e.aliases.iter().chain([&e.name]).map(String::as_str));
    let kinds: Vec<&str> = KINDS.iter().map(|(kind, _)| *kind).collect();
    let near = nearest(what, names.chain(kinds.iter().copied()));
    let hint = near.map(|n| format!("did you mean \"{n}\"? ")).unwrap_or_default();
    let error = anyhow!(
        "\"{}\" is not in stock; {hint}allowed: a name that `restbite stock` lists, or a kind: {}",
        restbite::units::short(what),
        kinds.join(", ")
    );
    Err(error.into())
}
