//! What each thing in the drawer does best.

use super::drawer::{settings, sources};
use super::rank::rank;
use super::search::judge_all;
use crate::advice::error::AdviceError;
use crate::job::{Job, Rated, Source};
use crate::stock::Stock;

/// Each thing in the drawer as it does a job best: what it is called, how it is wired or set, and how
/// often there are cells enough for that. What does not do it at all is as near as it comes.
///
/// # Errors
/// When stock lacks a number or a run cannot be worked out.
pub fn at_its_best(job: &Job, stock: &Stock) -> Result<Vec<(String, Source, u32)>, AdviceError> {
    let mut list = Vec::new();
    for owned in &job.drawer {
        let mut all = sources(owned, job, stock);
        if let Rated::Supply(own) = &owned.rated {
            all.extend(settings(job, own, stock)?.into_iter().map(Source::Supply));
        }
        let mut judged = judge_all(job, stock, &all)?;
        rank(&mut judged, job);
        let nearest = || judged.iter().min_by(|a, b| a.shortfall().total_cmp(&b.shortfall()));
        let Some(best) = judged.first().filter(|o| o.feasible()).or_else(nearest) else {
            continue;
        };
        let charges = match &owned.rated {
            Rated::Cells { have, .. } => have / best.cells().max(1),
            _ => 1,
        };
        list.push((owned.name.clone(), best.case.source.clone(), charges));
    }
    Ok(list)
}
