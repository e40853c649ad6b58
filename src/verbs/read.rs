//! Reads and checks the job of a verb, and takes advice on it.

use super::answer::Failure;
use crate::input::{beside, read_text, stock_files};
use anyhow::Context;
use restbite::job::{self, Checked, Needs, Written};
use restbite::stock::Stock;
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

/// Reads and checks the job.
pub fn read_job(
    path: &Path,
    sets: &[String],
    stock: &Stock,
    needs: Needs,
) -> Result<Checked, Failure> {
    let (text, name) = read_text(path)?;
    let written = Written { text: &text, name: &name, files: beside(path), sets };
    job::read(&written, stock, needs).map_err(Failure::Job)
}
